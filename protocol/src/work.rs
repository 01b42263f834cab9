//! What one set asks for.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::units::Secs;

/// What one set asks for: repetitions, a range of them, or a time to hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "work", rename_all = "snake_case", deny_unknown_fields)]
pub enum Work {
    /// Repetitions; a plain number has both ends alike.
    Reps {
        /// At least so many, from 1.
        least: u8,
        /// At most so many, 100 at most.
        most: u8,
    },
    /// A position held.
    Hold {
        /// For so long.
        secs: Secs,
    },
}

impl Work {
    /// So many repetitions.
    #[must_use]
    pub const fn reps(reps: u8) -> Self {
        Self::Reps { least: reps, most: reps }
    }

    /// The repetitions a set is planned with: the upper end of a range, one for a hold.
    #[must_use]
    pub const fn target(self) -> u8 {
        match self {
            Self::Reps { most, .. } => most,
            Self::Hold { .. } => 1,
        }
    }

    /// Whether so many repetitions are what was asked for, or more.
    #[must_use]
    pub const fn is_met_by(self, reps: u8) -> bool {
        match self {
            Self::Reps { least, .. } => reps >= least,
            Self::Hold { .. } => reps >= 1,
        }
    }
}
