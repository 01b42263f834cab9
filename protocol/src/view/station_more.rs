//! What a station says beside whose set it is: until when it is free, who is on the way elsewhere, who does what, and
//! what comes after the last set.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::load::Load;
use crate::units::{FloorMs, MassUnit};
use crate::words::Words;

/// Until when a free station is for everyone. What is planned may still become something else.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FreePart {
    /// Until about then: to the whole minute. Absent where nothing is planned here.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<FloorMs>,
    /// Who would be the first here then; absent where the floor closes then, or nothing is planned.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub then: Option<String>,
}

/// Somebody who has just done a set here and goes to the next exercise without a rest.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LeavingPart {
    /// The client's display name.
    pub client: String,
    /// The name of the station it goes on at.
    pub to: String,
    /// The exercise there.
    pub exercise: Words,
    /// By when the set there should have begun.
    pub limit: FloorMs,
    /// Who of the same group is still on that station.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub held_by: Option<String>,
}

/// Who of a group does what for the coming set. The lifter is the one whose set it is.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JobsPart {
    /// Who spots, where somebody has said so or is told to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spots: Option<String>,
    /// Who of the group rests and can put the plates on.
    pub loads: String,
}

/// What there is to say at a station once its sets are done.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FinishedPart {
    /// Whose sets were done here, in the group's order.
    pub clients: Vec<String>,
    /// What would be proposed here the next time, of each client who lets loads be shown.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub next_time: Vec<LoadNextTime>,
}

/// What would be proposed for somebody the next time.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LoadNextTime {
    /// The client's display name.
    pub client: String,
    /// The exercise.
    pub exercise: Words,
    /// The load.
    pub load: Load,
    /// The unit that the gear is stamped in.
    pub unit: MassUnit,
}
