//! Every load of some gear, worked out once for many questions.

use turnabout_protocol::units::{Mass, MassUnit};

use super::Gear;
use crate::training::loads::{Direction, Loads};

/// Every load of some gear, in ascending order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ladder {
    loads: Vec<Mass>,
    unit: MassUnit,
    direction: Direction,
}

impl Ladder {
    /// Of this gear.
    #[must_use]
    pub fn of(gear: &Gear) -> Self {
        Self { loads: gear.loads_up_to(Mass::MAX), unit: gear.unit(), direction: gear.direction() }
    }

    /// Whether exactly this load can be put on.
    #[must_use]
    pub fn holds(&self, load: Mass) -> bool {
        self.loads.binary_search(&load).is_ok()
    }
}

impl Loads for Ladder {
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
