//! What is wrong with how a load is found.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::ids::Key;

/// What is wrong with how a load is found. Loads are as they are entered: `70 %`, `find-it`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "because", rename_all = "snake_case")]
pub enum LoadWrong {
    /// A maximum where the stack helps.
    MaxHelps,
    /// A maximum where nothing is set.
    MaxOfNothing,
    /// What holds for all rounds, for one of them.
    OnlyForAll {
        /// The load.
        load: String,
    },
    /// A share of a maximum where the stack helps.
    ShareOnAssisting {
        /// The load.
        load: String,
    },
    /// A maximum where labels are mere numbers.
    MaxOfNumbers {
        /// The exercise.
        exercise: Key,
    },
    /// A mass or a share of one where labels are mere numbers.
    OnlyPins {
        /// The load.
        load: String,
        /// The exercise.
        exercise: Key,
        /// The highest pin.
        most: u16,
    },
    /// A pin where labels are masses.
    NoPins {
        /// The pin, as it is entered.
        load: String,
        /// The exercise.
        exercise: Key,
    },
    /// A share of a maximum that nobody knows.
    NoMax {
        /// The load.
        load: String,
        /// Whose.
        client: u32,
        /// The exercise.
        exercise: Key,
    },
    /// By the reserve, without one.
    NoReserve {
        /// The most in reserve.
        most: u8,
    },
    /// By the reserve, of a hold.
    ReserveOfHold,
    /// More in reserve than a load is worked out for.
    TooMuchReserve {
        /// To stay in reserve.
        reserve: u8,
        /// The most.
        most: u8,
    },
    /// More repetitions, those in reserve too, than a load is worked out for.
    TooManyReps {
        /// The most repetitions of the set.
        reps: u8,
        /// To stay in reserve.
        reserve: u8,
        /// The most together.
        most: u8,
    },
    /// All that the client has.
    Maximal,
    /// A light set more before a hold.
    RampHold,
    /// A light set more where nothing is set.
    RampNothingSet,
    /// A light set more where the stack helps.
    RampHelps,
}
