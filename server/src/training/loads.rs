//! The loads of some gear, as the rules of this room ask for them.

use turnabout_protocol::units::{Mass, MassUnit};

/// Which way is harder.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Direction {
    /// More mass is harder: bars, stacks, dumbbells, mass added to the body.
    #[default]
    Resists,
    /// More mass is easier: it carries part of the body.
    Assists,
}

/// What some gear can be set to. The rules of this room never propose anything else.
pub trait Loads {
    /// The heaviest load not above this one.
    fn at_most(&self, mass: Mass) -> Option<Mass>;

    /// The lightest load not below this one.
    fn at_least(&self, mass: Mass) -> Option<Mass>;

    /// The unit its plates or labels are stamped in.
    fn unit(&self) -> MassUnit;

    /// Which way is harder.
    fn direction(&self) -> Direction {
        Direction::Resists
    }

    /// The next heavier load.
    fn next_above(&self, mass: Mass) -> Option<Mass> {
        self.at_least(mass + NANOGRAM)
    }

    /// The next lighter load.
    fn next_below(&self, mass: Mass) -> Option<Mass> {
        self.at_most(mass - NANOGRAM)
    }
}

/// Less than any two loads of any gear differ by.
pub(super) const NANOGRAM: Mass = Mass::from_nanograms(1);

/// Whether the first load is harder than the second.
pub(crate) fn harder(loads: &dyn Loads, one: Mass, other: Mass) -> bool {
    match loads.direction() {
        Direction::Resists => one > other,
        Direction::Assists => one < other,
    }
}

/// So much harder than a load, which need not be a load of the gear.
pub(super) fn harder_by(loads: &dyn Loads, load: Mass, amount: Mass) -> Mass {
    match loads.direction() {
        Direction::Resists => (load + amount).min(Mass::MAX),
        Direction::Assists => (load - amount).max(Mass::ZERO),
    }
}

/// So much easier than a load, which need not be a load of the gear.
pub(super) fn easier_by(loads: &dyn Loads, load: Mass, amount: Mass) -> Mass {
    match loads.direction() {
        Direction::Resists => (load - amount).max(Mass::ZERO),
        Direction::Assists => (load + amount).min(Mass::MAX),
    }
}

/// This load or the nearest easier one of the gear.
pub(crate) fn at_hardest(loads: &dyn Loads, load: Mass) -> Option<Mass> {
    match loads.direction() {
        Direction::Resists => loads.at_most(load),
        Direction::Assists => loads.at_least(load),
    }
}

/// The next harder load of the gear.
pub(crate) fn next_harder(loads: &dyn Loads, load: Mass) -> Option<Mass> {
    match loads.direction() {
        Direction::Resists => loads.next_above(load),
        Direction::Assists => loads.next_below(load),
    }
}

/// The next easier load of the gear.
pub(crate) fn next_easier(loads: &dyn Loads, load: Mass) -> Option<Mass> {
    match loads.direction() {
        Direction::Resists => loads.next_below(load),
        Direction::Assists => loads.next_above(load),
    }
}

/// The easiest load of the gear.
pub(crate) fn easiest(loads: &dyn Loads) -> Option<Mass> {
    match loads.direction() {
        Direction::Resists => loads.at_least(Mass::ZERO),
        Direction::Assists => loads.at_most(Mass::MAX),
    }
}
