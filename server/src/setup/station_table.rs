//! Where people work: `[[station]]` of a floor file.

use std::collections::BTreeMap;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::StationId;

use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::gear_table;
use super::limits;
use super::numbers::{self, Known};
use super::places::Places;
use super::problem::Problem;
use super::shared::SharedGear;
use crate::floor::config::{Floor, Setting, Sharing, Station, limits as floor_limits};
use crate::loading::gear::Gear;
use crate::training::loads::Direction;

/// Whether others may work in, as files call it.
const SHARING: &[(&str, Sharing)] =
    &[("open", Sharing::Open), ("ask", Sharing::Ask), ("never", Sharing::Never)];

/// What a station says beside its key.
struct Rest {
    name: Option<String>,
    at_cm: Option<[i32; 2]>,
    gear: Option<Gear>,
    sharing: Sharing,
    settings: Vec<Setting>,
    arms: bool,
}

/// Reads every station; keys of the `known` floor keep their numbers.
pub(super) fn stations(
    top: &mut Fields<'_>,
    found: &mut Findings<'_>,
    known: Option<&Floor>,
    shared: &mut SharedGear,
) -> (BTreeMap<StationId, Station>, Places) {
    let mut keys = Vec::new();
    let mut rests = Vec::new();
    let mut taken = BTreeMap::new();
    let mut places = Places::default();
    for mut table in top.sections(found, "station", "station", 1, floor_limits::STATIONS) {
        let key = table.said(found, "key", &form::key());
        let name = table.display_name(found, &mut taken);
        let at_cm = at(&mut table, found);
        let gear = gear_table::gear(&mut table, found, shared);
        let sharing = table.optional(found, "sharing", &form::one_of(SHARING));
        let sharing = sharing.map_or_else(Sharing::default, |said| said.what);
        let settings = settings(&mut table, found);
        let arms = arms(&mut table, found, gear.as_ref());
        table.finish(found);
        let Some(key) = key else {
            places.without_key(gear.as_ref().map(Gear::kind));
            continue;
        };
        keys.push(key);
        rests.push(Rest { name, at_cm, gear, sharing, settings, arms });
    }
    let known: Known<'_> =
        known.into_iter().flat_map(|floor| &floor.stations).map(|(id, s)| (&s.key, id.0)).collect();
    let ids = numbers::number(found, &keys, &known).into_iter().map(StationId);
    let stations = ids.zip(keys).zip(rests).filter_map(|((id, key), rest)| {
        let Rest { name, at_cm, gear, sharing, settings, arms } = rest;
        places.add(key.what.clone(), id, gear.as_ref().map(Gear::kind));
        if gear.as_ref().is_some_and(|gear| gear.direction() == Direction::Assists) {
            places.helps(id);
        }
        let (key, name, at_cm, gear) = (key.what, name?, at_cm?, gear?);
        Some((id, Station { key, name, at_cm, gear, sharing, settings, arms }))
    });
    let stations = stations.collect();
    (stations, places)
}

fn at(table: &mut Fields<'_>, found: &mut Findings<'_>) -> Option<[i32; 2]> {
    let mut metres = table.list(found, "at", 2, 2).into_iter();
    let mut next = || metres.next()?.read(found, &form::metres(limits::METRES)).map(|said| said.what);
    let (east, north) = (next(), next());
    Some([east?, north?])
}

/// What can be set there for each client. A display tells settings apart by their names, and people read the
/// values off labels: neither may come twice.
fn settings(table: &mut Fields<'_>, found: &mut Findings<'_>) -> Vec<Setting> {
    let mut taken = BTreeMap::new();
    let mut settings = Vec::new();
    for mut setting in table.tables(found, "settings", 0, floor_limits::SETTINGS) {
        let name = setting.display_name(found, &mut taken);
        let mut seen = BTreeMap::new();
        let mut values = Vec::new();
        for entry in setting.list(found, "values", 2, floor_limits::VALUES) {
            let Some(value) = entry.read(found, &form::label(limits::LABEL)) else { continue };
            if found.once(&mut seen, &value) {
                values.push(value.what);
            }
        }
        setting.finish(found);
        settings.extend(name.map(|name| Setting { name, values }));
    }
    settings
}

/// Safety arms catch a bar.
fn arms(table: &mut Fields<'_>, found: &mut Findings<'_>, gear: Option<&Gear>) -> bool {
    let Some(arms) = table.optional(found, "arms", &form::flag()) else { return false };
    if let Some(gear) = gear.map(Gear::kind)
        && arms.what
        && gear != GearKind::Bar
    {
        found.add(&arms.spot, Problem::ArmsWithoutBar(gear));
    }
    arms.what
}
