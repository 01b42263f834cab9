//! Whether loads can be set at the stations of an exercise.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::ids::{ExerciseId, StationId};
use turnabout_protocol::units::{Mass, MassUnit, Stamped};

use super::findings::Findings;
use super::problem::Problem;
use super::spot::Spot;
use crate::floor::config::Floor;
use crate::loading::bar::Starts;
use crate::loading::gear::Gear;
use crate::training::exercise::Exercise;
use crate::training::loads::Direction;

/// What the gear of a floor can be set to. A programme names few loads many times.
#[derive(Default)]
pub(super) struct Fit {
    /// The different gear of the stations of each exercise, as places in `held`.
    gears: BTreeMap<ExerciseId, BTreeSet<usize>>,
    /// The gear of each station, for lifts out of a rack and for pulls from the floor.
    of_station: BTreeMap<(StationId, Starts), usize>,
    held: Vec<Held>,
}

/// Every load that some gear can be set to.
struct Held {
    unit: MassUnit,
    direction: Direction,
    /// In ascending order.
    loads: Vec<Mass>,
}

impl Fit {
    pub(super) fn new(floor: &Floor) -> Self {
        let mut gears: Vec<Cow<'_, Gear>> = Vec::new();
        let mut of_station = BTreeMap::new();
        let asked = floor.exercises.values().flat_map(|exercise| {
            exercise.stations.iter().map(move |station| (*station, Starts::of(exercise)))
        });
        for (id, starts) in asked {
            let Some(station) = floor.stations.get(&id).filter(|_| !of_station.contains_key(&(id, starts)))
            else {
                continue;
            };
            let asked = station.gear.starting(starts);
            // Three equal benches are searched once.
            let known = gears.iter().position(|gear| *gear == asked);
            of_station.insert((id, starts), known.unwrap_or(gears.len()));
            if known.is_none() {
                gears.push(asked);
            }
        }
        let of_exercise = |exercise: &Exercise| {
            let starts = Starts::of(exercise);
            let places = exercise.stations.iter().filter_map(|station| of_station.get(&(*station, starts)));
            places.copied().collect()
        };
        let held = gears.into_iter().map(|gear| Held {
            unit: gear.unit(),
            direction: gear.direction(),
            loads: gear.loads_up_to(Mass::MAX),
        });
        Self {
            gears: floor.exercises.iter().map(|(id, exercise)| (*id, of_exercise(exercise))).collect(),
            held: held.collect(),
            of_station,
        }
    }

    /// Whether a station can be set to all of these loads for an exercise.
    pub(super) fn holds<'m>(
        &self,
        station: StationId,
        exercise: &Exercise,
        loads: impl IntoIterator<Item = &'m Mass>,
    ) -> bool {
        let held = self.at(station, exercise);
        held.is_some_and(|held| loads.into_iter().all(|load| held.has(*load)))
    }

    fn at(&self, station: StationId, exercise: &Exercise) -> Option<&Held> {
        let place = self.of_station.get(&(station, Starts::of(exercise)))?;
        self.held.get(*place)
    }

    /// The loads of a station on either side of one that it cannot be set to.
    pub(super) fn nearest_at(
        &self,
        station: StationId,
        exercise: &Exercise,
        load: Mass,
    ) -> (Option<Stamped>, Option<Stamped>) {
        let held = self.at(station, exercise);
        (held.and_then(|held| held.below(load)), held.and_then(|held| held.above(load)))
    }

    /// The different gear that an exercise can be done with.
    fn of(&self, exercise: &Exercise) -> impl Iterator<Item = &Held> {
        self.gears.get(&exercise.id).into_iter().flatten().filter_map(|place| self.held.get(*place))
    }

    /// Whether more of a load is easier at the stations of an exercise.
    pub(super) fn helps(&self, exercise: &Exercise) -> bool {
        self.of(exercise).any(|held| held.direction == Direction::Assists)
    }

    /// Takes down a load that no station of the exercise can be set to.
    pub(super) fn check(&self, found: &mut Findings<'_>, spot: &Spot, load: Stamped, exercise: &Exercise) {
        let mass = load.mass;
        if self.of(exercise).any(|held| held.has(mass)) {
            return;
        }
        let below = self.of(exercise).filter_map(|held| held.below(mass)).max_by_key(|s| s.mass);
        let above = self.of(exercise).filter_map(|held| held.above(mass)).min_by_key(|s| s.mass);
        let (gear, exercise) = (exercise.gear, exercise.key.clone());
        found.add(spot, Problem::CannotHold { load, exercise, gear, below, above });
    }

    /// Takes down loads of a whole group that can be set one by one, but not all at one station.
    pub(super) fn check_together(
        &self,
        found: &mut Findings<'_>,
        spot: &Spot,
        exercise: &Exercise,
        loads: &BTreeMap<Mass, Stamped>,
    ) {
        let together = self.of(exercise).any(|held| loads.keys().all(|load| held.has(*load)));
        // A load that cannot be set anywhere has its own mistake.
        let alone = || loads.keys().all(|load| self.of(exercise).any(|held| held.has(*load)));
        if !together && alone() {
            let (exercise, loads) = (exercise.key.clone(), loads.values().copied().collect());
            found.add(spot, Problem::NoCommonStation { exercise, loads });
        }
    }
}

impl Held {
    fn has(&self, load: Mass) -> bool {
        self.loads.binary_search(&load).is_ok()
    }

    /// The heaviest below a load that it cannot be set to.
    fn below(&self, load: Mass) -> Option<Stamped> {
        let above = self.loads.partition_point(|held| *held < load);
        Some(self.stamped(*self.loads.get(above.checked_sub(1)?)?))
    }

    /// The lightest above a load that it cannot be set to.
    fn above(&self, load: Mass) -> Option<Stamped> {
        let above = self.loads.partition_point(|held| *held < load);
        Some(self.stamped(*self.loads.get(above)?))
    }

    fn stamped(&self, mass: Mass) -> Stamped {
        Stamped { mass, unit: self.unit }
    }
}
