//! One coach's page.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{CallPart, HaltPart, HelpPart, Stage, StationLine, TurnPart};
use crate::command::{Act, Effort, Ending};
use crate::ids::{ClientId, CoachId, GroupId, Key, StationId, TurnId};
use crate::units::{FloorMs, Secs};

/// One coach's page.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoachView {
    /// Seconds east of UTC at this floor now.
    pub zone_offset: i32,
    /// The floor's name.
    pub floor: String,
    /// Whose page it is.
    pub me: CoachId,
    /// All coaches.
    pub coaches: Vec<CoachLine>,
    /// All stations.
    pub stations: Vec<StationLine>,
    /// All groups; one's own first.
    pub groups: Vec<CoachGroup>,
    /// Calls that nobody has attended, the most urgent first.
    pub calls: Vec<CallPart>,
    /// Help is needed somewhere.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub help: Option<HelpPart>,
}

/// One coach in a list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoachLine {
    /// The coach.
    pub coach: CoachId,
    /// The key in files and addresses.
    pub key: Key,
    /// The name.
    pub name: String,
    /// The set this coach spots until it is racked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spotting: Option<TurnId>,
}

/// One group on a coach's page.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoachGroup {
    /// The group.
    pub group: GroupId,
    /// Its revision, for commands that edit claims, blocks and loads.
    pub revision: u32,
    /// The coach who is responsible.
    pub coach: CoachId,
    /// Where it is in its evening.
    pub stage: Stage,
    /// The block in hand.
    pub block: BlockPart,
    /// The reserved stations, one for each exercise; empty while there are none.
    pub stations: Vec<StationId>,
    /// For each exercise of the block in hand the stations, free or not, where every client of the group can
    /// do it with exactly the loads prescribed; empty when the session is over.
    pub suited: Vec<Vec<StationId>>,
    /// Its clients.
    pub clients: Vec<CoachClient>,
    /// It is held.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub halt: Option<HaltPart>,
    /// The taps that are expected, the most likely first, each complete with its target. `from` says from
    /// when it will be taken.
    pub taps: Vec<ExpectedTap>,
}

/// A tap that is expected.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ExpectedTap {
    /// The command's content.
    pub act: Act,
    /// From when it will be taken.
    pub from: FloorMs,
    /// The client it is about, where it is about one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub client: Option<ClientId>,
}

/// The block in hand.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BlockPart {
    /// Its number in the session, from 1.
    pub n: u8,
    /// How many blocks the session has.
    pub of: u8,
    /// The exercises' names, in order.
    pub exercises: Vec<String>,
    /// Working rounds.
    pub rounds: u8,
    /// Shortest rest after a round.
    pub rest_min: Secs,
    /// Longest rest after a round.
    pub rest_max: Secs,
}

/// One client on a coach's page.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CoachClient {
    /// The client.
    pub client: ClientId,
    /// The display name.
    pub name: String,
    /// The set under way, or else the one that comes next; absent when all are done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub turn: Option<TurnPart>,
    /// The last set that ended.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last: Option<LastPart>,
}

/// A set that ended.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LastPart {
    /// The set.
    pub turn: TurnId,
    /// The exercise's name.
    pub exercise: String,
    /// When it ended.
    pub ended: FloorMs,
    /// Repetitions done; the target where nobody said otherwise.
    pub reps: u8,
    /// How it felt.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub effort: Option<Effort>,
    /// How it ended.
    pub ending: Ending,
}
