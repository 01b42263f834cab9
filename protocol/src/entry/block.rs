//! What is wrong with a block of a programme, or with who does it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::ids::Key;

/// What is wrong with a block, its group, or how its exercises go together.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "because", rename_all = "snake_case")]
pub enum BlockWrong {
    /// The higher end of a range stands first.
    RangeOrder {
        /// What stands first.
        least: u8,
        /// What stands second.
        most: u8,
    },
    /// Values by round that are not one for each.
    RoundsLength {
        /// How many.
        count: usize,
        /// The rounds of the block.
        rounds: u8,
    },
    /// The first exercise in place of one before.
    FirstInPlace,
    /// An exercise that cannot be done where the one before is done.
    NowhereInPlace {
        /// The exercise.
        exercise: Key,
        /// The one before.
        before: Key,
    },
    /// Too few stations suit the exercises.
    TooFewStations {
        /// How many are needed at once.
        needs: usize,
    },
    /// More stations than a coach may hold.
    MoreThanACoach {
        /// How many are needed at once.
        needs: usize,
        /// How many are allowed.
        most: u16,
    },
    /// More clients than a coach may have.
    GroupTooLarge {
        /// How many there are.
        count: usize,
        /// How many are allowed.
        most: u16,
    },
    /// More of some stations than are ever not kept for members.
    KeptForMembers {
        /// How many are needed at once.
        needs: usize,
        /// How many are left.
        left: usize,
        /// How many are kept.
        keep: u8,
        /// Of how many.
        of: usize,
    },
    /// A group that is larger than its rests allow on one pair of stations: a second look, no mistake.
    RestsTooLong {
        /// By how much somebody rests longer, in seconds.
        over: u32,
        /// The longest rest, in seconds.
        most: u32,
        /// How two pairs would do.
        split: Split,
    },
    /// More handles of a kind than there are.
    TooFewHandles {
        /// The kind.
        handle: Key,
        /// How many are needed at once.
        needs: usize,
        /// How many there are.
        count: u8,
    },
    /// Nobody could spot.
    NobodyToSpot {
        /// The exercise.
        exercise: Key,
    },
    /// The coach is not there while the group trains.
    CoachAbsent {
        /// The coach.
        coach: Key,
        /// When that coach works.
        shift: String,
        /// When the group trains.
        session: String,
    },
}

/// How a group would do on two pairs of stations.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "is", rename_all = "snake_case")]
pub enum Split {
    /// No better.
    NoBetter,
    /// Every rest can be kept.
    Kept {
        /// Who is on one.
        one: Vec<u32>,
        /// Who is on the other.
        other: Vec<u32>,
    },
    /// Somebody still rests longer.
    Longer {
        /// Who is on one.
        one: Vec<u32>,
        /// Who is on the other.
        other: Vec<u32>,
        /// By at least so many seconds.
        over: u32,
    },
}
