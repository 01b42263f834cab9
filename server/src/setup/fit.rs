//! Whether a load can be set at some station of the floor.

use std::collections::BTreeMap;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::units::{Mass, Stamped};

use super::findings::Findings;
use super::problem::Problem;
use super::spot::Said;
use crate::floor::config::Floor;
use crate::loading::gear::Gear;

/// The gear of a floor, with the loads that were found to fit. A programme names few loads many times.
pub(super) struct Fit<'f> {
    gears: Vec<&'f Gear>,
    fits: BTreeMap<(GearKind, Mass), bool>,
}

impl<'f> Fit<'f> {
    pub(super) fn new(floor: &'f Floor) -> Self {
        let mut gears: Vec<&Gear> = Vec::new();
        for station in floor.stations.values() {
            // Three equal benches are searched once.
            if !gears.contains(&&station.gear) {
                gears.push(&station.gear);
            }
        }
        Self { gears, fits: BTreeMap::new() }
    }

    /// Takes down a load that no station with such gear can be set to.
    pub(super) fn check(&mut self, found: &mut Findings<'_>, load: &Said<Stamped>, gear: GearKind) {
        let mass = load.what.mass;
        let of_kind: Vec<&Gear> = self.gears.iter().copied().filter(|g| g.kind() == gear).collect();
        let holds = || of_kind.iter().any(|g| g.can_hold(mass));
        if *self.fits.entry((gear, mass)).or_insert_with(holds) {
            return;
        }
        let stamp = |gear: &Gear, mass| Stamped { mass, unit: gear.unit() };
        let below = of_kind.iter().filter_map(|g| Some(stamp(g, g.nearest_at_most(mass)?)));
        let above = of_kind.iter().filter_map(|g| Some(stamp(g, nearest_at_least(g, mass)?)));
        let (below, above) = (below.max_by_key(|s| s.mass), above.min_by_key(|s| s.mass));
        found.add(&load.spot, Problem::CannotHold { load: load.what, gear, below, above });
    }
}

/// The lightest load of this gear that is not below `least`, by halving: a gear's heaviest load at most x
/// never falls as x grows.
fn nearest_at_least(gear: &Gear, least: Mass) -> Option<Mass> {
    let reaches = |most: i64| gear.nearest_at_most(Mass::from_nanograms(most)).filter(|m| *m >= least);
    let (mut low, mut high) = (least.nanograms(), Mass::MAX.nanograms());
    let mut best = reaches(high)?;
    while low < high {
        let middle = i64::midpoint(low, high);
        match reaches(middle) {
            Some(mass) => {
                best = mass;
                high = mass.nanograms().min(middle);
            }
            None => low = middle + 1,
        }
    }
    Some(best)
}
