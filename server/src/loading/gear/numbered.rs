//! A stack whose labels are mere numbers: what they weigh nobody knows.

use serde::{Deserialize, Serialize};

use crate::training::loads::Direction;
use crate::training::pins::Pins;

/// A stack whose labels are mere numbers, from 1 up. What they weigh nobody knows, so there is no unit, nothing to add
/// on top and nothing to say of pulleys.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Numbered {
    /// The highest number; at least one.
    pub numbers: u16,
    /// Whether it carries part of the body, so that a higher pin is easier.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub assists: bool,
}

impl Numbered {
    /// Its pins.
    #[must_use]
    pub const fn pins(&self) -> Pins {
        let direction = if self.assists { Direction::Assists } else { Direction::Resists };
        Pins { count: self.numbers, direction }
    }
}
