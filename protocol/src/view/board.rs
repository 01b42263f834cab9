//! Every group at a glance.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{ClientPart, ClockPart, HaltPart, HappenedPart, HelpPart, Stage, StationLine};
use crate::ids::GroupId;
use crate::units::FloorMs;

/// Every group at a glance. Shows no effort, and no load of a client who asked not to.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BoardView {
    /// Seconds east of UTC at this floor now.
    pub zone_offset: i32,
    /// Which time of day which floor time is.
    pub clock: ClockPart,
    /// When the floor closes; absent where it never does, or is closed already.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub closes: Option<FloorMs>,
    /// The floor's name.
    pub floor: String,
    /// The groups in the order of the programme.
    pub groups: Vec<BoardGroup>,
    /// The stations in the order of the floor file.
    pub stations: Vec<StationLine>,
    /// What has happened lately, the latest first; few, because they are read in passing.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub happened: Vec<HappenedPart>,
    /// Help is needed somewhere.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub help: Option<HelpPart>,
}

/// One group on the board.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BoardGroup {
    /// The group.
    pub group: GroupId,
    /// Where it is in its evening.
    pub stage: Stage,
    /// The name of the coach who is responsible.
    pub coach: String,
    /// Its place in the wait list, from 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<u16>,
    /// Its clients.
    pub clients: Vec<ClientPart>,
    /// It is held.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub halt: Option<HaltPart>,
}
