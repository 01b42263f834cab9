//! What is on a bar.

use serde::{Deserialize, Serialize};
use turnabout_protocol::units::Mass;

use super::bars::BarNo;
use super::plates::Plate;

/// The plates of one side from the inside out, in whatever order somebody has put them on.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Side(Vec<Plate>);

impl Side {
    /// From the inside out.
    #[must_use]
    pub const fn new(plates: Vec<Plate>) -> Self {
        Self(plates)
    }

    /// From the inside out.
    #[must_use]
    pub fn plates(&self) -> &[Plate] {
        &self.0
    }

    /// What one side weighs, without its collar.
    #[must_use]
    pub fn mass(&self) -> Mass {
        self.0.iter().fold(Mass::ZERO, |all, plate| all + plate.mass)
    }

    /// How many plates both have in common from the inside: these can stay when one becomes the other.
    #[must_use]
    pub fn in_common(&self, other: &Self) -> usize {
        self.0.iter().zip(&other.0).take_while(|(a, b)| a == b).count()
    }
}

/// A bar with the same plates on both sides.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Loaded {
    /// Which bar.
    pub bar: BarNo,
    /// Each side.
    pub side: Side,
}
