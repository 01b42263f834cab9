//! Which time of day it is at the floor.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::units::FloorMs;

/// Which instant of UTC which floor time is. A display tells the time of day by it, and never by its own clock.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ClockPart {
    /// This floor time ...
    pub floor: FloorMs,
    /// ... is so many milliseconds after 1970-01-01T00:00:00Z.
    pub utc_ms: i64,
}

impl ClockPart {
    /// The instant of UTC of a floor time, in milliseconds since 1970.
    #[must_use]
    pub const fn utc_at(self, at: FloorMs) -> i64 {
        self.utc_ms.saturating_add(at.0.saturating_sub(self.floor.0))
    }
}
