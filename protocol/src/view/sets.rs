//! The sets of an evening that a client has done, for a coach who corrects one.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::SetName;
use crate::command::{Effort, Ending};
use crate::ids::TurnId;
use crate::load::Load;
use crate::role::Actor;
use crate::units::{FloorMs, MassUnit};
use crate::words::Words;

/// The sets that a client has done this evening, the latest first. An answer over HTTP, no view.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SetsPart {
    /// The sets.
    pub sets: Vec<SetPart>,
}

/// A set that was done.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SetPart {
    /// The set.
    pub turn: TurnId,
    /// Which one of its block.
    pub set: SetName,
    /// The exercise's name.
    pub exercise: Words,
    /// Where it was done; absent where the floor has no such station any more.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub station: Option<String>,
    /// The unit stamped there.
    pub unit: MassUnit,
    /// When it ended.
    pub ended: FloorMs,
    /// What is known of it now.
    pub said: SaidPart,
    /// What was said first, where that has been corrected.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first: Option<SaidPart>,
}

/// What is known of a set that was done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SaidPart {
    /// Repetitions done; absent where nobody has said how many there were of a set that was stopped.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reps: Option<u8>,
    /// The load.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load: Option<Load>,
    /// How it felt.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub effort: Option<Effort>,
    /// How it ended.
    pub ending: Ending,
    /// Who said the last of it.
    pub by: Actor,
    /// When.
    pub at: FloorMs,
}
