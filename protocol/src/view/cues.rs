//! What a pacer says of a repetition beside its tempo.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::words::Words;

/// What a pacer says of the repetitions of a set: at its station only.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CuesPart {
    /// What the moving phases are called in this exercise; absent where nobody has said, and for a hold.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub phases: Option<PhaseWords>,
    /// How to breathe.
    pub breathing: Breathing,
}

/// What the moving phases of a repetition are called in one exercise.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PhaseWords {
    /// Giving way: "lower", "return".
    pub eccentric: Words,
    /// The effort: "press", "pull".
    pub concentric: Words,
}

/// How to breathe in an exercise.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Breathing {
    /// Out with the effort, in on the way back.
    #[default]
    OutWithEffort,
    /// Evenly, as in a hold.
    Even,
}
