//! The prescription: which exercises in which order, how often, with which rest.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use turnabout_protocol::ids::{ClientId, ExerciseId};
use turnabout_protocol::load::Load;
use turnabout_protocol::tempo::Tempo;
use turnabout_protocol::units::{Mass, Millis, Secs};
use turnabout_protocol::work::Work;

use super::rule::LoadRule;

/// Bounds of a prescription, each far above what anybody trains.
pub mod limits {
    /// Exercises of one block: a circuit of six is the longest in use.
    pub const LEGS: usize = 6;
    /// Working rounds of one block.
    pub const ROUNDS: u8 = 20;
    /// Repetitions of one set.
    pub const REPS: u8 = 100;
    /// Blocks of one session.
    pub const BLOCKS: usize = 20;
    /// Seconds of a hold: ten minutes.
    pub const HOLD_SECS: u32 = 600;
    /// Clients of one group.
    pub const CLIENTS: usize = 4;
    /// Seconds of a rest: half an hour.
    pub const REST_SECS: u32 = 1_800;
    /// Seconds of a changeover.
    pub const CHANGEOVER_SECS: u32 = 600;
}

/// Exercises done one after the other, and rest after the last. A paired set has two exercises with no rest
/// between them.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Block {
    /// The exercises, 1 to 6, in order.
    pub legs: Vec<Leg>,
    /// Working rounds, 1 to 20.
    pub rounds: u8,
    /// The next round starts no earlier than this after the last exercise ended.
    pub rest_min: Secs,
    /// And should start no later than this.
    pub rest_max: Secs,
    /// How long going over from one exercise to the next may take.
    pub changeover: Secs,
}

/// One exercise of a block.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Leg {
    /// Which exercise.
    pub exercise: ExerciseId,
    /// Done at the station of the exercise before, as in a drop set: nothing to go over to.
    pub in_place: bool,
    /// Done once for each side, so that it takes twice as long.
    pub per_side: bool,
    /// What each client of the group does.
    pub sets: BTreeMap<ClientId, Prescription>,
}

/// What one client does of one exercise.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Prescription {
    /// The tempo.
    pub tempo: Tempo,
    /// The light set that the coach watches first.
    pub technique: Technique,
    /// The working sets, at least one: the last stands for every round after it, so that a pyramid names all
    /// of its rounds and anything else names one.
    pub rounds: Vec<Target>,
    /// Repetitions that should stay in reserve, where the block says so; 0 to 10.
    pub reserve: Option<u8>,
}

/// The light set that the coach watches first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Technique {
    /// Repetitions; common practice is 3 to 4, no source.
    pub reps: u8,
    /// The load; absent: a share of the first working load, see [`super::light`].
    pub load: Option<Load>,
    /// Whether one more light set comes before the first working set, nearer to it.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub ramp: bool,
}

/// One working set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Target {
    /// Repetitions or a time.
    pub work: Work,
    /// How its load is found; absent where the exercise has none to set.
    pub load: Option<LoadRule>,
}

impl Target {
    /// This work with this mass, or with no load.
    #[must_use]
    pub fn plain(work: Work, load: Option<Mass>) -> Self {
        Self { work, load: load.map(|load| LoadRule::Fixed { load: load.into() }) }
    }

    /// The load, where the plan says it outright.
    #[must_use]
    pub fn fixed(&self) -> Option<Load> {
        match self.load? {
            LoadRule::Fixed { load } => Some(load),
            LoadRule::ShareOfMax { .. }
            | LoadRule::ForReserve { .. }
            | LoadRule::AsLastTime
            | LoadRule::FindIt => None,
        }
    }
}

impl Prescription {
    /// The same in every round, with a share of the load for the technique set.
    #[must_use]
    pub fn plain(tempo: Tempo, technique_reps: u8, work: Work, load: Option<Mass>) -> Self {
        let technique = Technique { reps: technique_reps, load: None, ramp: false };
        Self { tempo, technique, rounds: vec![Target::plain(work, load)], reserve: None }
    }

    /// What a working round asks for, from 1. Rounds past the last are like the last.
    #[must_use]
    pub fn target(&self, round: u8) -> Option<Target> {
        let place = usize::from(round.saturating_sub(1)).min(self.rounds.len().saturating_sub(1));
        self.rounds.get(place).copied()
    }

    /// Whether it has a load in any round, however that is found.
    #[must_use]
    pub fn is_loaded(&self) -> bool {
        self.rounds.iter().any(|target| target.load.is_some())
    }

    /// Whether the load of some round is found by a rule.
    #[must_use]
    pub fn goes_by_rule(&self) -> bool {
        self.rounds.iter().any(|target| target.load.is_some() && target.fixed().is_none())
    }

    /// Every load that the plan says outright: the gear must be able to be set to it.
    pub fn loads(&self) -> impl Iterator<Item = Load> + '_ {
        self.technique.load.into_iter().chain(self.rounds.iter().filter_map(Target::fixed))
    }
}

/// How long a set lasts from its first repetition to its last: by its tempo, or as long as it is held, and
/// both sides where there are two.
#[must_use]
pub fn working_time(tempo: Tempo, work: Work, per_side: bool) -> Millis {
    let one_side = match work {
        Work::Reps { most, .. } => tempo.set(most),
        Work::Hold { secs } => secs,
    };
    let sides = if per_side { 2 } else { 1 };
    Millis(one_side.millis().0.saturating_mul(sides))
}
