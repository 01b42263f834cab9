//! A mass in an answer: as it is read, and exactly.

use std::fmt;

use schemars::JsonSchema;
use serde::Serialize;
use turnabout_protocol::units::{Mass, MassUnit, Stamped};

/// A mass in an answer.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Amount {
    /// The number in `unit`, with two decimals at most.
    pub value: f64,
    /// Its unit.
    pub unit: MassUnit,
    /// The same in whole nanograms, exact: one pound is 453,592,370,000 of them.
    pub ng: Mass,
}

impl Amount {
    /// A mass, read in a unit.
    #[must_use]
    pub fn new(mass: Mass, unit: MassUnit) -> Self {
        let value = mass.in_unit(unit).parse().expect("a mass reads as a plain decimal number");
        Self { value, unit, ng: mass }
    }

    /// The same in the other unit. It is converted, so it is said with "about".
    #[must_use]
    pub fn in_the_other_unit(self) -> Self {
        let other = match self.unit {
            MassUnit::Kg => MassUnit::Lb,
            MassUnit::Lb => MassUnit::Kg,
        };
        Self::new(self.ng, other)
    }

    /// The number alone, as it stands on a plate.
    #[must_use]
    pub fn number(self) -> String {
        self.ng.in_unit(self.unit)
    }
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        Stamped { mass: self.ng, unit: self.unit }.fmt(f)
    }
}

/// The numbers alone, one after the other; `none` where there are none.
pub(super) fn numbers(amounts: &[Amount], none: &str) -> String {
    if amounts.is_empty() {
        return none.to_owned();
    }
    amounts.iter().map(|amount| amount.number()).collect::<Vec<_>>().join(", ")
}
