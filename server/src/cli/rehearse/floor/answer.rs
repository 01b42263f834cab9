//! What evenings of a floor were like, way by way.

use schemars::JsonSchema;
use serde::Serialize;
use turnabout_protocol::units::Millis;

use super::{Seen, WAYS};
use crate::floor::rehearse::Looking;
use crate::floor::rehearse::measured::{self, Measured};
use crate::timetable::rehearse::noise::Noise;

/// What the evenings were like.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields, title = "Answer of turnabout rehearse FLOOR PROGRAMME --json")]
pub struct Answer {
    /// The floor's name.
    pub name: String,
    /// The standard deviation of the lengths of sets, in percent of what is prescribed.
    #[schemars(range(max = 50))]
    pub noise_percent: u8,
    /// The seed of the first evening; each one after has the next number.
    pub seed: u64,
    /// How many evenings.
    pub runs: u64,
    /// How many orders a search looked at when somebody came, went or took stations; all-knowing, four times as many.
    pub iterations: u64,
    /// How many orders a search looked at when something ordinary happened; all-knowing, four times as many.
    pub at_events: u64,
    /// The ways, side by side.
    pub ways: Vec<Way>,
}

/// How the floor was run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WayName {
    /// By eye: whoever is ready first goes first.
    Eye,
    /// By eye, with at most three clients in the middle of their rounds at a pair of stations.
    CappedEye,
    /// By the plan: people go when they have been told to.
    Planned,
    /// By a plan that knows beforehand how long every set will last.
    AllKnowing,
}

/// One way. Figures are means over the evenings, in seconds where nothing else is said, as read off the journals.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Way {
    /// Which.
    pub way: WayName,
    /// Evenings that came to their end: every session over.
    pub complete: u64,
    /// Rests beyond the longest good ones, all of an evening together.
    pub overrun: i64,
    /// The worst of these of all evenings.
    pub worst_overrun: i64,
    /// Waiting between the two exercises of a working round beyond racking and the walk.
    pub changeover_wait: i64,
    /// The same between light sets, each of which a coach watches.
    pub light_wait: i64,
    /// From coming, or the end of the block before, to the first GO of a block.
    pub door: i64,
    /// From when the first came to the end of the last set.
    pub finish: i64,
    /// The same to the end of a client's last set.
    pub client_finish: i64,
    /// The finish of each evening.
    pub finishes: Vec<i64>,
    /// What became of starts that people had been told, all evenings together; absent where nobody was told any.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub told: Option<Told>,
}

/// Starts that were told up to a minute ahead.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Told {
    /// Starts of rounds: after a rest, or the first.
    pub rounds: Kept,
    /// Starts between two exercises of a round.
    pub between: Kept,
    /// Starts that were taken back.
    pub taken_back: u64,
}

/// Starts that were told to the second, a quarter of a minute ahead.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Kept {
    /// How many sets began of which a start had been told.
    pub told: u64,
    /// Of these, sets that began more than five seconds off what was told of them first.
    pub moved: u64,
    /// Of these, sets that began more than five seconds off what was told about them, up to a minute ahead.
    pub strayed: u64,
    /// Of these, sets called earlier, or begun before what had been told.
    pub hurried: u64,
}

/// The answer, of at least one evening.
pub(super) fn of(name: String, evenings: &[[Seen; 4]], (noise, looking): (Noise, Looking)) -> Answer {
    let way = |(place, way): (usize, &WayName)| {
        let seen: Vec<&Seen> = evenings.iter().map(|evening| &evening[place]).collect();
        of_way(*way, &seen)
    };
    Answer {
        name,
        noise_percent: noise.in_percent(),
        seed: looking.seed,
        runs: evenings.len() as u64,
        iterations: looking.structural,
        at_events: looking.event,
        ways: WAYS.iter().enumerate().map(way).collect(),
    }
}

fn of_way(way: WayName, seen: &[&Seen]) -> Way {
    let count = seen.len().max(1) as i64;
    let all = || seen.iter().map(|(measured, _)| measured);
    let mean = |of: fn(&Measured) -> Millis| Millis(all().map(|one| of(one).0).sum::<i64>() / count);
    let told = all().fold(Told::default(), |sum, one| sum.and(one.told));
    Way {
        way,
        complete: seen.iter().filter(|(_, complete)| *complete).count() as u64,
        overrun: mean(|one| one.overrun).ceil_secs(),
        worst_overrun: all().map(|one| one.worst_overrun.ceil_secs()).max().unwrap_or(0),
        changeover_wait: mean(|one| one.changeover_wait).ceil_secs(),
        light_wait: mean(|one| one.light_wait).ceil_secs(),
        door: mean(|one| one.door).ceil_secs(),
        finish: mean(|one| one.finish).ceil_secs(),
        client_finish: mean(|one| one.mean_finish).ceil_secs(),
        finishes: all().map(|one| one.finish.ceil_secs()).collect(),
        told: (told != Told::default()).then_some(told),
    }
}

impl Told {
    fn and(self, other: measured::Told) -> Self {
        Self {
            rounds: self.rounds.and(other.rounds),
            between: self.between.and(other.between),
            taken_back: self.taken_back + other.taken_back,
        }
    }
}

impl Kept {
    const fn and(self, other: measured::Kept) -> Self {
        Self {
            told: self.told + other.told,
            moved: self.moved + other.moved,
            strayed: self.strayed + other.strayed,
            hurried: self.hurried + other.hurried,
        }
    }
}
