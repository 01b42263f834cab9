//! What is wrong with one field, or with how fields go together.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::fits::{Fits, FoundThere, Nearest};
use crate::card::GearKind;
use crate::ids::Key;

/// What is wrong with one field, or with how fields go together.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "because", rename_all = "snake_case")]
pub enum ValueWrong {
    /// More than fits.
    TooLarge,
    /// Things in things in things.
    TooDeep,
    /// No programme at all.
    NoDocument,
    /// A field that is not known.
    UnknownField,
    /// Nothing stands there.
    Missing {
        /// What would do.
        allowed: Fits,
    },
    /// Something that cannot stand there.
    Value {
        /// It.
        found: FoundThere,
        /// What would do.
        allowed: Fits,
    },
    /// A number or name that comes again.
    Again {
        /// It.
        again: String,
        /// The field where it stands first.
        first: String,
    },
    /// No coach of the floor.
    NoCoach {
        /// The key.
        named: String,
    },
    /// No exercise of the floor.
    NoExercise {
        /// The key.
        named: String,
    },
    /// No station of the floor.
    NoStation {
        /// The key.
        named: String,
    },
    /// No client of the programme.
    NoClient {
        /// The number.
        named: String,
    },
    /// The longest rest is below the shortest.
    RestOrder {
        /// The shortest, in seconds.
        least: u32,
        /// The longest, in seconds.
        most: u32,
    },
    /// More exercises with a maximum than are kept.
    TooManyMaxima {
        /// How many are.
        most: usize,
    },
    /// No station of an exercise can be set to a load.
    CannotHold {
        /// The load.
        load: String,
        /// The exercise.
        exercise: Key,
        /// What can be set.
        nearest: Nearest,
    },
    /// No one station can be set to all loads of a group.
    NoCommonStation {
        /// The exercise.
        exercise: Key,
        /// The loads, in ascending order.
        loads: Vec<String>,
    },
    /// An exercise with something to set has no load.
    LoadMissing {
        /// What is set.
        gear: GearKind,
    },
    /// An exercise with nothing to set has a load.
    LoadOnPlain,
    /// The light set first is heavier than the work.
    TechniqueHeavier {
        /// Its load.
        technique: String,
        /// Whose.
        client: u32,
        /// The load of the first working set.
        load: String,
    },
    /// The light set first has less help than the work.
    TechniqueHelpsLess {
        /// Its load.
        technique: String,
        /// Whose.
        client: u32,
        /// The load of the first working set.
        load: String,
    },
    /// A client of two groups whose times are not apart.
    TwoGroups {
        /// The client.
        client: u32,
        /// The number of the other group.
        group: u32,
    },
    /// Something for a client who is not in the group.
    NotInGroup {
        /// The client.
        client: u32,
    },
}
