//! What can be trained: `[[exercise]]` of a floor file.

use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{ExerciseId, Key, StationId};

use super::catalogue::catalogue;
use super::exercise_fields::{self, Draft};
use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::gear_problem::GearProblem;
use super::numbers::{self, Known};
use super::places::Places;
use super::problem::{Problem, Thing};
use super::spot::Said;
use super::wants::Wanted;
use crate::floor::config::{Floor, limits};
use crate::training::exercise::Exercise;

/// Reads every exercise; keys of the `known` floor keep their numbers. What a table leaves out is as the
/// catalogue says. An exercise that no table names is not on this floor. Beside them what each table wants by its
/// own words.
pub(super) fn exercises(
    top: &mut Fields<'_>,
    found: &mut Findings<'_>,
    known: Option<&Floor>,
    places: &Places,
) -> (BTreeMap<ExerciseId, Exercise>, Vec<Wanted>) {
    let mut keys = Vec::new();
    let mut rests = Vec::new();
    let mut wanted = Vec::new();
    let mut opposing = Vec::new();
    let mut without_key = false;
    for mut table in top.sections(found, "exercise", "exercise", 1, limits::EXERCISES) {
        let draft = exercise_fields::draft(&mut table, found, catalogue());
        let gear = draft.as_ref().and_then(|draft| gear_somewhere(draft, &table, found, places));
        let stations = stations(&mut table, found, places, gear);
        if places.are_mixed(&stations) {
            table.missing(found, "stations", GearProblem::MixedDirections.into());
        }
        table.finish(found);
        let Some(mut draft) = draft else {
            without_key = true;
            continue;
        };
        opposing.extend(draft.opposing.take());
        let wants = std::mem::take(&mut draft.wants);
        wanted.push(Wanted { wants, stations: stations.clone() });
        let (key, entry) = draft.entry();
        keys.push(key);
        rests.push((entry, stations));
    }
    // A key that could not be read has its own mistake, and may be the one that is named.
    if !without_key {
        let here = keys.iter().map(|said| &said.what);
        let known = here.chain(catalogue().entries().map(|entry| &entry.key)).collect();
        demand_known(found, &opposing, &known);
    }
    let known: Known<'_> =
        known.into_iter().flat_map(|floor| &floor.exercises).map(|(id, e)| (&e.key, id.0)).collect();
    let ids = numbers::number(found, &keys, &known).into_iter().map(ExerciseId);
    let read = ids.zip(rests).filter_map(|(id, (entry, stations))| Some((id, entry?.on(id, stations))));
    (read.collect(), wanted)
}

/// Takes down every name for an exercise that is not among the `known`.
pub(super) fn demand_known(found: &mut Findings<'_>, names: &[Said<Key>], known: &BTreeSet<&Key>) {
    for name in names.iter().filter(|name| !known.contains(&name.what)) {
        let words = known.iter().map(|key| key.as_str());
        found.unknown(&name.spot, Thing::Opposing, name.what.as_str(), words);
    }
}

/// The gear of an exercise, which some station should have.
fn gear_somewhere(
    draft: &Draft,
    table: &Fields<'_>,
    found: &mut Findings<'_>,
    places: &Places,
) -> Option<GearKind> {
    let gear = draft.gear.as_ref()?;
    if !places.have(gear.what) {
        let said_here = table.has("gear") || table.has("implement");
        let problem = if said_here { Problem::NoStation } else { Problem::NoStationFor };
        found.add(&gear.spot, problem(gear.what));
    }
    Some(gear.what)
}

/// Where it can be done: what the file says, or else every station with that gear.
fn stations(
    table: &mut Fields<'_>,
    found: &mut Findings<'_>,
    places: &Places,
    gear: Option<GearKind>,
) -> BTreeSet<StationId> {
    let Some(entries) = table.optional_list(found, "stations", 1, limits::STATIONS) else {
        return gear.map(|gear| places.all_with(gear)).unwrap_or_default();
    };
    let mut seen = BTreeMap::new();
    let mut stations = BTreeSet::new();
    for entry in entries {
        let Some(key) = entry.read(found, &form::key()) else { continue };
        if found.once(&mut seen, &key) {
            stations.extend(places.find(found, &key, gear));
        }
    }
    stations
}
