//! Why a load cannot be put on, and what is nearest.

use std::fmt;

use turnabout_protocol::units::{Mass, MassUnit, Stamped};

use super::bars::BarNo;

/// A load that can be put on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Standing {
    /// Bar, collars and plates.
    pub total: Mass,
    /// On which bar.
    pub bar: BarNo,
}

/// The nearest loads that can be put on instead.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Nearest {
    /// The heaviest that is lighter; nothing where there is none.
    pub below: Option<Standing>,
    /// The lightest that is heavier; nothing where there is none.
    pub above: Option<Standing>,
}

/// What stands in the way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Why {
    /// It is lighter than the empty bar with its collars, and no lighter bar of the choice makes it. What
    /// goes as light as that are dumbbells.
    BelowTheBar {
        /// The wanted bar with its collars.
        empty: Mass,
    },
    /// No pair of plates is free.
    NoPlates,
    /// The bar is a fixed one of another mass.
    FixedBar,
    /// The free plates do not make it.
    NoPlatesMakeIt,
    /// It is to be pulled from the floor, and only without full plates can it be made.
    NeedsFullPlates,
    /// The plates that make it are longer than the sleeve.
    SleeveFull {
        /// Millimetres for plates on one side.
        length_mm: u16,
    },
    /// The bar is rated for less.
    AboveRating {
        /// The most that it may carry, itself included.
        rated: Mass,
    },
}

/// A load that cannot be put on exactly.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, thiserror::Error)]
pub struct NotBuilt {
    /// What was asked for.
    pub target: Mass,
    /// The unit of plates and bars.
    pub unit: MassUnit,
    /// What stands in the way.
    pub why: Why,
    /// What is nearest.
    pub nearest: Nearest,
}

/// Why there is no card.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, thiserror::Error)]
pub enum LoadError {
    /// No load at all: zero, negative, or above any.
    #[error("target: {given} is outside {least} to {most}")]
    Target {
        /// What was asked for.
        given: Stamped,
        /// The least that can be put on.
        least: Stamped,
        /// The most that can be stated.
        most: Stamped,
    },
    /// No such bar in the choice.
    #[error("bar: number {} is outside 0 to {last}", .given.0)]
    Bar {
        /// What was asked for.
        given: BarNo,
        /// The last there is.
        last: u8,
    },
    /// It cannot be put on.
    #[error(transparent)]
    NotBuilt(#[from] NotBuilt),
}

impl fmt::Display for NotBuilt {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let stamped = |mass| Stamped { mass, unit: self.unit };
        write!(f, "{} cannot be put on: ", stamped(self.target))?;
        match self.why {
            Why::BelowTheBar { empty } => write!(f, "the bar with its collars is {}", stamped(empty))?,
            Why::NoPlates => f.write_str("no pair of plates is free")?,
            Why::FixedBar => f.write_str("the bar takes no plates")?,
            Why::NoPlatesMakeIt => f.write_str("the free plates do not make it")?,
            Why::NeedsFullPlates => f.write_str("a pull from the floor needs full plates innermost")?,
            Why::SleeveFull { length_mm } => write!(f, "a sleeve holds {length_mm} mm of plates")?,
            Why::AboveRating { rated } => write!(f, "the bar is rated for {}", stamped(rated))?,
        }
        match (self.nearest.below, self.nearest.above) {
            (Some(a), Some(b)) => write!(f, "; nearest: {} and {}", stamped(a.total), stamped(b.total)),
            (Some(one), None) | (None, Some(one)) => write!(f, "; nearest: {}", stamped(one.total)),
            (None, None) => Ok(()),
        }
    }
}
