//! What evenings were like, way by way.

use schemars::JsonSchema;
use serde::Serialize;

use crate::timetable::instance::Instance;
use crate::timetable::plan::Plan;
use crate::timetable::rehearse::Looking;
use crate::timetable::rehearse::noise::Noise;
use crate::timetable::rehearse::outcome::Outcome;
use crate::timetable::rehearse::{self};

/// What the evenings were like.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields, title = "Answer of turnabout rehearse --json")]
pub struct Answer {
    /// The instance's name.
    pub name: String,
    /// The standard deviation of the lengths of sets, in percent of what is expected.
    #[schemars(range(max = 50))]
    pub noise_percent: u8,
    /// The seed of the first evening; each one after has the next number.
    pub seed: u64,
    /// How many orders each search for a whole evening looked at.
    pub iterations: u64,
    /// How many orders were looked at when a set ended at another time than expected.
    pub at_events: u64,
    /// What the plan would cost if every set took as long as expected.
    pub plan: i64,
    /// The four ways.
    pub ways: Vec<Way>,
}

/// How the floor was run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WayName {
    /// By eye: whoever is ready first goes first.
    Eye,
    /// By eye, with at most three clients at a pair of stations.
    CappedEye,
    /// By the plan, its times worked out anew as sets end.
    Planned,
    /// By a plan made with all lengths known in advance.
    AllKnowing,
}

/// One way. Figures are means over the evenings, in seconds where nothing else is said.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Way {
    /// Which.
    pub way: WayName,
    /// What an evening cost by the checker, with a wait between two exercises beyond its limit at the price of any
    /// other such wait.
    pub objective: i64,
    /// The same without what was told and without handling.
    pub bare: i64,
    /// Rests beyond the longest good ones, all of an evening together.
    pub overrun: i64,
    /// The worst of these of all evenings.
    pub worst_overrun: u32,
    /// Waiting between two exercises, beyond the limit too.
    pub changeover_wait: i64,
    /// Waiting at the door.
    pub door: i64,
    /// When a member finished, on the instance's axis.
    pub finish: i64,
    /// By how much rules were broken other than the limit of the wait between two exercises. It has no price.
    pub breach_seconds: i64,
    /// What the evenings cost, one by one.
    pub objectives: Vec<i64>,
    /// What became of starts that people had been told, all evenings together; absent where nobody was told any.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub promised: Option<Promised>,
}

/// Starts of rounds that were told to the second, a quarter of a minute ahead.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Promised {
    /// How many.
    pub told: u64,
    /// Those that began more than five seconds off what was told first.
    pub moved: u64,
    /// Those that began more than five seconds off what was told about them, up to a minute ahead.
    pub strayed: u64,
    /// Those that began before what had been told, or were told anew for an earlier instant.
    pub hurried: u64,
}

/// The answer, of at least one evening.
pub(super) fn of(
    instance: &Instance,
    plan: &Plan,
    evenings: &[[Outcome; 4]],
    (noise, looking): (Noise, Looking),
) -> Answer {
    let way = |(k, way): (usize, &rehearse::Way)| {
        let outcomes: Vec<&Outcome> = evenings.iter().map(|evening| &evening[k]).collect();
        of_way(name(*way), &outcomes)
    };
    Answer {
        name: instance.name.clone(),
        noise_percent: noise.in_percent(),
        seed: looking.seed,
        iterations: looking.evening,
        at_events: looking.event,
        plan: plan.verdict.objective,
        ways: rehearse::Way::ALL.iter().enumerate().map(way).collect(),
    }
}

const fn name(way: rehearse::Way) -> WayName {
    match way {
        rehearse::Way::Eye => WayName::Eye,
        rehearse::Way::CappedEye => WayName::CappedEye,
        rehearse::Way::Planned => WayName::Planned,
        rehearse::Way::AllKnowing => WayName::AllKnowing,
    }
}

fn of_way(way: WayName, outcomes: &[&Outcome]) -> Way {
    let count = outcomes.len().max(1) as i64;
    let mean = |of: &dyn Fn(&Outcome) -> i64| outcomes.iter().map(|outcome| of(outcome)).sum::<i64>() / count;
    let promised = outcomes.iter().filter_map(|outcome| outcome.promised);
    let sum = promised.map(|kept| Promised {
        told: kept.told,
        moved: kept.moved,
        strayed: kept.strayed,
        hurried: kept.hurried,
    });
    Way {
        way,
        objective: mean(&|outcome| outcome.objective),
        bare: mean(&|outcome| outcome.bare),
        overrun: mean(&|outcome| outcome.verdict.parts.overrun),
        worst_overrun: outcomes.iter().map(|outcome| outcome.worst_overrun).max().unwrap_or(0),
        changeover_wait: mean(&|outcome| outcome.changeover_wait),
        door: mean(&|outcome| outcome.verdict.parts.door),
        finish: mean(&|outcome| i64::from(outcome.mean_finish)),
        breach_seconds: mean(&|outcome| i64::try_from(outcome.breach_seconds).unwrap_or(i64::MAX)),
        objectives: outcomes.iter().map(|outcome| outcome.objective).collect(),
        promised: sum.reduce(|a, b| Promised {
            told: a.told + b.told,
            moved: a.moved + b.moved,
            strayed: a.strayed + b.strayed,
            hurried: a.hurried + b.hurried,
        }),
    }
}
