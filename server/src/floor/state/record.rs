//! Sets that are over.

use serde::{Deserialize, Serialize};
use turnabout_protocol::command::{Effort, Ending, Reason, Spotter};
use turnabout_protocol::ids::{ExerciseId, StationId};
use turnabout_protocol::load::Load;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::work::Work;

use super::Stamp;

/// How a set of the block came to be over.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SetOver {
    /// It was done. Of what there is most to say; boxed, so that the others stay small.
    Done(Box<SetRecord>),
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
    /// What it asked for.
    pub work: Work,
    /// When the first repetition started.
    pub started: FloorMs,
    /// When it ended.
    pub ended: FloorMs,
    /// Repetitions done; nothing where the set was stopped and nobody has said how many there were.
    pub reps: Answer<Option<u8>>,
    /// The load.
    pub load: Answer<Option<Load>>,
    /// How it felt; nothing where nobody has said.
    pub effort: Answer<Option<Effort>>,
    /// How it ended.
    pub ending: Answer<Ending>,
    /// Who stood at the bar, or what.
    pub spotter: Option<Spotter>,
    /// The rest before it was shorter than the block's shortest, and why.
    pub short_rest: Option<Reason>,
    /// Until when somebody had put its first repetition off, where it began before that or after.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub put_off: Option<FloorMs>,
    /// It was the light set nearer to the working load.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub ramp: bool,
    /// Who said that it was over, and when. The floor itself where nobody did.
    pub done: Stamp,
}

/// One thing that is known of a set that was done. Each has its own, so that whoever asks hears who said just
/// that.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Answer<T> {
    /// What is known now.
    pub last: Said<T>,
    /// What was said first, while that is something else.
    pub first: Option<Said<T>>,
}

/// What somebody said of a set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Said<T> {
    /// What.
    pub what: T,
    /// Who, and when.
    pub stamp: Stamp,
}

impl<T: Copy + PartialEq> Answer<T> {
    /// What is said when the set ends.
    #[must_use]
    pub const fn new(what: T, stamp: Stamp) -> Self {
        Self { last: Said { what, stamp }, first: None }
    }

    /// What is known now.
    #[must_use]
    pub const fn now(&self) -> T {
        self.last.what
    }

    /// What was said first.
    #[must_use]
    pub fn at_first(&self) -> T {
        self.first.unwrap_or(self.last).what
    }

    /// Says it anew. The same once more leaves it with whoever said it before.
    pub fn say(&mut self, what: T, stamp: Stamp) {
        if self.last.what == what {
            return;
        }
        let first = self.first.unwrap_or(self.last);
        *self = Self { last: Said { what, stamp }, first: Some(first).filter(|first| first.what != what) };
    }
}

impl SetRecord {
    /// Who said the last of what is known, and when.
    #[must_use]
    pub fn last_said(&self) -> Stamp {
        let Self { reps, load, effort, ending, .. } = self;
        let others = [reps.last.stamp, load.last.stamp, effort.last.stamp];
        others.into_iter().fold(
            ending.last.stamp,
            |last, other| {
                if other.when > last.when { other } else { last }
            },
        )
    }
}

impl SetOver {
    /// The record of a set that was done.
    #[must_use]
    pub fn done(&self) -> Option<&SetRecord> {
        match self {
            Self::Done(record) => Some(record),
            Self::Skipped { .. } | Self::Missed => None,
        }
    }

    /// The same, to be changed.
    pub fn done_mut(&mut self) -> Option<&mut SetRecord> {
        match self {
            Self::Done(record) => Some(record),
            Self::Skipped { .. } | Self::Missed => None,
        }
    }
}
