//! What is told of a coming set, and a coach's run sheet.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::SetName;
use crate::card::LoadCard;
use crate::ids::{StationId, TurnId};
use crate::promise::StartReason;
use crate::units::FloorMs;
use crate::words::Words;

/// What is told of a coming set. It changes seldom: see when it moves beside the rule at the server.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PromisePart {
    /// From when the client may go. GO is for somebody to say.
    pub start: FloorMs,
    /// Whether that is about then only; absent where it is told to the second.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub about: bool,
    /// The name of who is to spot it; absent where nobody need, or safety arms do.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spotter: Option<String>,
    /// Why not earlier.
    pub reason: StartReason,
}

/// The start that was told of a set, where who spots it is nobody's business.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StartPart {
    /// From when the client may go.
    pub start: FloorMs,
    /// Whether that is about then only; absent where it is told to the second.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub about: bool,
    /// Why not earlier.
    pub reason: StartReason,
}

/// What a coach is needed for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum CoachTask {
    /// To watch a light set.
    Watch,
    /// To spot.
    Spot,
}

/// One line of a coach's run sheet: who needs me, where, from when, why then, with which load.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RunRow {
    /// Which set.
    pub turn: TurnId,
    /// The client's display name.
    pub client: String,
    /// Where.
    pub station: StationId,
    /// The exercise's name.
    pub exercise: Words,
    /// Which set of how many.
    pub set: SetName,
    /// What for.
    pub task: CoachTask,
    /// From when.
    pub start: FloorMs,
    /// Why not earlier.
    pub reason: StartReason,
    /// Whether it has been told, so that it seldom changes; else it is planned and may.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub told: bool,
    /// Whether the start is about then only; absent where it is told to the second.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub about: bool,
    /// The load, with the plates that make it where the set is the client's next.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load: Option<LoadCard>,
}
