//! What a client did before the journal knows of anything: `[[client.earlier]]`.

use std::collections::BTreeMap;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::Ending;
use turnabout_protocol::ids::{ExerciseId, Key, StationId};
use turnabout_protocol::work::Work;

use super::block_problem::BlockProblem;
use super::earlier_problem::EarlierProblem;
use super::exercise_in_block;
use super::fields::Fields;
use super::findings::Findings;
use super::fit::Fit;
use super::form;
use super::limits;
use super::load_rule;
use super::problem::{Problem, Thing};
use super::spot::{Said, Spot};
use super::written::Written;
use crate::floor::config::{Day, Earlier, Floor};
use crate::training::block::limits::REPS;
use crate::training::exercise::Exercise;
use crate::training::session::LastSet;

/// Sets of one exercise at one station: the last and the one before.
const MOST: usize = 2;

/// How a set ended as files call it; with help the repetitions are a field of their own.
const ENDING: &[(&str, Ended)] = &[
    ("complete", Ended::As(Ending::Complete)),
    ("short", Ended::As(Ending::Short)),
    ("helped", Ended::Helped),
    ("failed", Ended::As(Ending::Failed)),
    ("form-broken", Ended::As(Ending::FormBroken)),
    ("equipment-fault", Ended::As(Ending::EquipmentFault)),
    ("stopped", Ended::As(Ending::Stopped)),
];

#[derive(Clone, Copy, PartialEq, Eq)]
enum Ended {
    As(Ending),
    Helped,
}

/// The days on which each exercise was done at each station, and where that is said.
type Days = BTreeMap<(StationId, ExerciseId), Vec<(Day, Spot)>>;

/// Reads what one client did, the earliest first; `day` is the programme's. Without a floor, whose file has mistakes
/// then, no key stands for anything.
pub(super) fn earlier(
    client: &mut Fields<'_>,
    found: &mut Findings<'_>,
    day: Option<Day>,
    floor: Option<&Floor>,
    fit: &Fit,
) -> Vec<Earlier> {
    let mut days = Days::new();
    let tables = client.sections(found, "earlier", "client.earlier", 0, limits::EARLIER);
    let mut sets: Vec<Earlier> =
        tables.into_iter().filter_map(|table| one(table, found, &mut days, day, floor, fit)).collect();
    sets.sort_by_key(|set| (set.day, set.station, set.exercise));
    sets
}

fn one(
    mut table: Fields<'_>,
    found: &mut Findings<'_>,
    days: &mut Days,
    day: Option<Day>,
    floor: Option<&Floor>,
    fit: &Fit,
) -> Option<Earlier> {
    let station = table.said(found, "station", &form::key());
    let exercise = table.said(found, "exercise", &form::key());
    let on = table.said(found, "on", &form::day());
    let load = table.said(found, "load", &load_rule::written(false));
    let goal = table.said(found, "goal", &form::work());
    let reps = table.optional(found, "reps", &form::whole(0, REPS));
    let ending = ending(&mut table, found);
    let reps = reps_of(&table, found, goal.as_ref(), reps.as_ref(), ending);
    table.finish(found);
    if let Some(on) = &on
        && let Some(day) = day.filter(|day| on.what > *day)
    {
        found.add(&on.spot, EarlierProblem::Ahead { on: on.what, day });
    }
    let floor = floor?;
    let exercise = exercise.and_then(|key| with_load(found, floor, &key));
    let station = station.and_then(|key| Some((find(floor, found, &key)?, key)));
    let (exercise, (station, key)) = (exercise?, station?);
    check_place(found, floor, fit, exercise, station, &key, load.as_ref());
    let on = on?;
    seen(found, days, exercise, station, &key.what, &on);
    let set = LastSet { load: load?.what.load(), goal: goal?.what, reps: reps?, ending: ending? };
    Some(Earlier { station, exercise: exercise.id, day: on.what, set })
}

/// How it ended: complete unless said.
fn ending(table: &mut Fields<'_>, found: &mut Findings<'_>) -> Option<Ending> {
    let said = table.optional(found, "ending", &form::one_of(ENDING));
    let helped = form::whole(1, REPS);
    match said.map(|said| said.what) {
        Some(Ended::Helped) => Some(Ending::Helped { reps: table.required(found, "helped", &helped)? }),
        Some(Ended::As(ending)) => {
            if let Some(helped) = table.optional(found, "helped", &helped) {
                found.add(&helped.spot, EarlierProblem::NotHelped);
            }
            Some(ending)
        }
        None => match table.optional(found, "helped", &helped) {
            Some(helped) => Some(Ending::Helped { reps: helped.what }),
            None => Some(Ending::Complete).filter(|_| !table.has("ending") && !table.has("helped")),
        },
    }
}

