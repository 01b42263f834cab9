//! What can be set: the loads of a station's gear, or equal steps up and down from a load.

use turnabout_protocol::units::{Mass, MassUnit};

use crate::loading::gear::Gear;
use crate::training::loads::Loads;

/// What can be set.
#[derive(Clone, Debug)]
pub(super) enum Ladder {
    /// A station's gear.
    Gear(Gear),
    /// From the least load in equal steps.
    Steps {
        /// Above zero.
        least: Mass,
        /// Above zero.
        step: Mass,
        /// What both are stamped in.
        unit: MassUnit,
    },
}

impl Ladder {
    /// Steps that meet `load`, which is above zero: what was lifted could be set.
    pub(super) fn steps(load: Mass, step: Mass, unit: MassUnit) -> Self {
        let over = load.nanograms() % step.nanograms();
        // No load at all is none to train with.
        let least = if over == 0 { step } else { Mass::from_nanograms(over) };
        Self::Steps { least, step, unit }
    }

    /// The unit of what is proposed.
    pub(super) const fn stamped(&self) -> MassUnit {
        match self {
            Self::Gear(gear) => gear.unit(),
            Self::Steps { unit, .. } => *unit,
        }
    }
}

impl Loads for Ladder {
    fn at_most(&self, mass: Mass) -> Option<Mass> {
        match self {
            Self::Gear(gear) => gear.nearest_at_most(mass),
            Self::Steps { least, step, .. } if mass >= *least => {
                let steps = (mass - *least).nanograms() / step.nanograms();
                step.times(steps).map(|above| *least + above)
            }
            Self::Steps { .. } => None,
        }
    }

    fn at_least(&self, mass: Mass) -> Option<Mass> {
        match self {
            Self::Gear(gear) => gear.nearest_at_least(mass),
            Self::Steps { step, least, .. } => {
                let below = self.at_most(mass);
                let next = below.map_or(*least, |below| if below == mass { below } else { below + *step });
                (next <= Mass::MAX).then_some(next)
            }
        }
    }

    fn unit(&self) -> MassUnit {
        self.stamped()
    }
}
