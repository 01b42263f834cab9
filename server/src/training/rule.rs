//! Where the load of the first working set comes from. What the gear cannot hold is rounded to the easier side.

use serde::{Deserialize, Serialize};
use turnabout_protocol::load::Load;
use turnabout_protocol::next::{Change, NextReason, PerMille, Proposal, Rule, SetTo};
use turnabout_protocol::units::Mass;
use turnabout_protocol::work::Work;

use super::next::fit::{Fitted, stay};
use super::next::{Ground, assisted, not_maximal, stated};
use super::no_proposal::NoProposal;
use super::percent;
use super::session::{self, History};

pub mod find;

/// How an exercise says its load.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(tag = "rule", rename_all = "snake_case", deny_unknown_fields)]
pub enum LoadRule {
    /// This load.
    Fixed {
        /// Which one.
        load: Load,
    },
    /// A share of the client's one-repetition maximum.
    ShareOfMax {
        /// Which share, below the whole: the whole is a maximal attempt.
        share: PerMille,
    },
    /// The repetitions of the set with so many in reserve, by the derived grid.
    ForReserve {
        /// To stay in reserve, 0 to [`percent::MOST_RESERVE`].
        reserve: u8,
    },
    /// As last time at this station, and on from there.
    AsLastTime,
    /// Found out: from the lightest load up.
    FindIt,
}

/// The load of the first working set. `history` is the client's of this exercise at this very station, since loads
/// compare nowhere else (two cables differ by their pulleys): without any, a rule that needs it finds it out.
///
/// # Errors
/// Where a number is out of its range, the rule needs what is not known, it comes to a maximal attempt, or the
/// gear has nothing easy enough.
pub fn first(
    rule: LoadRule,
    work: Work,
    history: Option<&History>,
    ground: &Ground<'_>,
) -> Result<Proposal, NoProposal> {
    match (rule, history) {
        (LoadRule::Fixed { load: Load::Pin { .. } }, _) => Err(NoProposal::OtherScale),
        (LoadRule::Fixed { load: Load::Mass(load) }, _) => {
            stated(load)?;
            first_of(stay(load, ground.one_rm, ground.loads)?, work, NextReason::AsPlanned, Rule::Plan)
        }
        (LoadRule::ShareOfMax { share }, _) => {
            let wanted = of_max(share, ground)?;
            rounded(wanted, work, NextReason::ShareOfMax { share }, Rule::PercentTable, ground)
        }
        (LoadRule::ForReserve { reserve }, _) => for_reserve(reserve, work, ground),
        // What was a pin there says nothing: the gear has masses by now.
        (LoadRule::AsLastTime, Some(history)) if history.last.load.mass().is_some() => {
            session::from_last_time(history, work, ground)
        }
        (LoadRule::AsLastTime | LoadRule::FindIt, _) => find::start(work, ground),
    }
}

fn for_reserve(reserve: u8, work: Work, ground: &Ground<'_>) -> Result<Proposal, NoProposal> {
    let Work::Reps { most: reps, .. } = work else { return Err(NoProposal::Hold) };
    if reserve > percent::MOST_RESERVE {
        return Err(NoProposal::Reserve { found: reserve, most: percent::MOST_RESERVE });
    }
    not_maximal(work, Some(reserve))?;
    let both = u16::from(reps) + u16::from(reserve);
    let none = NoProposal::Reps { found: both, least: 1, most: percent::MOST_REPS };
    let share = percent::share_with_reserve(reps, reserve).ok_or(none)?.0.share;
    let wanted = of_max(share, ground)?;
    rounded(wanted, work, NextReason::ForReserve { reps, wanted: reserve }, Rule::DerivedGrid, ground)
}

fn of_max(share: PerMille, ground: &Ground<'_>) -> Result<Mass, NoProposal> {
    if share == PerMille::WHOLE {
        return Err(NoProposal::Maximal);
    }
    if share == PerMille(0) || share > PerMille::WHOLE {
        return Err(NoProposal::Share { found: share.0, least: 1, most: PerMille::WHOLE.0 - 1 });
    }
    if assisted(ground.loads) {
        return Err(NoProposal::Assisted);
    }
    let one_rm = ground.one_rm.ok_or(NoProposal::NoMax)?;
    stated(one_rm)?;
    Ok(share.of(one_rm))
}

/// A load that was worked out is rounded without a word: no gear has it exactly.
fn rounded(
    wanted: Mass,
    work: Work,
    reason: NextReason,
    rule: Rule,
    ground: &Ground<'_>,
) -> Result<Proposal, NoProposal> {
    let fitted = stay(wanted, ground.one_rm, ground.loads)?;
    first_of(Fitted { instead: None, ..fitted }, work, reason, rule)
}

fn first_of(fitted: Fitted, work: Work, reason: NextReason, rule: Rule) -> Result<Proposal, NoProposal> {
    let reason = fitted.instead.unwrap_or(reason);
    Ok(Proposal { set: SetTo::Mass { load: fitted.load }, work, change: Change::First, reason, rule })
}
