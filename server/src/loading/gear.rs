//! What sets the load at a station, and which loads it can be set to.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};
use turnabout_protocol::card::GearKind;
use turnabout_protocol::units::{Mass, MassUnit};

use super::bar::{BarNo, Starts};
use crate::training::loads::{Direction, Loads};

mod barbell;
mod belt;
mod dumbbells;
mod ladder;
mod stack;
mod sums;

pub use barbell::{Bar, Ends, OneBar, Plates};
pub use belt::{Belt, Hung};
pub use dumbbells::{Dumbbells, Pairs};
pub use ladder::Ladder;
pub use stack::{AddOn, PinCard, Pins, Ratio, Stack};

/// The gear of one station.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Gear {
    /// A choice of bars with collars and plates.
    Bar(Bar),
    /// A stack with a pin.
    Stack(Stack),
    /// A rack of dumbbells.
    Dumbbells(Dumbbells),
    /// A belt that plates hang on.
    Belt(Belt),
    /// Nothing to set.
    Plain,
}

impl Gear {
    /// What kind of gear it is.
    #[must_use]
    pub const fn kind(&self) -> GearKind {
        match self {
            Self::Bar(_) => GearKind::Bar,
            Self::Stack(_) => GearKind::Stack,
            Self::Dumbbells(_) => GearKind::Dumbbells,
            Self::Belt(_) => GearKind::Belt,
            Self::Plain => GearKind::Plain,
        }
    }

    /// The unit its plates or labels are stamped in.
    #[must_use]
    pub const fn unit(&self) -> MassUnit {
        match self {
            Self::Bar(bar) => bar.unit,
            Self::Stack(stack) => stack.unit,
            Self::Dumbbells(rack) => rack.unit,
            Self::Belt(belt) => belt.unit,
            Self::Plain => MassUnit::Kg,
        }
    }

    /// Which way is harder.
    #[must_use]
    pub const fn direction(&self) -> Direction {
        match self {
            Self::Stack(stack) if stack.assists => Direction::Assists,
            Self::Bar(_) | Self::Stack(_) | Self::Dumbbells(_) | Self::Belt(_) | Self::Plain => {
                Direction::Resists
            }
        }
    }

    /// The same gear asked for lifts that begin so: its loads are those that such a lift can have.
    #[must_use]
    pub fn starting(&self, starts: Starts) -> Cow<'_, Self> {
        match self {
            Self::Bar(bar) if bar.starts != starts => Cow::Owned(Self::Bar(Bar { starts, ..bar.clone() })),
            Self::Bar(_) | Self::Stack(_) | Self::Dumbbells(_) | Self::Belt(_) | Self::Plain => {
                Cow::Borrowed(self)
            }
        }
    }

    /// The easiest load it can be set to: the lightest, and where the gear carries part of the body, the
    /// heaviest. Nothing where there is nothing to set.
    #[must_use]
    pub fn lightest(&self) -> Option<Mass> {
        match self {
            Self::Bar(bar) => bar.lightest(),
            Self::Stack(stack) if stack.assists => self.nearest_at_most(Mass::MAX),
            Self::Stack(stack) => stack.lightest(),
            Self::Dumbbells(rack) => rack.lightest(),
            Self::Belt(_) => Some(Mass::ZERO),
            Self::Plain => None,
        }
    }

    /// What there is on it when nobody has put anything on: the usual bar with its collars. Nothing where only
    /// the last to use it knows.
    #[must_use]
    pub fn unloaded(&self) -> Option<Mass> {
        match self {
            Self::Bar(bar) => Some(bar.empty()),
            Self::Stack(_) | Self::Dumbbells(_) | Self::Belt(_) | Self::Plain => None,
        }
    }

    /// Whether exactly this load can be put on.
    #[must_use]
    pub fn can_hold(&self, load: Mass) -> bool {
        self.can_hold_all(&[load])
    }

    /// Whether each of these loads can be put on exactly, one after the other. True of no loads at all.
    #[must_use]
    pub fn can_hold_all(&self, loads: &[Mass]) -> bool {
        let Some(most) = loads.iter().copied().max() else { return true };
        let held = self.loads_up_to(most);
        loads.iter().all(|load| held.binary_search(load).is_ok())
    }

    /// The next easier load that can be put on: the next lighter, and where the gear carries part of the body,
    /// the next heavier. Nothing where there is none.
    #[must_use]
    pub fn lighter_than(&self, load: Mass) -> Option<Mass> {
        match self.direction() {
            Direction::Resists => self.nearest_at_most(load - NANOGRAM),
            Direction::Assists => self.nearest_at_least(load + NANOGRAM),
        }
    }

    /// This load where it can be put on, or the nearest easier one, or else the easiest there is. Nothing where
    /// there is nothing to set.
    #[must_use]
    pub fn no_harder_than(&self, load: Mass) -> Option<Mass> {
        let easier = match self.direction() {
            Direction::Resists => self.nearest_at_most(load),
            Direction::Assists => self.nearest_at_least(load),
        };
        easier.or_else(|| self.lightest())
    }

    /// The heaviest load of this gear that is not above `most`.
    #[must_use]
    pub fn nearest_at_most(&self, most: Mass) -> Option<Mass> {
        self.loads_up_to(most).last().copied()
    }

    /// The lightest load of this gear that is not below `least`; nothing where it cannot hold so much.
    #[must_use]
    pub fn nearest_at_least(&self, least: Mass) -> Option<Mass> {
        self.loads_up_to(Mass::MAX).into_iter().find(|load| *load >= least)
    }

    /// Every load that can be put on and is not above `most`, in ascending order; of more than [`MOST_LOADS`]
    /// the lightest. Of a choice of bars: on the usual one, and what is lighter than that on lighter ones.
    #[must_use]
    pub fn loads_up_to(&self, most: Mass) -> Vec<Mass> {
        match self {
            Self::Bar(bar) => bar.loads_for(BarNo(0), most),
            Self::Stack(stack) => stack.loads_up_to(most),
            Self::Dumbbells(rack) => rack.loads_up_to(most),
            Self::Belt(belt) => belt.loads_up_to(most),
            Self::Plain => Vec::new(),
        }
    }
}

impl Loads for Gear {
    fn at_most(&self, mass: Mass) -> Option<Mass> {
        self.nearest_at_most(mass)
    }

    fn at_least(&self, mass: Mass) -> Option<Mass> {
        self.nearest_at_least(mass)
    }

    fn unit(&self) -> MassUnit {
        self.unit()
    }

    fn direction(&self) -> Direction {
        self.direction()
    }
}

/// Loads that are looked at on one bar. Plates in whole eighths of a kilogram make fewer as long as one side
/// holds less than a tonne, and no bar holds that; a floor file whose plates make as many is refused.
pub const MOST_LOADS: usize = 8_000;

/// Less than any two loads differ by.
const NANOGRAM: Mass = Mass::from_nanograms(1);

#[cfg(test)]
mod tests;
