//! What sets the load at a station, and which loads it can be set to.

use serde::{Deserialize, Serialize};
use turnabout_protocol::card::GearKind;
use turnabout_protocol::units::{Mass, MassUnit};

use super::bar::BarNo;

mod barbell;
mod sums;

pub use barbell::{Bar, Ends, OneBar, Plates};

/// The gear of one station.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Gear {
    /// A choice of bars with collars and plates.
    Bar(Bar),
    /// A stack with a pin.
    Stack(Stack),
    /// Nothing to set.
    Plain,
}

/// A stack of equal steps.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Stack {
    /// The unit of its labels.
    pub unit: MassUnit,
    /// The lightest label.
    pub first: Mass,
    /// From one label to the next; above zero.
    pub step: Mass,
    /// How many labels there are; at least one.
    pub labels: u16,
}

impl Gear {
    /// What kind of gear it is.
    #[must_use]
    pub const fn kind(&self) -> GearKind {
        match self {
            Self::Bar(_) => GearKind::Bar,
            Self::Stack(_) => GearKind::Stack,
            Self::Plain => GearKind::Plain,
        }
    }

    /// The unit its plates or labels are stamped in.
    #[must_use]
    pub const fn unit(&self) -> MassUnit {
        match self {
            Self::Bar(bar) => bar.unit,
            Self::Stack(stack) => stack.unit,
            Self::Plain => MassUnit::Kg,
        }
    }

    /// The lightest load it can be set to; nothing where there is nothing to set.
    #[must_use]
    pub fn lightest(&self) -> Option<Mass> {
        match self {
            Self::Bar(bar) => Some(bar.lightest()),
            Self::Stack(stack) => Some(stack.first),
            Self::Plain => None,
        }
    }

    /// What there is on it when nobody has put anything on: the usual bar with its collars. Nothing where only
    /// the last to use it knows.
    #[must_use]
    pub fn unloaded(&self) -> Option<Mass> {
        match self {
            Self::Bar(bar) => Some(bar.empty()),
            Self::Stack(_) | Self::Plain => None,
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

    /// The next lighter load that can be put on; nothing where there is none.
    #[must_use]
    pub fn lighter_than(&self, load: Mass) -> Option<Mass> {
        self.nearest_at_most(load - NANOGRAM)
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
            Self::Plain => Vec::new(),
        }
    }
}

/// Loads that are looked at on one bar. Plates in whole eighths of a kilogram make fewer as long as one side
/// holds less than a tonne, and no bar holds that; a floor file whose plates make as many is refused.
pub const MOST_LOADS: usize = 8_000;

/// Less than any two loads differ by.
const NANOGRAM: Mass = Mass::from_nanograms(1);

impl Stack {
    fn loads_up_to(&self, most: Mass) -> Vec<Mass> {
        let labels = (0..i64::from(self.labels)).map_while(|n| Some(self.first + self.step.times(n)?));
        labels.take_while(|label| *label <= most).collect()
    }
}

#[cfg(test)]
mod tests;
