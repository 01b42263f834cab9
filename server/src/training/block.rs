//! The prescription: which exercises in which order, how often, with which rest.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use turnabout_protocol::ids::{ClientId, ExerciseId};
use turnabout_protocol::tempo::Tempo;
use turnabout_protocol::units::{Mass, Millis, Secs};

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
    /// Its tempo.
    pub tempo: Tempo,
    /// Repetitions and load of each client of the group.
    pub sets: BTreeMap<ClientId, Prescription>,
    /// Repetitions of the technique set; common practice is 3 to 4, no source.
    pub technique_reps: u8,
}

/// What one client does of one exercise.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Prescription {
    /// Target repetitions, 1 to 100.
    pub reps: u8,
    /// The load; absent where the exercise has none to set.
    pub load: Option<Mass>,
    /// The load of the technique set; absent: the lightest that the gear of the station can be set to.
    pub technique_load: Option<Mass>,
}

/// How long the repetitions of a set last by its tempo, from the first to the last.
#[must_use]
pub fn working_time(tempo: Tempo, reps: u8) -> Millis {
    tempo.set(reps).millis()
}
