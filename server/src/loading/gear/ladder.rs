//! Every load of some gear, worked out once for many questions.

use turnabout_protocol::load::Load;
use turnabout_protocol::units::{Mass, MassUnit};

use super::Gear;
use crate::training::loads::{Direction, Loads};
use crate::training::pins::Pins;
use crate::training::scale::Scale;

/// Every load of some gear.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Ladder {
    /// Masses.
    Masses(Masses),
    /// Pins of a stack whose labels are mere numbers.
    Pins(Pins),
}

/// Every mass of some gear, in ascending order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Masses {
    loads: Vec<Mass>,
    unit: MassUnit,
    direction: Direction,
}

impl Ladder {
    /// Of this gear.
    #[must_use]
    pub fn of(gear: &Gear) -> Self {
        match gear.scale() {
            Scale::Pins(pins) => Self::Pins(pins),
            Scale::Loads(_) => Self::Masses(Masses {
                loads: gear.loads_up_to(Mass::MAX),
                unit: gear.unit(),
                direction: gear.direction(),
            }),
        }
    }

    /// The same for the rules that go by it.
    #[must_use]
    pub fn scale(&self) -> Scale<'_> {
        match self {
            Self::Masses(masses) => Scale::Loads(masses),
            Self::Pins(pins) => Scale::Pins(*pins),
        }
    }

    /// Whether exactly this load can be put on.
    #[must_use]
    pub fn holds(&self, load: Load) -> bool {
        match (self, load) {
            (Self::Masses(masses), Load::Mass(mass)) => masses.loads.binary_search(&mass).is_ok(),
            (Self::Pins(pins), Load::Pin { pin }) => pins.has(pin),
            (Self::Masses(_), Load::Pin { .. }) | (Self::Pins(_), Load::Mass(_)) => false,
        }
    }
}

impl Loads for Masses {
    fn at_most(&self, mass: Mass) -> Option<Mass> {
        let above = self.loads.partition_point(|load| *load <= mass);
        above.checked_sub(1).and_then(|last| self.loads.get(last)).copied()
    }

    fn at_least(&self, mass: Mass) -> Option<Mass> {
        self.loads.get(self.loads.partition_point(|load| *load < mass)).copied()
    }

    fn unit(&self) -> MassUnit {
        self.unit
    }

    fn direction(&self) -> Direction {
        self.direction
    }
}
