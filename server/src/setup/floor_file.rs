//! The floor file: what stands where, who coaches, what can be trained.

use std::collections::BTreeMap;

use turnabout_protocol::ids::{CoachId, Key, StationId};
use turnabout_protocol::units::Secs;
use turnabout_protocol::view::Emergency;

use super::document;
use super::exercise_table;
use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::gear_table;
use super::hours_table;
use super::limits;
use super::mistake::Mistakes;
use super::numbers::{self, Known};
use super::places::Places;
use super::problem::Thing;
use super::spot::Said;
use crate::floor::config::{
    Coach, Floor, Names, Person, Policy, Settings, Sharing, Station, limits as floor_limits,
};
use crate::floor::hours::Hours;
use crate::loading::gear::Gear;

/// What a floor file says. Names of people are apart, since they are kept apart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FloorFile {
    /// The floor.
    pub floor: Floor,
    /// The names of its coaches.
    pub names: Names,
}

/// Reads the text of a floor file; `file` is its name for messages.
///
/// Stations, coaches and exercises get numbers from 1 by their place in the file. A key that the `known`
/// floor has keeps its number, and new keys get numbers above all of the known ones: the journal goes on
/// meaning the same places and people.
///
/// # Errors
/// Every mistake in the text.
pub fn parse_floor(file: &str, text: &str, known: Option<&Floor>) -> Result<FloorFile, Mistakes> {
    document::parse(file, text, |mut top, found| {
        let head = top.table(found, "floor").and_then(|table| read_head(table, found));
        let (stations, places) = read_stations(&mut top, found, known);
        let (coaches, names) = read_coaches(&mut top, found, known);
        let exercises = exercise_table::exercises(&mut top, found, known, &places);
        top.finish(found);
        let Head { name, zone, emergency, settings, hours } = head?;
        let floor = Floor {
            name,
            zone,
            emergency,
            settings,
            hours,
            stations,
            coaches,
            handles: BTreeMap::new(),
            policy: Policy::default(),
            exercises,
        };
        Some(FloorFile { floor, names })
    })
}

struct Head {
    name: String,
    zone: String,
    emergency: Emergency,
    settings: Settings,
    hours: Hours,
}

fn read_head(mut table: Fields<'_>, found: &mut Findings<'_>) -> Option<Head> {
    let name = table.required(found, "name", &form::text(floor_limits::NAME));
    let zone = table.said(found, "zone", &form::zone());
    let emergency = table.table(found, "emergency").and_then(|notes| read_emergency(notes, found));
    let settings = table.optional_table(found, "settings").map(|times| read_settings(times, found));
    let hours = table.optional_table(found, "hours").map(|week| hours_table::hours(week, found));
    table.finish(found);
    let zone = zone.and_then(|zone| known_zone(zone, found));
    let (settings, hours) = (settings.unwrap_or_default(), hours.unwrap_or_default());
    Some(Head { name: name?, zone: zone?, emergency: emergency?, settings, hours })
}

fn known_zone(zone: Said<String>, found: &mut Findings<'_>) -> Option<String> {
    let zones = jiff::tz::db();
    if zones.get(&zone.what).is_ok() {
        return Some(zone.what);
    }
    let names: Vec<String> = zones.available().map(|name| name.to_string()).collect();
    found.unknown(&zone.spot, Thing::Zone, &zone.what, names.iter().map(String::as_str));
    None
}

fn read_emergency(mut notes: Fields<'_>, found: &mut Findings<'_>) -> Option<Emergency> {
    let note = form::text(floor_limits::NOTE);
    let number = notes.required(found, "number", &note);
    let address = notes.required(found, "address", &note);
    let defibrillator = notes.required(found, "defibrillator", &note);
    let first_aid = notes.required(found, "first_aid", &note);
    notes.finish(found);
    Some(Emergency {
        number: number?,
        address: address?,
        defibrillator: defibrillator?,
        first_aid: first_aid?,
    })
}

