//! The bars to choose from.

use serde::{Deserialize, Serialize};
use turnabout_protocol::units::{Mass, MassUnit, Stamped};

use super::plates::Inventory;
use super::side::Loaded;

/// Bars of one choice: a station has a handful, a rack of fixed bars about a dozen.
pub const MOST_BARS: usize = 32;

/// A bar's place in [`BarSet::bars`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct BarNo(pub u8);

/// One bar, straight or shaped.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Bar {
    /// The bar alone; of a fixed bar all of it.
    pub mass: Mass,
    /// What goes on it.
    pub takes: Takes,
}

/// What goes on a bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Takes {
    /// Nothing: its weights are fixed.
    Nothing,
    /// Plates, held by collars.
    Plates(Sleeves),
}

/// The ends of a bar that takes plates.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Sleeves {
    /// One collar; zero where light clips do not count.
    pub collar: Mass,
    /// Millimetres for plates on one side; absent where nobody has measured it.
    pub length_mm: Option<u16>,
    /// The most that the bar is rated for: itself, collars and plates.
    pub rated: Option<Mass>,
}

/// A choice of bars and the plates for them, all in one unit.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct BarSet {
    inventory: Inventory,
    bars: Vec<Bar>,
}

/// Why bars cannot be a choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum BarSetError {
    /// None, or more than [`MOST_BARS`].
    #[error("bars: {0} of them, 1 to {MOST_BARS} are allowed")]
    Count(usize),
    /// A bar without mass, or above [`Mass::MAX`] with its collars and every plate.
    #[error("bars: {0} is not above zero, or above 9000 kg with collars and all plates")]
    Bar(Stamped),
    /// A collar of negative mass.
    #[error("collar: {0} is below zero")]
    Collar(Stamped),
}

impl BarSet {
    /// Bars in the order in which people number them. Their masses are as stamped in the inventory's unit.
    ///
    /// # Errors
    /// See [`BarSetError`].
    pub fn new(inventory: Inventory, bars: Vec<Bar>) -> Result<Self, BarSetError> {
        if bars.is_empty() || bars.len() > MOST_BARS {
            return Err(BarSetError::Count(bars.len()));
        }
        let unit = inventory.unit();
        let stamped = |mass| Stamped { mass, unit };
        let kinds = inventory.kinds().iter();
        let plates = kinds.filter_map(|kind| kind.plate.mass.times(i64::from(kind.count)));
        let plates = plates.fold(Mass::ZERO, |all, kind| all + kind);
        for bar in &bars {
            if bar.collar() < Mass::ZERO {
                return Err(BarSetError::Collar(stamped(bar.collar())));
            }
            if bar.mass <= Mass::ZERO || bar.empty() + plates > Mass::MAX {
                return Err(BarSetError::Bar(stamped(bar.mass)));
            }
        }
        Ok(Self { inventory, bars })
    }

    /// The plates.
    #[must_use]
    pub const fn inventory(&self) -> &Inventory {
        &self.inventory
    }

    /// The bars.
    #[must_use]
    pub fn bars(&self) -> &[Bar] {
        &self.bars
    }

    /// One of the bars.
    #[must_use]
    pub fn bar(&self, bar: BarNo) -> Option<&Bar> {
        self.bars.get(usize::from(bar.0))
    }

    /// The unit of all of it.
    #[must_use]
    pub const fn unit(&self) -> MassUnit {
        self.inventory.unit()
    }

    /// Bar, collars and the plates of both sides; nothing where there is no such bar.
    #[must_use]
    pub fn total(&self, loaded: &Loaded) -> Option<Mass> {
        let side = loaded.side.mass();
        Some(self.bar(loaded.bar)?.empty() + side + side)
    }
}

impl Bar {
    /// The bar with its two collars and no plates.
    #[must_use]
    pub fn empty(&self) -> Mass {
        self.mass + self.collar() + self.collar()
    }

    /// One collar; zero where there is none or it does not count.
    #[must_use]
    pub const fn collar(&self) -> Mass {
        match self.takes {
            Takes::Nothing => Mass::ZERO,
            Takes::Plates(sleeves) => sleeves.collar,
        }
    }

    /// Whether plates go on it.
    #[must_use]
    pub const fn takes_plates(&self) -> bool {
        matches!(self.takes, Takes::Plates(_))
    }
}
