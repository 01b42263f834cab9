//! From one session to the next: as last time here, and on from there.
//!
//! - **Up** by the 2-for-2 rule: two or more repetitions over the goal in the last set of two consecutive sessions
//!   (Graves & Baechle; NSCA, Essentials of Strength Training and Conditioning, 4th ed., from a secondary text).
//!   Both with the same load: the rule means that a load has become too light.
//! - **By** the smallest step of the gear between 2 and 10 % of the load (ACSM 2009, Ratamess et al., Med Sci
//!   Sports Exerc 41(3):687-708, verified), and never more than the floor's cap. Where no step fits, one
//!   repetition more, if the floor wants that: 20 kg has no 2.5 kg step.
//! - **Down** after a long time away. Common practice, no source.

use serde::{Deserialize, Serialize};
use turnabout_protocol::command::Ending;
use turnabout_protocol::load::Load;
use turnabout_protocol::next::{NextReason, PerMille, Proposal, Rule};
use turnabout_protocol::units::Mass;
use turnabout_protocol::work::Work;

use super::loads::{Direction, Loads, harder, harder_by, next_harder};
use super::next::fit::{self, Fitted, Limit};
use super::next::judge::{Verdict, Wish};
use super::next::{Ground, propose, stated};
use super::no_proposal::NoProposal;

/// So many over the goal, in the last sets of so many sessions.
pub const OVER_THE_GOAL: u8 = 2;
/// The least a step is, of the load.
pub const BAND_LEAST: PerMille = PerMille(20);
/// The most a step is, of the load.
pub const BAND_MOST: PerMille = PerMille(100);
/// Steps of one band that are looked at: a tenth of 500 kg in steps of a kilogram.
pub const MOST_BAND_STEPS: usize = 50;

/// The last set of one exercise in one session.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LastSet {
    /// The load.
    pub load: Load,
    /// What it asked for.
    pub goal: Work,
    /// Repetitions without help.
    pub reps: u8,
    /// How it ended.
    pub ending: Ending,
}

/// What a client did of one exercise at one station in the last two sessions there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct History {
    /// Last time.
    pub last: LastSet,
    /// The time before.
    pub before: Option<LastSet>,
    /// Days since last time.
    pub days: u16,
}

impl LastSet {
    /// Two or more over the upper end of the goal, all of them alone. A hold has no goal to be over.
    fn over_the_goal(&self) -> bool {
        let well = match self.ending {
            Ending::Complete | Ending::Short => true,
            Ending::Helped { .. }
            | Ending::Failed
            | Ending::FormBroken
            | Ending::EquipmentFault
            | Ending::Stopped => false,
        };
        match self.goal {
            Work::Reps { most, .. } => well && self.reps >= most.saturating_add(OVER_THE_GOAL),
            Work::Hold { .. } => false,
        }
    }
}

impl History {
    /// Whether the 2-for-2 rule says that the load has become too light.
    #[must_use]
    pub fn two_for_two(&self) -> bool {
        self.before.is_some_and(|before| {
            before.load == self.last.load && before.over_the_goal() && self.last.over_the_goal()
        })
    }
}

/// The harder loads of the gear within 2 to 10 % of this one, the smallest step first.
#[must_use]
pub fn steps_in_band(load: Mass, loads: &dyn Loads) -> Vec<Mass> {
    let most = harder_by(loads, load, BAND_MOST.of(load));
    let steps = std::iter::successors(smallest_step(load, loads), |step| next_harder(loads, *step));
    steps.take_while(|step| !harder(loads, *step, most)).take(MOST_BAND_STEPS).collect()
}

/// The nearest harder load that is a step at all: from the lower end of the band on, whether inside it or above.
fn smallest_step(load: Mass, loads: &dyn Loads) -> Option<Mass> {
    let least = harder_by(loads, load, BAND_LEAST.of(load));
    let nearest = match loads.direction() {
        Direction::Resists => loads.at_least(least),
        Direction::Assists => loads.at_most(least),
    };
    nearest.filter(|step| harder(loads, *step, load)).or_else(|| next_harder(loads, load))
}

/// The first working load after what was done here last. Compared with the last load there.
///
/// # Errors
/// Where the last load was a pin or cannot be stated, or the gear has nothing easy enough.
pub fn from_last_time(history: &History, work: Work, ground: &Ground<'_>) -> Result<Proposal, NoProposal> {
    let Load::Mass(now) = history.last.load else { return Err(NoProposal::OtherScale) };
    stated(now)?;
    let below = ground.one_rm;
    let days = history.days;
    let (fitted, reason, rule) = if days > ground.policy.away_days {
        let less = ground.policy.away_less.of(now);
        (fit::fall(now, less, below, ground.loads)?, NextReason::LongAway { days }, Rule::Practice)
    } else if history.two_for_two() {
        let reason = NextReason::OverTheGoal { reps: OVER_THE_GOAL };
        (up(now, ground)?, reason, Rule::TwoForTwo)
    } else {
        (fit::stay(now, below, ground.loads)?, NextReason::AsLastTime, Rule::TwoForTwo)
    };
    // Nothing but reason and rule is read of it.
    let verdict = Verdict { wish: Wish::Stay, reason, rule };
    Ok(propose(now, work, fitted, &verdict, ground))
}

/// The smallest step of the band, if the cap allows it, else the same load.
fn up(now: Mass, ground: &Ground<'_>) -> Result<Fitted, NoProposal> {
    let share = BAND_MOST.min(ground.policy.cap);
    let limit = Limit { most: share.of(now), share, below: ground.one_rm };
    fit::step_to(now, smallest_step(now, ground.loads), limit, ground.loads)
}