fn read_settings(mut times: Fields<'_>, found: &mut Findings<'_>) -> Settings {
    let usual = Settings::default();
    let get_set = form::duration(1, limits::GET_SET_SECS);
    let mut time = |name, form: &_, usual: Secs| {
        times.optional(found, name, form).map_or(usual, |said: Said<Secs>| said.what)
    };
    let settings = Settings {
        get_set: time("get_set", &get_set, usual.get_set),
        get_set_spotted: time("get_set_spotted", &get_set, usual.get_set_spotted),
        wipe_down: usual.wipe_down,
        ..usual
    };
    let wipe_down = times.optional(found, "wipe_down", &form::duration(1, limits::WIPE_DOWN_SECS));
    times.finish(found);
    Settings { wipe_down: wipe_down.map_or(usual.wipe_down, |said| said.what), ..settings }
}

fn read_stations(
    top: &mut Fields<'_>,
    found: &mut Findings<'_>,
    known: Option<&Floor>,
) -> (BTreeMap<StationId, Station>, Places) {
    let mut keys = Vec::new();
    let mut rest = Vec::new();
    let mut taken = BTreeMap::new();
    let mut places = Places::default();
    for mut table in top.sections(found, "station", "station", 1, floor_limits::STATIONS) {
        let key = table.said(found, "key", &form::key());
        let name = table.display_name(found, &mut taken);
        let at_cm = read_at(&mut table, found);
        let gear = gear_table::gear(&mut table, found);
        table.finish(found);
        let Some(key) = key else {
            places.without_key(gear.as_ref().map(Gear::kind));
            continue;
        };
        keys.push(key);
        rest.push((name, at_cm, gear));
    }
    let known: Known<'_> =
        known.into_iter().flat_map(|floor| &floor.stations).map(|(id, s)| (&s.key, id.0)).collect();
    let ids = numbers::number(found, &keys, &known).into_iter().map(StationId);
    let stations = ids.zip(keys).zip(rest).filter_map(|((id, key), (name, at_cm, gear))| {
        places.add(key.what.clone(), id, gear.as_ref().map(Gear::kind));
        let station = Station {
            key: key.what,
            name: name?,
            at_cm: at_cm?,
            gear: gear?,
            sharing: Sharing::default(),
            settings: Vec::new(),
            arms: false,
        };
        Some((id, station))
    });
    let stations = stations.collect();
    (stations, places)
}

fn read_at(table: &mut Fields<'_>, found: &mut Findings<'_>) -> Option<[i32; 2]> {
    let mut metres = table.list(found, "at", 2, 2).into_iter();
    let mut next = || metres.next()?.read(found, &form::metres(limits::METRES)).map(|said| said.what);
    let (east, north) = (next(), next());
    Some([east?, north?])
}

fn read_coaches(
    top: &mut Fields<'_>,
    found: &mut Findings<'_>,
    known: Option<&Floor>,
) -> (BTreeMap<CoachId, Coach>, Names) {
    let mut keys: Vec<Said<Key>> = Vec::new();
    let mut names = Vec::new();
    let mut taken = BTreeMap::new();
    for mut table in top.sections(found, "coach", "coach", 1, floor_limits::COACHES) {
        let key = table.said(found, "key", &form::key());
        let name = table.display_name(found, &mut taken);
        table.finish(found);
        let Some(key) = key else { continue };
        keys.push(key);
        names.push(name.unwrap_or_default());
    }
    let known: Known<'_> =
        known.into_iter().flat_map(|floor| &floor.coaches).map(|(id, c)| (&c.key, id.0)).collect();
    let ids: Vec<CoachId> = numbers::number(found, &keys, &known).into_iter().map(CoachId).collect();
    let people = ids.iter().map(|id| Person::Coach(*id)).zip(names).collect();
    let coaches =
        ids.iter().copied().zip(keys.into_iter().map(|key| Coach { key: key.what, shift: None })).collect();
    (coaches, people)
}
