//! The face of one to four stations.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{
    CallPart, ClockPart, FinishedPart, FreePart, HaltPart, HelpPart, JobsPart, LeavingPart, OtherUsePart,
    OutPart, StartPart, StationPlates, TurnPart,
};
use crate::card::GearKind;
use crate::ids::{ClientId, GroupId, Key, StationId, TurnId};
use crate::units::FloorMs;
use crate::words::Words;

/// The face of one to four stations. Of people it names only who is on them now and next, who has just left them for
/// another exercise, and of the same group who can spot the set to come, who is on the station one goes to and who
/// has hands free to load.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StationView {
    /// Seconds east of UTC at this floor now.
    pub zone_offset: i32,
    /// Which time of day which floor time is.
    pub clock: ClockPart,
    /// The stations in the order the display asked for.
    pub stations: Vec<StationPart>,
    /// Help is needed somewhere: the loudest thing on the screen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub help: Option<HelpPart>,
}

/// One station.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StationPart {
    /// The station.
    pub station: StationId,
    /// Its key in files and addresses.
    pub key: Key,
    /// Its name on the floor.
    pub name: String,
    /// What sets the load here.
    pub gear: GearKind,
    /// What it is used for.
    pub state: StationState,
    /// Who has it reserved: what giving it back must name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub claim: Option<ClaimPart>,
    /// Safety arms may stand in for a spotter here.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub arms: bool,
    /// A second group that takes turns here while the first rests.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shared_with: Option<ClaimPart>,
    /// Somebody of the public is on it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub other_use: Option<OtherUsePart>,
    /// It must not be used.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub out: Option<OutPart>,
    /// Nothing has been heard of the group for long: then its stations are given away.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lapses: Option<LapsePart>,
    /// The set under way here, or else the one that comes next, of all groups that take turns here.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub turn: Option<TurnPart>,
    /// Who of the same group can spot the coming set, while it needs a spotter and has none: passed by the
    /// coach for this exercise, there, and free. At most three; gone as soon as somebody is named.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub partners: Vec<PartnerPart>,
    /// Who comes after that, where it is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next: Option<NextPart>,
    /// Until when it is for everyone, while it is free.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub free: Option<FreePart>,
    /// The coach of the group that has it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub coach: Option<String>,
    /// Who has just done a set here and is on the way to the next exercise elsewhere.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leaving: Option<LeavingPart>,
    /// Who of the group does what for the coming set, while plates are to be changed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub jobs: Option<JobsPart>,
    /// What there is to say once the sets here are done, while it is wiped down.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub finished: Option<FinishedPart>,
    /// The sets of one client's last round whose effort answers are still open, in the order of the exercises: asked
    /// after the whole round, at each of its stations.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ask_efforts: Vec<AskEffort>,
    /// The group of that set is held, or its client alone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub halt: Option<HaltPart>,
    /// Its plates, where there is a bar and its load is still to be put on: what is really there can be said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plates: Option<StationPlates>,
    /// Calls from this station that nobody has attended.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub calls: Vec<CallPart>,
}

/// Whose a reserved station is: numbers only.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ClaimPart {
    /// The group.
    pub group: GroupId,
    /// Place of the block in the session, from 0.
    pub block: u8,
}

/// A group of which nothing has been heard for long.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LapsePart {
    /// The group: what saying that it is still there must name.
    pub group: GroupId,
    /// When its stations are given away, if nobody says so.
    pub at: FloorMs,
}

/// What a station is used for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum StationState {
    /// For everyone.
    Free,
    /// Reserved by a group.
    Reserved,
    /// A set is under way.
    InUse,
    /// The group is done and wipes it down.
    WipeDown,
    /// Somebody of the public is on it.
    OtherUse,
    /// It must not be used.
    OutOfService,
}

/// Somebody of the group who can spot the set to come. The name is told for this set alone: without it nobody
/// could say at the station who stands at the bar.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PartnerPart {
    /// Who: what saying so must name.
    pub client: ClientId,
    /// The display name.
    pub name: String,
}

/// Who comes next at a station.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NextPart {
    /// The client's display name.
    pub client: String,
    /// GO not before that instant.
    pub ready: FloorMs,
    /// The start that was told, once it is near.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub promise: Option<StartPart>,
}

/// A set whose effort answer is open.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AskEffort {
    /// The set.
    pub turn: TurnId,
    /// The client's display name.
    pub client: String,
    /// The exercise's name.
    pub exercise: Words,
    /// When the client's next set is to start, as far as that is known: the question is gone some time before.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<FloorMs>,
}

/// One station in a list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StationLine {
    /// The station.
    pub station: StationId,
    /// Its key in files and addresses.
    pub key: Key,
    /// Its name.
    pub name: String,
    /// What it is used for.
    pub state: StationState,
    /// The group that has it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub group: Option<GroupId>,
    /// A second group that takes turns there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shared_with: Option<GroupId>,
    /// Somebody of the public is on it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub other_use: Option<OtherUsePart>,
    /// It must not be used.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub out: Option<OutPart>,
}
