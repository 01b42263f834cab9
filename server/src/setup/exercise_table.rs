//! What can be trained: `[[exercise]]` of a floor file.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{ExerciseId, StationId};
use turnabout_protocol::view::StartsWith;

use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::numbers::{self, Known};
use super::places::Places;
use super::problem::Problem;
use crate::floor::config::{Floor, limits};
use crate::training::exercise::{Exercise, SpotRule};
use crate::training::movement::Movement;
use crate::training::words::Words;

/// Gear as files call it.
const GEAR: &[(&str, GearKind)] =
    &[("bar", GearKind::Bar), ("stack", GearKind::Stack), ("plain", GearKind::Plain)];

/// The first phase of a repetition as files call it.
const STARTS_WITH: &[(&str, StartsWith)] =
    &[("lowering", StartsWith::Eccentric), ("pulling", StartsWith::Concentric)];

/// What an exercise says beside its key.
struct Rest {
    name: Option<String>,
    gear: Option<GearKind>,
    stations: BTreeSet<StationId>,
    starts_with: Option<StartsWith>,
    spotted: Option<bool>,
}

/// Reads every exercise; keys of the `known` floor keep their numbers.
pub(super) fn exercises(
    top: &mut Fields<'_>,
    found: &mut Findings<'_>,
    known: Option<&Floor>,
    places: &Places,
) -> BTreeMap<ExerciseId, Exercise> {
    let mut keys = Vec::new();
    let mut rests = Vec::new();
    for mut table in top.sections(found, "exercise", "exercise", 1, limits::EXERCISES) {
        let key = table.said(found, "key", &form::key());
        let rest = rest(&mut table, found, places);
        table.finish(found);
        let Some(key) = key else { continue };
        keys.push(key);
        rests.push(rest);
    }
    let known: Known<'_> =
        known.into_iter().flat_map(|floor| &floor.exercises).map(|(id, e)| (&e.key, id.0)).collect();
    let ids = numbers::number(found, &keys, &known).into_iter().map(ExerciseId);
    let read = ids.zip(keys).zip(rests).filter_map(|((id, key), rest)| {
        let Rest { name, gear, stations, starts_with, spotted } = rest;
        let (name, gear, starts_with, spotted) = (Words::same(&name?), gear?, starts_with?, spotted?);
        let spot = if spotted { SpotRule::OverFace } else { SpotRule::None };
        let (movement, handle, about) = (Movement::Other, None, Arc::default());
        let key = key.what;
        Some((id, Exercise { id, key, name, gear, stations, starts_with, spot, movement, handle, about }))
    });
    read.collect()
}

fn rest(table: &mut Fields<'_>, found: &mut Findings<'_>, places: &Places) -> Rest {
    let name = table.required(found, "name", &form::text(limits::NAME));
    let gear = table.said(found, "gear", &form::one_of(GEAR));
    if let Some(gear) = gear.as_ref().filter(|gear| !places.have(gear.what)) {
        found.add(&gear.spot, Problem::NoStation(gear.what));
    }
    let gear = gear.map(|gear| gear.what);
    let stations = stations(table, found, places, gear);
    let starts_with = table.required(found, "starts_with", &form::one_of(STARTS_WITH));
    let spotted = table.required(found, "spotted", &form::flag());
    Rest { name, gear, stations, starts_with, spotted }
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
