//! Which plates make a load, kept from one plan to the next: working it out takes far longer than planning.

use std::collections::BTreeMap;

use turnabout_protocol::ids::StationId;
use turnabout_protocol::load::Load as Wanted;
use turnabout_protocol::units::Mass;

use crate::floor::gear_now;
use crate::floor::state::State;
use crate::loading::bar::{BarNo, BarSet, Finder, Free, Loaded, Starts};
use crate::loading::gear::Gear;
use crate::timetable::instance::{Load, StationKind};

/// The plates of loads, by station.
///
/// All plates of a station or its tree are taken to be there: the card of a load is cut from what is free when its set
/// is next, and a plan minutes ahead cannot know that.
#[derive(Debug, Default)]
pub struct Cuts(BTreeMap<StationId, Cut>);

/// Loads that are kept of one station; past that it begins anew.
const MOST_KEPT: usize = 1_000;

#[derive(Debug)]
struct Cut {
    gear: Gear,
    set: BarSet,
    finders: BTreeMap<Starts, Finder>,
    loads: BTreeMap<(Starts, Mass), Option<Vec<u32>>>,
}

/// What is set at a station. Dumbbells are taken, belts hung and machines without a stack found as they are: that is
/// part of getting in.
pub(super) const fn kind(gear: &Gear) -> StationKind {
    match gear {
        Gear::Bar(_) => StationKind::Bar,
        Gear::Stack(_) | Gear::Numbered(_) => StationKind::Stack,
        Gear::Dumbbells(_) | Gear::Belt(_) | Gear::Plain => StationKind::Plain,
    }
}

impl Cuts {
    /// A load wanted at a station for lifts that begin so, as the planner counts it; nothing where there is nothing to
    /// set or no plates make it. What weighs as much already stays as it is.
    pub(super) fn wanted(
        &mut self,
        state: &State,
        station: StationId,
        starts: Starts,
        load: Wanted,
    ) -> Option<Load> {
        match (kind(&state.floor.stations.get(&station)?.gear), load) {
            (StationKind::Plain, _) | (StationKind::Bar, Wanted::Pin { .. }) => None,
            (StationKind::Stack, Wanted::Mass(label)) => Some(Load::Label(grams(label))),
            // A stack has numbers or masses, never both: the number alone tells pins apart.
            (StationKind::Stack, Wanted::Pin { pin }) => Some(Load::Label(pin.into())),
            (StationKind::Bar, Wanted::Mass(total)) => {
                let now = state.stations.get(&station);
                let on = now.filter(|now| now.load == Some(load)).and_then(|now| now.plates.as_ref());
                match on.filter(|on| gear_now::begins(on, starts)) {
                    Some(on) => Some(Load::Plates(side(on))),
                    None => self.plates(state, station, starts, total).map(Load::Plates),
                }
            }
        }
    }

    /// What is on the gear of a station now, as far as anybody has said.
    pub(super) fn on(&mut self, state: &State, station: StationId) -> Option<Load> {
        let now = state.stations.get(&station)?;
        match (kind(&state.floor.stations.get(&station)?.gear), &now.plates) {
            (StationKind::Bar, Some(on)) => Some(Load::Plates(side(on))),
            (StationKind::Bar | StationKind::Stack, _) => {
                self.wanted(state, station, Starts::Racked, now.load?)
            }
            (StationKind::Plain, _) => None,
        }
    }

    fn plates(&mut self, state: &State, station: StationId, starts: Starts, total: Mass) -> Option<Vec<u32>> {
        let gear = &state.floor.stations.get(&station)?.gear;
        let Gear::Bar(bar) = gear else { return None };
        if self.0.get(&station).is_none_or(|cut| cut.gear != *gear || cut.loads.len() >= MOST_KEPT) {
            let (set, finders, loads) = (bar.set()?, BTreeMap::new(), BTreeMap::new());
            self.0.insert(station, Cut { gear: gear.clone(), set, finders, loads });
        }
        let Cut { set, finders, loads, .. } = self.0.get_mut(&station)?;
        let cut = || {
            let free = Free::all(set.inventory());
            let finder = finders.entry(starts).or_insert_with(|| Finder::new(set, &free, starts));
            finder.find(total, BarNo(0), None).ok().map(|card| side(&card.loaded))
        };
        loads.entry((starts, total)).or_insert_with(cut).clone()
    }
}

/// The plates of one side from the inside out, in grams.
fn side(loaded: &Loaded) -> Vec<u32> {
    loaded.side.plates().iter().map(|plate| grams(plate.mass).max(1)).collect()
}

/// To the nearest gram: a plan tells loads apart, it does not weigh them.
fn grams(mass: Mass) -> u32 {
    const NG: i64 = 1_000_000_000;
    u32::try_from(mass.nanograms().saturating_add(NG / 2).div_euclid(NG).max(0)).unwrap_or(u32::MAX)
}
