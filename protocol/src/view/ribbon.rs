//! A client's time as a strip that every display draws alike: sets as blocks, what is between them as space.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::units::FloorMs;

/// One set on the strip of its client: one that was done lately, the one under way, or one that is to come.
///
/// A block reaches from the first repetition to the end, so that what is between two of them is the whole way over, or
/// the whole rest. The order in time is the order in the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RibbonSet {
    /// The exercise's place in its block, from 0.
    pub leg: u8,
    /// The working round, from 1; 0 is a light set.
    pub round: u8,
    /// Where it stands.
    pub is: RibbonIs,
    /// When the first repetition starts.
    pub from: FloorMs,
    /// When it is over: of a set under way as prescribed, of one to come as planned.
    pub until: FloorMs,
    /// Somebody must spot it or, of a light set, a coach watch it.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub spotted: bool,
    /// When its first repetition may start after the rest before; absent where there is none before it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub window: Option<RestWindow>,
}

/// Where a set on a strip stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RibbonIs {
    /// Somebody said that it is over.
    Done,
    /// Nobody has said so yet.
    UnderWay,
    /// It has not begun; the plan may become another.
    ToCome,
}

/// The earliest and the latest start that a rest allows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RestWindow {
    /// Not before.
    pub from: FloorMs,
    /// Not after, as far as the plan can keep that.
    pub until: FloorMs,
}
