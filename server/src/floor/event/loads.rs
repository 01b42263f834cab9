//! Loads that became others, by client.

use serde::{Deserialize, Serialize};
use turnabout_protocol::ids::ClientId;
use turnabout_protocol::units::Mass;

/// The loads of one client's exercise: of every working round, and of the light set.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct LegLoads {
    /// The client.
    pub client: ClientId,
    /// Of the working rounds, in order.
    pub loads: Vec<Option<Mass>>,
    /// Of the light set.
    pub technique_load: Option<Mass>,
}
