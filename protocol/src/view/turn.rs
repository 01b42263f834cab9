//! One set, under way or to come, as every display shows it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{CuesPart, PromisePart, ProposalPart};
use crate::card::LoadCard;
use crate::ids::{StationId, TurnId};
use crate::tempo::Tempo;
use crate::units::{FloorMs, Secs};
use crate::words::Words;
use crate::work::Work;

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
    pub exercise: Words,
    /// Which set of how many.
    pub set: SetName,
    /// Target repetitions; one for a hold.
    pub reps: u8,
    /// What is asked for.
    pub work: Work,
    /// Once for each side.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub per_side: bool,
    /// The tempo.
    pub tempo: Tempo,
    /// The phase the exercise starts with.
    pub starts_with: StartsWith,
    /// What a pacer says of its repetitions; at its station only.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cues: Option<CuesPart>,
    /// What is on the bar or at the pin; absent without a load, or where the client asked not to show it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load: Option<LoadCard>,
    /// Whether it needs a spotter.
    pub spotted: bool,
    /// Who spots it, once somebody has said so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spotter: Option<String>,
    /// Safety arms stand in for a spotter.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub arms: bool,
    /// The spotter helps with the lift-off only.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub lift_off: bool,
    /// How the station is set for this client: what is to be changed first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub settings: Vec<SettingPart>,
    /// What is proposed for its load, and why; at its station only.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub proposal: Option<ProposalPart>,
    /// What is told of its start, once it is near and until it begins.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub promise: Option<PromisePart>,
    /// Where it stands in time.
    pub phase: TurnPhase,
    /// Where the client goes after it, without a rest.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub then: Option<ThenPart>,
}

/// How one thing at a station is set for a client.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SettingPart {
    /// Its place in the station's list, from 0.
    pub setting: u8,
    /// Its name.
    pub name: String,
    /// What it is set to for this client, as labelled there.
    pub value: String,
    /// It is set otherwise now, as far as anybody has said.
    pub change: bool,
}

/// Which set of how many.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "set", rename_all = "snake_case", deny_unknown_fields)]
pub enum SetName {
    /// The light set the coach watches first.
    Technique,
    /// One more light set, nearer to the working load.
    Ramp,
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
        /// When the client is asked for GO, so that the first repetition comes as the rest ends; moved by every NOT YET.
        /// A start that is told is GO as well.
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
    /// The pair must be back: it is out at another station.
    Pair,
    /// A spotter must be at the bar.
    Spotter,
    /// A coach must resume the group.
    Resume,
    /// The client has to come.
    Arrival,
    /// The exercises must be explained first, or that be skipped.
    Briefing,
    /// A coach must be asked.
    Coach,
    /// Somebody of the public is on the station.
    OtherUse,
    /// The station must not be used.
    Service,
    /// Somebody needs help at the station.
    Help,
}

/// Where a client goes from one exercise to the next.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ThenPart {
    /// The name of the station.
    pub station: String,
    /// The name of the exercise.
    pub exercise: Words,
    /// How long that may take.
    pub changeover: Secs,
}