/// The repetitions that were done alone; a hold counts as one where all of it was held.
fn reps_of(
    table: &Fields<'_>,
    found: &mut Findings<'_>,
    goal: Option<&Said<Work>>,
    reps: Option<&Said<u8>>,
    ending: Option<Ending>,
) -> Option<u8> {
    let goal = goal?;
    match (goal.what, reps) {
        (Work::Hold { .. }, Some(reps)) => found.add(&reps.spot, EarlierProblem::RepsOfHold),
        (Work::Hold { .. }, None) => return Some(u8::from(ending? == Ending::Complete)),
        (Work::Reps { least, most }, _) if least > most => {
            found.add(&goal.spot, BlockProblem::RangeOrder { least, most });
        }
        (Work::Reps { least, .. }, Some(reps)) if reps.what < least && ending == Some(Ending::Complete) => {
            found.add(&reps.spot, EarlierProblem::NotComplete { reps: reps.what, least });
        }
        (Work::Reps { .. }, Some(_)) => {}
        (Work::Reps { .. }, None) if table.has("reps") => {}
        (Work::Reps { .. }, None) => {
            table.missing(found, "reps", Problem::Missing(form::whole(0, REPS).allowed));
        }
    }
    reps.map(|reps| reps.what)
}

/// The exercise of a key, if it has a load.
fn with_load<'f>(found: &mut Findings<'_>, floor: &'f Floor, key: &Said<Key>) -> Option<&'f Exercise> {
    let exercise = exercise_in_block::find(floor, found, key)?;
    if exercise.gear == GearKind::Plain {
        found.add(&key.spot, EarlierProblem::NothingSet { exercise: exercise.key.clone() });
        return None;
    }
    Some(exercise)
}

fn find(floor: &Floor, found: &mut Findings<'_>, key: &Said<Key>) -> Option<StationId> {
    let station = floor.station(&key.what);
    if station.is_none() {
        let keys = floor.stations.values().map(|station| station.key.as_str());
        found.unknown(&key.spot, Thing::StationOfFloor, key.what.as_str(), keys);
    }
    station
}

/// Takes down a set that could not have been done there.
fn check_place(
    found: &mut Findings<'_>,
    floor: &Floor,
    fit: &Fit,
    exercise: &Exercise,
    station: StationId,
    key: &Said<Key>,
    load: Option<&Said<Written>>,
) {
    if !exercise.stations.contains(&station) {
        let stations = exercise.stations.iter().filter_map(|id| floor.stations.get(id));
        let allowed = stations.map(|station| station.key.clone()).collect();
        let (station, exercise) = (key.what.clone(), exercise.key.clone());
        found.add(&key.spot, EarlierProblem::NotThere { station, exercise, allowed });
    } else if let Some(load) = load.filter(|load| !fit.holds(station, exercise, [&load.what.load()])) {
        let (said, pins, station_key) = (load.what, fit.pins_at(station, exercise), key.what.clone());
        let problem = match (said, pins) {
            (Written::Mass(_), Some(most)) => {
                EarlierProblem::OnlyPins { load: said, station: station_key, most }
            }
            (Written::Pin(_), None) => EarlierProblem::NoPins { load: said, station: station_key },
            (Written::Mass(_) | Written::Pin(_), _) => {
                let (below, above) = fit.nearest_at(station, exercise, said.load());
                EarlierProblem::CannotHold { load: said, station: station_key, below, above }
            }
        };
        found.add(&load.spot, problem);
    }
}

/// Takes down a second set of a day, and a third in all.
fn seen(
    found: &mut Findings<'_>,
    days: &mut Days,
    exercise: &Exercise,
    station: StationId,
    key: &Key,
    on: &Said<Day>,
) {
    let days = days.entry((station, exercise.id)).or_default();
    let (exercise, station) = (exercise.key.clone(), key.clone());
    if let Some((_, first)) = days.iter().find(|(day, _)| *day == on.what) {
        let first = found.first(first);
        found.add(&on.spot, EarlierProblem::SameDay { on: on.what, exercise, station, first });
    } else if days.len() == MOST {
        found.add(&on.spot, EarlierProblem::TooMany { exercise, station });
    } else {
        days.push((on.what, on.spot.clone()));
    }
}
