//! What could be done about a group that has no stations yet, and what it would cost the others.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::command::Act;
use crate::ids::{ClientId, GroupId, StationId};
use crate::units::{FloorMs, Secs};

/// A group is larger than its rests allow on one pair of stations.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TooLargePart {
    /// By at least how much somebody's rest overruns, whatever the order of turns.
    pub overrun: Secs,
    /// Whom to put together on two pairs; absent where two pairs would do no better.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub split: Option<[Vec<ClientId>; 2]>,
}

/// Stations that a group could have, from when, and at what price.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AdmissionPart {
    /// One for each exercise of the block in hand.
    pub stations: Vec<StationId>,
    /// About when its first set would start.
    pub from: FloorMs,
    /// It would take turns there with this group.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub works_in: Option<GroupId>,
    /// Which groups would end later or rest longer, the worst first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub longer: Vec<LongerPart>,
    /// How many groups beside these would, by less.
    #[serde(default, skip_serializing_if = "crate::view::is_zero")]
    pub others: u8,
    /// By how much its own worst rest would overrun.
    pub overrun: Secs,
    /// What takes these stations; absent while they cannot be taken.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub act: Option<Act>,
}

/// A group that would wait longer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LongerPart {
    /// Which.
    pub group: GroupId,
    /// By how much its last set would end later, or its worst rest be longer, whichever is more.
    pub by: Secs,
}
