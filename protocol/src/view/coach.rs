//! One coach's page.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{
    AdmissionPart, Attendance, CallPart, ExerciseName, FitPart, HaltPart, HelpPart, LegChoices, NotePart,
    PlaceChoice, ProposalPart, RibbonSet, RunRow, Stage, StationLine, StationPlates, StationSettings,
    TooLargePart, TurnPart,
};
use crate::command::{Act, Effort, Ending};
use crate::ids::{ClientId, CoachId, ExerciseId, GroupId, Key, StationId, TurnId};
use crate::load::Load;
use crate::role::Actor;
use crate::units::{FloorMs, Millis, Secs};
use crate::words::Words;

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
    /// Who needs this coach next, in order of time.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub run_sheet: Vec<RunRow>,
    /// What can be set at the stations that one's own groups have.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub settings: Vec<StationSettings>,
    /// The plates of the stations that one's own groups have.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub plates: Vec<StationPlates>,
    /// The exercises that the groups' choices name, each once, by number.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub exercises: Vec<ExerciseName>,
    /// The stations at which they could be done, each once, by number.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub places: Vec<PlaceChoice>,
    /// The latest notes of the evening about one's own groups and about stations, the latest first, and of long
    /// ones the beginning.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<NotePart>,
    /// How many notes there are before these.
    #[serde(default, skip_serializing_if = "crate::view::is_zero")]
    pub older_notes: u8,
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
    /// Away until about then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub away: Option<FloorMs>,
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
    /// The stations that it has got ahead for its next block.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ahead: Vec<StationId>,
    /// It waits for stations.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub waits: Option<WaitPart>,
    /// It is offered to another coach, or asked for, and that has not been agreed to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub offer: Option<OfferPart>,
    /// Nothing has been heard of it for long: then it is given up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lapses: Option<FloorMs>,
    /// Nobody came.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub no_show: bool,
    /// When it has to end and whether it will; absent where nothing ends it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fit: Option<FitPart>,
    /// What could be done otherwise, for each exercise of the block in hand; for one's own groups only.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub choices: Vec<LegChoices>,
    /// Larger than its rests allow on one pair of stations, while it has not begun its block; for one's own groups
    /// only.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub too_large: Option<TooLargePart>,
    /// What stations it could have, the best first, while it has none; for one's own groups only.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub admissions: Vec<AdmissionPart>,
    /// What others than the page's coach have just done for it, the latest first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub done: Vec<DeedPart>,
    /// Its clients.
    pub clients: Vec<CoachClient>,
    /// It is held.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub halt: Option<HaltPart>,
    /// The taps that are expected, the most likely first, each complete with its target. `from` says from
    /// when it will be taken.
    pub taps: Vec<ExpectedTap>,
}

/// A group that waits for stations.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WaitPart {
    /// Its place in the wait list, from 1.
    pub place: u16,
    /// Place of the block in the session for which it waits, from 0.
    pub block: u8,
}

/// A hand-over that has not been agreed to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OfferPart {
    /// Who would be responsible.
    pub to: CoachId,
    /// Who has to agree.
    pub asks: CoachId,
}

/// How long a page tells of what somebody else has done: so long that it is read, and no longer than it explains
/// why a button has changed. Common practice, no source.
pub const DEED_TOLD_FOR: Millis = Millis::secs(10);

/// What somebody else than the page's coach has done, so that nobody wonders why a button is another one. A display
/// tells of it for [`DEED_TOLD_FOR`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DeedPart {
    /// What.
    pub deed: Deed,
    /// Who did it.
    pub by: Actor,
    /// When the floor took it down.
    pub at: FloorMs,
    /// The client it is about, where it is about one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub client: Option<ClientId>,
}

/// What somebody has done that a coach's page may have been about to offer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Deed {
    /// The client has come.
    Arrived,
    /// The exercises were explained.
    Briefed,
    /// The stations were taken.
    StationsTaken,
    /// The technique set was passed.
    Passed,
    /// The load was confirmed.
    LoadConfirmed,
    /// Somebody was named who spots.
    SpotterNamed,
    /// GO.
    Went,
    /// DONE.
    Done,
    /// Somebody was called.
    Called,
    /// Another coach has the group.
    HandedOver,
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
    pub exercises: Vec<Words>,
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
    /// Whether the client is there.
    pub attendance: Attendance,
    /// Has said to be warm.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub warmed_up: bool,
    /// The exercises were explained, or are known.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub briefed: bool,
    /// The screening leaves something to decide.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub screening_open: bool,
    /// Rounds that were missed and are not made up for.
    #[serde(default, skip_serializing_if = "crate::view::is_zero")]
    pub owed: u8,
    /// Stopped alone; the others of the group go on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub halt: Option<HaltPart>,
    /// The exercises in which the client may spot others of the group.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub spots: Vec<ExerciseId>,
    /// The exercise of that set: prescribed, or done instead.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub exercise: Option<ExerciseId>,
    /// The exercise of that set is done in place of this one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub in_place_of: Option<Words>,
    /// The set under way, or else the one that comes next; absent when all are done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub turn: Option<TurnPart>,
    /// The last set that ended.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last: Option<LastPart>,
    /// What is proposed for the next working set of each exercise; for one's own groups only.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub proposals: Vec<ProposalPart>,
    /// The client's time as a strip.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ribbon: Vec<RibbonSet>,
}

/// A set that ended.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LastPart {
    /// The set.
    pub turn: TurnId,
    /// The exercise's name.
    pub exercise: Words,
    /// The load.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load: Option<Load>,
    /// When it ended.
    pub ended: FloorMs,
    /// Repetitions done; the target where nobody said otherwise. Absent where the set was stopped and nobody has
    /// said how many there were.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reps: Option<u8>,
    /// How it felt.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub effort: Option<Effort>,
    /// How it ended.
    pub ending: Ending,
}
