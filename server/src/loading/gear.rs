//! What sets the load at a station, and which loads it can be set to.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};
use turnabout_protocol::card::GearKind;
use turnabout_protocol::load::Load;
use turnabout_protocol::units::{Mass, MassUnit};

use super::bar::{BarNo, Starts};
use crate::training::loads::{Direction, Loads};
use crate::training::scale::Scale;

mod barbell;
mod belt;
mod dumbbells;
mod ladder;
mod numbered;
mod stack;
mod sums;

pub use barbell::{Bar, Ends, OneBar, Plates};
pub use belt::{Belt, Hung};
pub use dumbbells::{Dumbbells, Pairs};
pub use ladder::Ladder;
pub use numbered::Numbered;
pub use stack::{AddOn, PinCard, Pins, Ratio, Stack};

/// The gear of one station.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Gear {
    /// A choice of bars with collars and plates.
    Bar(Bar),
    /// A stack with a pin.
    Stack(Stack),
    /// A stack with a pin whose labels are mere numbers.
    Numbered(Numbered),
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
            Self::Stack(_) | Self::Numbered(_) => GearKind::Stack,
            Self::Dumbbells(_) => GearKind::Dumbbells,
            Self::Belt(_) => GearKind::Belt,
            Self::Plain => GearKind::Plain,
        }
    }

    /// The unit its plates or labels are stamped in; the usual one where nothing is.
    #[must_use]
    pub const fn unit(&self) -> MassUnit {
        match self {
            Self::Bar(bar) => bar.unit,
            Self::Stack(stack) => stack.unit,
            Self::Dumbbells(rack) => rack.unit,
            Self::Belt(belt) => belt.unit,
            Self::Numbered(_) | Self::Plain => MassUnit::Kg,
        }
    }

    /// Which way is harder.
    #[must_use]
    pub const fn direction(&self) -> Direction {
        match self {
            Self::Stack(stack) if stack.assists => Direction::Assists,
            Self::Numbered(stack) => stack.pins().direction,
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
            Self::Bar(_)
            | Self::Stack(_)
            | Self::Numbered(_)
            | Self::Dumbbells(_)
            | Self::Belt(_)
            | Self::Plain => Cow::Borrowed(self),
        }
    }

    /// What its loads are.
    #[must_use]
    pub fn scale(&self) -> Scale<'_> {
        match self {
            Self::Numbered(stack) => Scale::Pins(stack.pins()),
            Self::Bar(_) | Self::Stack(_) | Self::Dumbbells(_) | Self::Belt(_) | Self::Plain => {
                Scale::Loads(self)
            }
        }
    }

    /// The easiest load it can be set to: the lightest, and where the gear carries part of the body, the
    /// heaviest. Nothing where there is nothing to set.
    #[must_use]
    pub fn lightest(&self) -> Option<Load> {
        let mass = match self {
            Self::Bar(bar) => bar.lightest(),
            Self::Stack(stack) if stack.assists => self.nearest_at_most(Mass::MAX),
            Self::Stack(stack) => stack.lightest(),
            Self::Numbered(_) => return self.scale().easiest(),
            Self::Dumbbells(rack) => rack.lightest(),
            Self::Belt(_) => Some(Mass::ZERO),
            Self::Plain => None,
        };
        mass.map(Load::Mass)
    }

    /// What there is on it when nobody has put anything on: the usual bar with its collars. Nothing where only
    /// the last to use it knows.
    #[must_use]
    pub fn unloaded(&self) -> Option<Mass> {
        match self {
            Self::Bar(bar) => Some(bar.empty()),
            Self::Stack(_) | Self::Numbered(_) | Self::Dumbbells(_) | Self::Belt(_) | Self::Plain => None,
        }
    }

    /// Whether exactly this load can be put on.
    #[must_use]
    pub fn can_hold(&self, load: impl Into<Load>) -> bool {
        self.can_hold_all(&[load.into()])
    }

    /// Whether each of these loads can be put on exactly, one after the other. True of no loads at all.
    #[must_use]
    pub fn can_hold_all(&self, loads: &[Load]) -> bool {
        let Some(most) = loads.iter().copied().filter_map(Load::mass).max() else {
            return loads.iter().copied().filter_map(Load::pin).all(|pin| self.has_pin(pin));
        };
        let held = self.loads_up_to(most);
        loads.iter().all(|load| load.mass().is_some_and(|mass| held.binary_search(&mass).is_ok()))
    }

    fn has_pin(&self, pin: u16) -> bool {
        matches!(self.scale(), Scale::Pins(pins) if pins.has(pin))
    }

    /// The next easier load that can be put on: the next lighter, and where the gear carries part of the body,
    /// the next heavier. Nothing where there is none, and of a load of another kind.
    #[must_use]
    pub fn lighter_than(&self, load: impl Into<Load>) -> Option<Load> {
        self.scale().next_easier(load.into())
    }

    /// This load where it can be put on, or the nearest easier one, or else the easiest there is. Nothing where
    /// there is nothing to set, and of a load of another kind: of a pin no mass is made.
    #[must_use]
    pub fn no_harder_than(&self, load: impl Into<Load>) -> Option<Load> {
        let (load, scale) = (load.into(), self.scale());
        scale.at_hardest(load).or_else(|| self.lightest().filter(|_| scale.is_of(load)))
    }

    /// The heaviest mass of this gear that is not above `most`; of numbered labels nothing.
    #[must_use]
    pub fn nearest_at_most(&self, most: Mass) -> Option<Mass> {
        self.loads_up_to(most).last().copied()
    }

    /// The lightest mass of this gear that is not below `least`; nothing where it cannot hold so much, and of
    /// numbered labels.
    #[must_use]
    pub fn nearest_at_least(&self, least: Mass) -> Option<Mass> {
        self.loads_up_to(Mass::MAX).into_iter().find(|load| *load >= least)
    }

    /// Every mass that can be put on and is not above `most`, in ascending order; of more than [`MOST_LOADS`]
    /// the lightest. Of a choice of bars: on the usual one, and what is lighter than that on lighter ones. Of
    /// numbered labels none: what they weigh nobody knows.
    #[must_use]
    pub fn loads_up_to(&self, most: Mass) -> Vec<Mass> {
        match self {
            Self::Bar(bar) => bar.loads_for(BarNo(0), most),
            Self::Stack(stack) => stack.loads_up_to(most),
            Self::Dumbbells(rack) => rack.loads_up_to(most),
            Self::Belt(belt) => belt.loads_up_to(most),
            Self::Numbered(_) | Self::Plain => Vec::new(),
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
