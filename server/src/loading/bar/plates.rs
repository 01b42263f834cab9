//! The plates that there are.

use serde::{Deserialize, Serialize};
use turnabout_protocol::units::{Mass, MassUnit, Stamped};

use super::table::side_sums;
use crate::loading::gear::MOST_LOADS;

/// Kinds of plates in one inventory: more than any set that is sold, and what a floor file may name.
pub const MOST_KINDS: usize = 16;

/// How wide a plate is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Diameter {
    /// Smaller: a bar that lies on it lies too low to be pulled from the floor.
    Small,
    /// Full (450 mm), so that the bar stands at its height on the floor.
    Full,
}

/// One plate, as it is told apart from others: by what is stamped on it and how wide it is.
///
/// The order is by mass, and of equal masses the full one is the greater.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Plate {
    /// What it weighs, as stamped.
    pub mass: Mass,
    /// How wide it is.
    pub diameter: Diameter,
}

impl Plate {
    /// Whether it is of full diameter.
    #[must_use]
    pub fn is_full(self) -> bool {
        self.diameter == Diameter::Full
    }
}

/// So many plates of one kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct PlateKind {
    /// One of them.
    pub plate: Plate,
    /// How many there are, on both sides and on the tree together.
    pub count: u8,
    /// How much of a sleeve one takes, in millimetres; absent where nobody has measured it, and then it is
    /// taken to fit.
    pub thickness_mm: Option<u16>,
}

/// All plates of a station, or of a tree that stations share, in one unit.
///
/// There is one unit for all of it, so plates in kilograms and in pounds cannot meet on a bar.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Inventory {
    unit: MassUnit,
    /// The heaviest first, of equal masses the full one.
    kinds: Vec<PlateKind>,
}

/// Why plates cannot be an inventory.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum InventoryError {
    /// A plate without mass, or with more than any.
    #[error("plates: {given} is outside {least} to {most}")]
    Mass {
        /// What was given.
        given: Stamped,
        /// The least there may be: anything above zero.
        least: Stamped,
        /// The most there may be.
        most: Stamped,
    },
    /// The same mass in the same diameter twice.
    #[error("plates: {0} stands there twice")]
    Twice(Stamped),
    /// More kinds than [`MOST_KINDS`].
    #[error("plates: {0} kinds, at most {MOST_KINDS}")]
    TooManyKinds(usize),
    /// All of it together is above [`Mass::MAX`].
    #[error("plates: together above 9000 kg")]
    TooHeavy,
    /// One side could carry [`MOST_LOADS`] different loads or more.
    #[error("plates: {MOST_LOADS} different loads of one side or more")]
    TooManyLoads,
}

impl Inventory {
    /// Plates in any order, all stamped in `unit`. None at all will do: a bar without plates.
    ///
    /// # Errors
    /// See [`InventoryError`].
    pub fn new(unit: MassUnit, mut kinds: Vec<PlateKind>) -> Result<Self, InventoryError> {
        if kinds.len() > MOST_KINDS {
            return Err(InventoryError::TooManyKinds(kinds.len()));
        }
        let stamped = |mass| Stamped { mass, unit };
        let least = Mass::from_nanograms(1);
        if let Some(wrong) = kinds.iter().find(|kind| !(least..=Mass::MAX).contains(&kind.plate.mass)) {
            let (given, least, most) = (stamped(wrong.plate.mass), stamped(least), stamped(Mass::MAX));
            return Err(InventoryError::Mass { given, least, most });
        }
        kinds.sort_by_key(|kind| std::cmp::Reverse(kind.plate));
        if let Some(pair) = kinds.windows(2).find(|pair| pair[0].plate == pair[1].plate) {
            return Err(InventoryError::Twice(stamped(pair[0].plate.mass)));
        }
        // 16 x 255 x 9,000 kg in nanograms would leave the integer; saturating keeps it above the most.
        let all = kinds.iter().filter_map(|kind| kind.plate.mass.times(i64::from(kind.count)));
        if all.fold(Mass::ZERO, |all, kind| all + kind) > Mass::MAX {
            return Err(InventoryError::TooHeavy);
        }
        let pairs: Vec<_> = kinds.iter().map(|kind| (kind.plate.mass, kind.count / 2)).collect();
        if side_sums(&pairs).is_none() {
            return Err(InventoryError::TooManyLoads);
        }
        Ok(Self { unit, kinds })
    }

    /// The unit that all of it is stamped in.
    #[must_use]
    pub const fn unit(&self) -> MassUnit {
        self.unit
    }

    /// The kinds, the heaviest first, of equal masses the full one.
    #[must_use]
    pub fn kinds(&self) -> &[PlateKind] {
        &self.kinds
    }

    /// Where in [`Inventory::kinds`] a plate stands; nothing where it is none of these.
    #[must_use]
    pub fn position(&self, plate: Plate) -> Option<usize> {
        self.kinds.iter().position(|kind| kind.plate == plate)
    }
}
