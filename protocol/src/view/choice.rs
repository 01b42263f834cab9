//! What a coach can choose from: other stations, other exercises, fewer rounds, how a station is set.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::card::PlatePart;
use crate::command::Act;
use crate::ids::{ExerciseId, StationId};
use crate::load::Load;
use crate::units::{FloorMs, Mass, MassUnit, Secs};
use crate::words::Words;

/// What could be done otherwise in place of one exercise of a block.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LegChoices {
    /// Place of the exercise in the block, from 0.
    pub leg: u8,
    /// Other stations where the group could do it from now on.
    pub stations: Vec<StationId>,
    /// Other exercises of the same movement, for one client.
    pub exercises: Vec<ExerciseChoice>,
}

/// Another exercise of the same movement. By numbers: the same few are named for many clients, and written out
/// each time they were most of a coach's page.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ExerciseChoice {
    /// Which; its name is in [`CoachView::exercises`](super::CoachView::exercises).
    pub exercise: ExerciseId,
    /// Where it could be done now, at least one; what is there is in
    /// [`CoachView::places`](super::CoachView::places).
    pub places: Vec<StationId>,
}

/// An exercise that could be done.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ExerciseName {
    /// Which.
    pub exercise: ExerciseId,
    /// Its name.
    pub name: Words,
}

/// Where another exercise could be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlaceChoice {
    /// The station.
    pub station: StationId,
    /// The lightest load there: what a coach who knows no better starts from. Absent where there is none to
    /// set.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lightest: Option<Load>,
    /// The unit stamped there.
    pub unit: MassUnit,
}

/// When a session has to end, and what it still takes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FitPart {
    /// By when it has to end: as agreed, or when the floor closes, whichever comes first.
    pub by: FloorMs,
    /// Whether that is when the floor closes.
    pub closing: bool,
    /// What is left takes about so long, if nobody waits: sets at their tempo with getting ready, the ways
    /// over at their limit, the shortest rests. Waits for stations, for spotters and for plates are not
    /// counted.
    pub left: Secs,
    /// What would make it shorter.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub offers: Vec<FitOffer>,
}

/// Something that makes a session shorter.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FitOffer {
    /// Fewer rounds, or the last block left out.
    pub act: Act,
    /// What is left takes about so long then.
    pub left: Secs,
}

/// What can be set at a station.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StationSettings {
    /// The station.
    pub station: StationId,
    /// In the station's order.
    pub settings: Vec<SettingChoice>,
}

/// The plates of a station with a bar.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StationPlates {
    /// The station.
    pub station: StationId,
    /// The unit that they are stamped in.
    pub unit: MassUnit,
    /// The name of the tree that they hang on, where other stations share it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tree: Option<String>,
    /// The bars, where there is a choice, the usual one first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub bars: Vec<BarChoice>,
    /// Which of them is there now, as far as anybody has said: its place in `bars`, from 0.
    #[serde(default, skip_serializing_if = "crate::view::is_zero")]
    pub bar: u8,
    /// The kinds, the heaviest first.
    pub kinds: Vec<PlateChoice>,
}

/// One bar of a station's choice.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BarChoice {
    /// The bar alone; of a fixed one all of it.
    pub mass: Mass,
    /// What people call it, where its mass does not tell it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<Words>,
}

/// One kind of plates of a station.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlateChoice {
    /// One of them.
    pub plate: PlatePart,
    /// How many belong to the station, or to its tree.
    pub count: u8,
    /// How many of these are missing.
    #[serde(default, skip_serializing_if = "crate::view::is_zero")]
    pub missing: u8,
    /// How many are on each side of the bar, as far as anybody has said.
    #[serde(default, skip_serializing_if = "crate::view::is_zero")]
    pub on: u8,
}

/// One thing that can be set at a station.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SettingChoice {
    /// Its name.
    pub name: String,
    /// What it can be set to, as labelled there.
    pub values: Vec<String>,
}
