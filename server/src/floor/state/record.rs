//! Sets that are over.

use serde::{Deserialize, Serialize};
use turnabout_protocol::command::{Effort, Ending, Reason, Spotter};
use turnabout_protocol::ids::{ExerciseId, StationId};
use turnabout_protocol::units::{FloorMs, Mass};

use super::Stamp;

/// How a set of the block came to be over.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SetOver {
    /// It was done.
    Done(SetRecord),
    /// It was left out.
    Skipped {
        /// Who said so, and when.
        said: Stamp,
        /// Why.
        reason: Reason,
    },
    /// The client was not there, or came later.
    Missed,
}

/// A set that was done.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct SetRecord {
    /// Which exercise, where another than prescribed was done too.
    pub exercise: ExerciseId,
    /// Where.
    pub station: StationId,
    /// When the first repetition started.
    pub started: FloorMs,
    /// When it ended.
    pub ended: FloorMs,
    /// What is known of it now.
    pub said: Said,
    /// What was said first, where that has been corrected.
    pub first: Option<Said>,
    /// Who stood at the bar, or what.
    pub spotter: Option<Spotter>,
    /// The rest before it was shorter than the block's shortest, and why.
    pub short_rest: Option<Reason>,
    /// Who said that it was over, and when. The floor itself where nobody did.
    pub done: Stamp,
}

/// What is known of a set that was done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Said {
    /// Repetitions done.
    pub reps: u8,
    /// The load.
    pub load: Option<Mass>,
    /// How it felt.
    pub effort: Option<Effort>,
    /// How it ended.
    pub ending: Ending,
    /// Who said the last of it, and when.
    pub stamp: Stamp,
}

impl SetOver {
    /// The record of a set that was done.
    #[must_use]
    pub const fn done(&self) -> Option<&SetRecord> {
        match self {
            Self::Done(record) => Some(record),
            Self::Skipped { .. } | Self::Missed => None,
        }
    }

    /// The same, to be changed.
    pub const fn done_mut(&mut self) -> Option<&mut SetRecord> {
        match self {
            Self::Done(record) => Some(record),
            Self::Skipped { .. } | Self::Missed => None,
        }
    }
}
