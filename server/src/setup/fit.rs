//! Whether loads can be set at the stations of an exercise.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::ids::{ExerciseId, StationId};
use turnabout_protocol::load::Load;
use turnabout_protocol::units::{Mass, MassUnit};

use super::findings::Findings;
use super::load_problem::LoadProblem;
use super::load_rule;
use super::problem::Problem;
use super::spot::Spot;
use super::written::Written;
use crate::floor::config::Floor;
use crate::loading::bar::Starts;
use crate::loading::gear::Gear;
use crate::training::exercise::Exercise;
use crate::training::loads::Direction;
use crate::training::scale::Scale;

/// What the gear of a floor can be set to. A programme names few loads many times.
#[derive(Default)]
pub(super) struct Fit {
    /// The different gear of the stations of each exercise, as places in `held`.
    gears: BTreeMap<ExerciseId, BTreeSet<usize>>,
    /// The gear of each station, for lifts out of a rack and for pulls from the floor.
    of_station: BTreeMap<(StationId, Starts), usize>,
    held: Vec<Held>,
}

/// Every load that some gear can be set to, masses or pins.
struct Held {
    unit: MassUnit,
    direction: Direction,
    /// In ascending order.
    loads: Vec<Load>,
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
            loads: match gear.scale() {
                Scale::Loads(_) => gear.loads_up_to(Mass::MAX).into_iter().map(Load::Mass).collect(),
                Scale::Pins(pins) => (1..=pins.count).map(|pin| Load::Pin { pin }).collect(),
            },
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
        loads: impl IntoIterator<Item = &'m Load>,
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
        load: Load,
    ) -> (Option<Written>, Option<Written>) {
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

    /// The highest pin of a station whose labels are mere numbers; nothing of any other.
    pub(super) fn pins_at(&self, station: StationId, exercise: &Exercise) -> Option<u16> {
        self.at(station, exercise).and_then(Held::pins)
    }

    /// The highest pin of the stations of an exercise, where the labels of all of them are mere numbers.
    pub(super) fn only_pins(&self, exercise: &Exercise) -> Option<u16> {
        let pins: Option<Vec<u16>> = self.of(exercise).map(Held::pins).collect();
        pins?.into_iter().max()
    }

    /// Whether a load by its reserve needs no maximum: it goes by pins at some station of the exercise.
    pub(super) fn may_go_by_pins(&self, exercise: &Exercise, load: load_rule::Load) -> bool {
        load == load_rule::Load::ByReserve && self.of(exercise).any(|held| held.pins().is_some())
    }

    /// Takes down a load that no station of the exercise can be set to.
    pub(super) fn check(&self, found: &mut Findings<'_>, spot: &Spot, written: Written, exercise: &Exercise) {
        let load = written.load();
        if self.of(exercise).any(|held| held.has(load)) {
            return;
        }
        let (gear, key) = (exercise.gear, exercise.key.clone());
        match (written, self.only_pins(exercise)) {
            (Written::Mass(_), Some(most)) => {
                let load = load_rule::Load::Fixed(written);
                found.add(spot, LoadProblem::OnlyPins { load, exercise: key, most });
            }
            (Written::Pin(pin), _) if self.of(exercise).all(|held| held.pins().is_none()) => {
                found.add(spot, LoadProblem::NoPins { pin, exercise: key });
            }
            (Written::Mass(_) | Written::Pin(_), _) => {
                let below = self.of(exercise).filter_map(|held| held.below(load)).max_by_key(|w| w.load());
                let above = self.of(exercise).filter_map(|held| held.above(load)).min_by_key(|w| w.load());
                found.add(spot, Problem::CannotHold { load: written, exercise: key, gear, below, above });
            }
        }
    }

    /// Takes down loads of a whole group that can be set one by one, but not all at one station.
    pub(super) fn check_together(
        &self,
        found: &mut Findings<'_>,
        spot: &Spot,
        exercise: &Exercise,
        loads: &BTreeMap<Load, Written>,
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
    fn has(&self, load: Load) -> bool {
        self.loads.binary_search(&load).is_ok()
    }

    /// The highest pin, where these are pins.
    fn pins(&self) -> Option<u16> {
        self.loads.last().copied().and_then(Load::pin)
    }

    /// The heaviest below a load that it cannot be set to.
    fn below(&self, load: Load) -> Option<Written> {
        let above = self.loads.partition_point(|held| *held < load);
        self.written(self.loads.get(above.checked_sub(1)?)?, load)
    }

    /// The lightest above a load that it cannot be set to.
    fn above(&self, load: Load) -> Option<Written> {
        let above = self.loads.partition_point(|held| *held < load);
        self.written(self.loads.get(above)?, load)
    }

    /// Loads of two kinds are not near each other.
    fn written(&self, held: &Load, load: Load) -> Option<Written> {
        held.is_like(load).then_some(Written::of(*held, self.unit))
    }
}
