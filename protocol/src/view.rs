//! What one display must show: complete, small, and cut to what its role may see.
//!
//! A view holds instants, not countdowns, and says nothing that time alone changes: a display derives
//! get-set, count-in, working, rest and overtime from the instants and its own floor time, so that it goes
//! on being right when the network is not.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::card::{GearKind, LoadCard};
use crate::command::{Act, CallKind, Effort};
use crate::ids::{CallId, ClientId, CoachId, GroupId, Key, StationId, TurnId};
use crate::tempo::Tempo;
use crate::units::{FloorMs, Secs};

/// Everything one display shows.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "is", rename_all = "snake_case", deny_unknown_fields)]
pub enum View {
    /// The face of one to four stations.
    Station(StationView),
    /// Every group at a glance.
    Board(BoardView),
    /// One coach's page.
    Coach(CoachView),
}

/// The face of one to four stations. Of people it names only who is on them now and next.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StationView {
    /// Seconds east of UTC at this floor now.
    pub zone_offset: i32,
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
    /// The set under way here, or else the one that comes next.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub turn: Option<TurnPart>,
    /// Who comes after that, where it is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next: Option<NextPart>,
    /// The set whose effort answer is still open.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ask_effort: Option<AskEffort>,
    /// The group here is held.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub halt: Option<HaltPart>,
    /// Calls from this station that nobody has attended.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub calls: Vec<CallPart>,
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
}

/// One set, under way or to come.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TurnPart {
    /// Which set.
    pub turn: TurnId,
    /// The group's revision, for commands that edit its loads.
    pub revision: u32,
    /// The client's display name.
    pub client: String,
    /// Where it is done; absent while no stations are reserved.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub station: Option<StationId>,
    /// The exercise's name.
    pub exercise: String,
    /// Which set of how many.
    pub set: SetName,
    /// Target repetitions.
    pub reps: u8,
    /// The tempo.
    pub tempo: Tempo,
    /// The phase the exercise starts with.
    pub starts_with: StartsWith,
    /// What is on the bar or at the pin; absent without a load, or where the client asked not to show it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load: Option<LoadCard>,
    /// Whether it needs a spotter.
    pub spotted: bool,
    /// Who spots it, once a coach has said so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spotter: Option<String>,
    /// Where it stands in time.
    pub phase: TurnPhase,
    /// Where the client goes after it, without a rest.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub then: Option<ThenPart>,
}

/// Which set of how many.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "set", rename_all = "snake_case", deny_unknown_fields)]
pub enum SetName {
    /// The light set the coach watches first.
    Technique,
    /// A working set.
    Working {
        /// Its number, from 1.
        n: u8,
        /// How many there are.
        of: u8,
    },
}

/// The phase with which a repetition of an exercise starts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum StartsWith {
    /// Lowering, as in a press.
    Eccentric,
    /// Pulling, as in a row.
    Concentric,
}

/// Where a set stands in time.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "phase", rename_all = "snake_case", deny_unknown_fields)]
pub enum TurnPhase {
    /// It has not begun.
    Coming {
        /// What the client does until then.
        after: After,
        /// When the client is told to be ready: the end of the rest, moved by every NOT YET.
        ready: FloorMs,
        /// From when GO is taken, so that the set starts no earlier than the rest allows.
        go_from: FloorMs,
        /// What else must happen first, in the order in which it is usually done.
        needs: Vec<Need>,
    },
    /// GO was said: get set, count in, work.
    UnderWay {
        /// When GO was said.
        went: FloorMs,
        /// When the 3-2-1 begins.
        count_in: FloorMs,
        /// When the first repetition starts.
        starts: FloorMs,
        /// When it is prescribed to end. After that it is assumed to be over until somebody says so.
        ends: FloorMs,
    },
}

/// What comes before a set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "after", rename_all = "snake_case", deny_unknown_fields)]
pub enum After {
    /// It is the client's first.
    Nothing,
    /// The walk over from the exercise before, without a rest.
    Changeover {
        /// When that ended.
        since: FloorMs,
        /// By when the set should have begun.
        limit: FloorMs,
    },
    /// The rest after a round.
    Rest {
        /// When the round ended.
        since: FloorMs,
        /// The latest start the block asks for.
        latest: FloorMs,
    },
}

/// What must happen before a set can start.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "need", rename_all = "snake_case", deny_unknown_fields)]
pub enum Need {
    /// Stations must be reserved.
    Stations,
    /// The coach must pass the technique set.
    TechniquePass,
    /// Somebody of the group is still on the station.
    StationFree,
    /// The set before must be said to be racked.
    Racked,
    /// Load, equal sides and collars must be confirmed.
    ConfirmLoad,
    /// A spotter must be at the bar.
    Spotter,
    /// A coach must resume the group.
    Resume,
}

/// Where a client goes from one exercise to the next.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ThenPart {
    /// The name of the station.
    pub station: String,
    /// The name of the exercise.
    pub exercise: String,
    /// How long that may take.
    pub changeover: Secs,
}

/// Who comes next at a station.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NextPart {
    /// The client's display name.
    pub client: String,
    /// Not before that instant.
    pub ready: FloorMs,
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
    pub exercise: String,
}

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

/// Every group at a glance. Shows no effort, and no load of a client who asked not to.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BoardView {
    /// Seconds east of UTC at this floor now.
    pub zone_offset: i32,
    /// The floor's name.
    pub floor: String,
    /// The groups in the order of the programme.
    pub groups: Vec<BoardGroup>,
    /// The stations in the order of the floor file.
    pub stations: Vec<StationLine>,
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
    /// Its clients.
    pub clients: Vec<ClientPart>,
    /// It is held.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub halt: Option<HaltPart>,
}

/// Where a group is in its evening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Stage {
    /// It has no stations yet.
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

/// One client of a group.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ClientPart {
    /// The client.
    pub client: ClientId,
    /// The display name.
    pub name: String,
    /// The set under way, or else the one that comes next; absent when all are done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub turn: Option<TurnPart>,
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
}

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
}
