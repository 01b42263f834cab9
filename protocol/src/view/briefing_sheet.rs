//! What there is to say to a group about its exercises before the first set. An answer over HTTP, no view.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::ids::GroupId;
use crate::units::Secs;
use crate::words::Words;

/// The briefing of a group, block by block from the one in hand on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BriefingSheet {
    /// The floor's name.
    pub floor: String,
    /// The group.
    pub group: GroupId,
    /// The clients' names, in the order in which they go.
    pub clients: Vec<String>,
    /// The blocks; none once the session is over.
    pub blocks: Vec<BriefingBlock>,
}

/// One block.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BriefingBlock {
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
    /// The exercises undo each other: what one brings together, the other takes apart.
    pub opposing: bool,
    /// The exercises, in order.
    pub exercises: Vec<BriefingExercise>,
    /// What some clients do instead of one of them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub instead: Vec<BriefingInstead>,
}

/// Another exercise that was agreed on with some clients alone.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BriefingInstead {
    /// For whom, by name, in the order in which they go.
    pub clients: Vec<String>,
    /// Which exercise of the block they do not do.
    pub of: Words,
    /// What they do.
    pub exercise: BriefingExercise,
}

/// One exercise.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BriefingExercise {
    /// Its name.
    pub exercise: Words,
    /// Somebody must stand by.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub spotted: bool,
    /// Done once for each side.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub per_side: bool,
    /// Those that do most of the effort.
    pub prime_movers: Vec<Words>,
    /// Those that help.
    pub synergists: Vec<Words>,
    /// Those that hold still what must not move.
    pub stabilisers: Vec<Words>,
    /// Those that would do the reverse, and give way.
    pub antagonists: Vec<Words>,
    /// How to get ready, in order.
    pub set_up: Vec<Words>,
    /// How to breathe.
    pub breathing: Words,
    /// What to take care of.
    pub cautions: Vec<Words>,
}
