//! What is wrong with a set that was done before.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::fits::Nearest;
use crate::ids::Key;

/// What is wrong with a set that was done before. Days are written year first, as in `2026-11-25`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "because", rename_all = "snake_case")]
pub enum EarlierWrong {
    /// An exercise at a station where it is not done.
    NotThere {
        /// The station.
        station: Key,
        /// The exercise.
        exercise: Key,
        /// Where it is done.
        stations: Vec<Key>,
    },
    /// An exercise without a load.
    NothingSet {
        /// The exercise.
        exercise: Key,
    },
    /// A load that the station cannot be set to.
    CannotHold {
        /// The load.
        load: String,
        /// The station.
        station: Key,
        /// What can be set.
        nearest: Nearest,
    },
    /// A mass where labels are mere numbers.
    OnlyPins {
        /// The load.
        load: String,
        /// The station.
        station: Key,
        /// The highest pin.
        most: u16,
    },
    /// A pin where labels are masses.
    NoPins {
        /// The pin.
        load: String,
        /// The station.
        station: Key,
    },
    /// After the day of the programme.
    Ahead {
        /// The day of the set.
        on: String,
        /// The day of the programme.
        day: String,
    },
    /// A second set of one day.
    SameDay {
        /// The day.
        on: String,
        /// The exercise.
        exercise: Key,
        /// The station.
        station: Key,
        /// The field where the first stands.
        first: String,
    },
    /// A third set.
    TooMany {
        /// The exercise.
        exercise: Key,
        /// The station.
        station: Key,
    },
    /// Repetitions of a hold.
    RepsOfHold,
    /// A complete set with too few repetitions.
    NotComplete {
        /// Those that were done.
        reps: u8,
        /// The fewest that were asked for.
        least: u8,
    },
    /// Helped repetitions of a set that ended otherwise.
    NotHelped,
}
