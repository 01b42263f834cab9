//! Loads of one client's exercise, as they are worked out once and kept.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use turnabout_protocol::ids::ClientId;
use turnabout_protocol::load::Load;
use turnabout_protocol::next::Proposal;
use turnabout_protocol::work::Work;

/// The loads of one client's exercise at one station.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct LegLoads {
    /// The client.
    pub client: ClientId,
    /// Of the working rounds, in order.
    pub loads: Vec<Option<Load>>,
    /// Of the light set.
    pub technique_load: Option<Load>,
    /// Of one more light set, nearer to the first working load; absent where there is none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ramp: Option<Load>,
    /// Where the first working load comes from, unless the plan says it outright.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first: Option<Proposal>,
    /// What working rounds ask for, where that is other than the plan.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub works: BTreeMap<u8, Work>,
}

/// The loads of one client's exercise of a block.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct FirstLoads {
    /// Place of the exercise in the block.
    pub leg: u8,
    /// The loads.
    pub loads: LegLoads,
}
