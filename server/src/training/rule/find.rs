//! Finding a load at a station that the client has never used. Our own rule.
//!
//! It starts with the easiest load of the gear: loads of other stations say nothing here. After each set that left
//! too much, one step up of at most 20 % and at most 20 kg, or the next load there is if that is within either: the
//! steps of testing protocols (NSCA: 5 to 10 % upper body, 10 to 20 % lower; ACSM Guidelines: 2.5 to 20 kg; both
//! from secondary texts). The cap of working sets does not hold here, or nobody would ever leave an empty bar; a
//! coach watches each of these sets. It is found with the first set that was as it should be or too heavy.

use turnabout_protocol::next::{Change, NextReason, PerMille, Proposal, Rule, SetTo};
use turnabout_protocol::units::Mass;
use turnabout_protocol::work::Work;

use crate::training::loads::easiest;
use crate::training::next::bound::below;
use crate::training::next::fit::{self, Limit};
use crate::training::next::judge::{Verdict, Wish, judge};
use crate::training::next::{Ground, Set, after, propose};
use crate::training::no_proposal::NoProposal;

const STEP: PerMille = PerMille(200);
const LARGEST_STEP: Mass = Mass::from_grams(20_000);

/// What a set on the way up comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Found {
    /// Not yet: one more set, with this.
    Onward(Proposal),
    /// This is the working load.
    Here(Proposal),
}

/// The load to begin with.
///
/// # Errors
/// Where the gear can be set to nothing.
pub fn start(work: Work, ground: &Ground<'_>) -> Result<Proposal, NoProposal> {
    let load = easiest(ground.loads).ok_or(NoProposal::NothingEasyEnough { easiest: None })?;
    let set = SetTo::Mass { load };
    Ok(Proposal { set, work, change: Change::First, reason: NextReason::NeverHere, rule: Rule::FindIt })
}

/// What comes after a set on the way up. Without an answer, the same once more.
///
/// # Errors
/// As for [`after`].
pub fn on(load: Mass, set: &Set, ground: &Ground<'_>) -> Result<Found, NoProposal> {
    let settled = after(load, set, ground)?;
    let verdict = judge(set, ground.loads.unit());
    match (verdict.wish, verdict.reason) {
        (Wish::Rise(_), _) => up(load, set, &verdict, ground),
        (Wish::Stay, NextReason::NoAnswer | NextReason::GearFailed | NextReason::TooFewReps { .. }) => {
            Ok(Found::Onward(settled))
        }
        (Wish::Stay | Wish::Fall(_), _) => Ok(Found::Here(settled)),
    }
}

fn up(load: Mass, set: &Set, verdict: &Verdict, ground: &Ground<'_>) -> Result<Found, NoProposal> {
    let wanted = STEP.of(load).min(LARGEST_STEP);
    let most = STEP.of(load).max(LARGEST_STEP);
    let limit = Limit { most, share: STEP, below: below(load, set, ground) };
    let fitted = fit::rise(load, wanted, limit, ground.loads)?;
    let verdict = Verdict { rule: Rule::FindIt, ..*verdict };
    let proposal = propose(load, set.work, fitted, &verdict, ground);
    Ok(if proposal.change == Change::Harder { Found::Onward(proposal) } else { Found::Here(proposal) })
}
