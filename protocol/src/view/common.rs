//! What several kinds of display show alike.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{RibbonSet, TurnPart};
use crate::command::{CallKind, Defect};
use crate::ids::{CallId, ClientId, StationId};
use crate::units::FloorMs;
use crate::words::Words;

/// A group that is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HaltPart {
    /// How.
    pub halt: HaltKind,
    /// Since when.
    pub since: FloorMs,
}

/// How a group is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum HaltKind {
    /// Nothing starts; what is under way goes on.
    Pause,
    /// What is under way is racked; nothing starts.
    Stop,
}

/// A call that nobody has attended.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CallPart {
    /// The call.
    pub call: CallId,
    /// How urgent.
    pub kind: CallKind,
    /// The station it came from.
    pub station: StationId,
    /// That station's name.
    pub place: String,
    /// Since when.
    pub since: FloorMs,
    /// Who of the coaches is on the way.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub answered: Option<String>,
}

/// Help is needed now.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HelpPart {
    /// The call; of several the oldest.
    pub call: CallPart,
    /// What to do and where things are, as the floor file says.
    pub emergency: Emergency,
}

/// A floor's notes for an emergency, in the manager's own words.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Emergency {
    /// The number to call.
    pub number: String,
    /// The street address to give.
    pub address: String,
    /// Where the defibrillator is.
    pub defibrillator: String,
    /// Where the first-aid kit is.
    pub first_aid: String,
}

/// Where a group is in its evening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Stage {
    /// Nobody of it has come.
    Expected,
    /// Everybody of it who came has left again.
    Gone,
    /// Somebody has come and warms up.
    WarmUp,
    /// The exercises are explained.
    Briefing,
    /// It is ready and has no stations yet.
    Waiting,
    /// It has its stations and does its technique sets.
    Technique,
    /// Working sets and rests.
    Rounds,
    /// All sets are done; strip, wipe down, free the stations.
    WipeDown,
    /// The session is over.
    Finished,
}

/// Whether a client is there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Attendance {
    /// Not yet come.
    Expected,
    /// Not yet come, while the group has its stations already.
    Late,
    /// There.
    Here,
    /// Gone.
    Left,
}

/// Somebody of the public on a station.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OtherUsePart {
    /// Until about then.
    pub until: FloorMs,
}

/// A station that must not be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OutPart {
    /// What is wrong with it.
    pub defect: Defect,
    /// Since when.
    pub since: FloorMs,
}

/// One client of a group.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ClientPart {
    /// The client.
    pub client: ClientId,
    /// The display name.
    pub name: String,
    /// Whether the client is there.
    pub attendance: Attendance,
    /// Stopped alone; the others of the group go on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub halt: Option<HaltPart>,
    /// The set under way, or else the one that comes next; absent when all are done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub turn: Option<TurnPart>,
    /// The exercise of that set is done in place of this one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub in_place_of: Option<Words>,
    /// The client's time as a strip.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ribbon: Vec<RibbonSet>,
}
