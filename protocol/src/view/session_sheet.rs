//! What is left of a group's session, on paper: enough to go on with where no display works. An answer over HTTP, no
//! view.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Emergency, SetName};
use crate::card::LoadCard;
use crate::command::{Effort, Ending};
use crate::ids::{ClientId, GroupId};
use crate::load::Load;
use crate::tempo::Tempo;
use crate::units::Secs;
use crate::words::Words;
use crate::work::Work;

/// The session of a group, from the block in hand on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SessionSheet {
    /// The floor's name.
    pub floor: String,
    /// The group.
    pub group: GroupId,
    /// The coach who is responsible, by name.
    pub coach: String,
    /// When this was so, as RFC 3339 with the offset of clocks at the floor: the last entry before the question.
    pub as_of: String,
    /// When the session is to start, where its plan says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub starts: Option<String>,
    /// What to do in an emergency.
    pub emergency: Emergency,
    /// The clients' names, in the order in which they go.
    pub clients: Vec<String>,
    /// The block in hand and those after it; none once the session is over.
    pub blocks: Vec<SheetBlock>,
}

/// One block.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SheetBlock {
    /// Its place in the session, from 1.
    pub n: u8,
    /// How many there are.
    pub of: u8,
    /// Working rounds.
    pub rounds: u8,
    /// The shortest rest after a round.
    pub rest_min: Secs,
    /// The longest.
    pub rest_max: Secs,
    /// How long going over from one exercise to the next may take.
    pub changeover: Secs,
    /// The exercises, in order.
    pub exercises: Vec<SheetExercise>,
    /// What each client does.
    pub clients: Vec<SheetClient>,
}

/// An exercise of a block.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SheetExercise {
    /// Its name.
    pub exercise: Words,
    /// The names of the stations: the one that is reserved, or else all that suit.
    pub stations: Vec<String>,
    /// Whether it is reserved.
    pub reserved: bool,
    /// Done once for each side.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub per_side: bool,
    /// Somebody must stand by.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub spotted: bool,
}

/// What a client does in a block.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SheetClient {
    /// The client.
    pub client: ClientId,
    /// The client's name.
    pub name: String,
    /// How each station is set for the client, as far as anybody has said.
    pub settings: Vec<SheetSettings>,
    /// The sets, in the order in which they are done.
    pub sets: Vec<SheetSet>,
}

/// How a station is set for a client.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SheetSettings {
    /// The station's name.
    pub station: String,
    /// What is set, and to what.
    pub values: Vec<SheetSetting>,
}

/// One setting.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SheetSetting {
    /// What is set.
    pub name: String,
    /// To what.
    pub value: String,
}

/// One set on paper.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SheetSet {
    /// Which one of its block.
    pub set: SetName,
    /// The exercise's name.
    pub exercise: Words,
    /// Where the load is set so; absent where no station suits.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub station: Option<String>,
    /// What it asks for.
    pub work: Work,
    /// Done once for each side.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub per_side: bool,
    /// Somebody must stand by.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub spotted: bool,
    /// The tempo.
    pub tempo: Tempo,
    /// The load and how it is set; absent where there is none, or where it is not known yet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load: Option<LoadCard>,
    /// The same at every other station that suits, as long as none is reserved.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub elsewhere: Vec<SheetElsewhere>,
    /// How it went, where it is over.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub over: Option<SheetOver>,
}

/// A set at another station than the one its sheet names first.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SheetElsewhere {
    /// The station's name.
    pub station: String,
    /// What the set asks for there: a rule can lead to more repetitions where a step of the load is too large.
    pub work: Work,
    /// The load and how it is set there; absent where there is none, or where it is not known yet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load: Option<LoadCard>,
}

/// How a set went that is over.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "is", rename_all = "snake_case", deny_unknown_fields)]
pub enum SheetOver {
    /// It was done.
    Done {
        /// Repetitions; absent where nobody has said how many there were of a set that was stopped.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        reps: Option<u8>,
        /// The load.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        load: Option<Load>,
        /// How it felt.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        effort: Option<Effort>,
        /// How it ended.
        ending: Ending,
        /// When it ended, as RFC 3339 with the offset of clocks at the floor.
        ended: String,
    },
    /// It was left out or missed.
    LeftOut,
}
