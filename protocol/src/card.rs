//! How to set a load.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::units::{Mass, MassUnit};

/// What kind of gear sets the load at a station.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum GearKind {
    /// A bar with plates and collars.
    Bar,
    /// A stack with a pin.
    Stack,
    /// Nothing to set: body mass, a mat.
    Plain,
}

/// The load of one set, and whether it still has to be put on.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LoadCard {
    /// The whole of it: bar, collars and plates of both sides, or the label at the pin.
    pub total: Mass,
    /// The unit in which plates and pins are stamped.
    pub unit: MassUnit,
    /// What it is set on.
    pub gear: GearKind,
    /// What is on the gear now; absent where nobody has said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub on_now: Option<Mass>,
    /// Whether load, equal sides and collars were confirmed for this load since the last change.
    pub confirmed: bool,
}
