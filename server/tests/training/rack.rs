//! Simple gear: a list of loads.

use turnabout_protocol::next::{PerMille, Proposal, SetTo};
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_server::training::loads::{Direction, Loads};
use turnabout_server::training::next::Ground;
use turnabout_server::training::next::policy::Policy;

/// Loads in ascending order.
#[derive(Clone, Debug)]
pub(crate) struct Rack {
    pub(crate) loads: Vec<Mass>,
    pub(crate) unit: MassUnit,
    pub(crate) direction: Direction,
}

impl Loads for Rack {
    fn at_most(&self, mass: Mass) -> Option<Mass> {
        self.loads.iter().copied().rfind(|load| *load <= mass)
    }

    fn at_least(&self, mass: Mass) -> Option<Mass> {
        self.loads.iter().copied().find(|load| *load >= mass)
    }

    fn unit(&self) -> MassUnit {
        self.unit
    }

    fn direction(&self) -> Direction {
        self.direction
    }
}

pub(crate) const fn g(grams: i64) -> Mass {
    Mass::from_grams(grams)
}

pub(crate) fn kg(text: &str) -> Mass {
    mass(&format!("{text} kg"))
}

pub(crate) fn mass(text: &str) -> Mass {
    text.parse::<turnabout_protocol::units::Stamped>().expect("a mass").mass
}

/// From the first load in equal steps, all in grams.
pub(crate) fn steps(first: i64, step: i64, most: i64) -> Rack {
    let loads = (0..).map(|n| first + n * step).take_while(|load| *load <= most).map(g).collect();
    Rack { loads, unit: MassUnit::Kg, direction: Direction::Resists }
}

/// A bar of 20 kg with plates down to 1.25 kg a side.
pub(crate) fn bar() -> Rack {
    steps(20_000, 2_500, 300_000)
}

pub(crate) fn assisting(rack: Rack) -> Rack {
    Rack { direction: Direction::Assists, ..rack }
}

pub(crate) const POLICY: Policy = Policy {
    cap: PerMille(100),
    reps_instead: true,
    ask_again: PerMille(200),
    away_days: 21,
    away_less: PerMille(100),
};

pub(crate) fn ground(rack: &Rack) -> Ground<'_> {
    Ground { loads: rack, policy: &POLICY, one_rm: None }
}

pub(crate) fn load_of(proposal: Proposal) -> Mass {
    match proposal.set {
        SetTo::Mass { load } => load,
        SetTo::Pin { .. } => panic!("a pin where a load was expected"),
    }
}
