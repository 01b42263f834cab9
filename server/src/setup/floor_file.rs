//! The floor file: what stands where, who coaches, what can be trained.

use std::collections::BTreeMap;

use turnabout_protocol::ids::StationId;
use turnabout_protocol::units::Secs;
use turnabout_protocol::view::Emergency;

use super::coach_table;
use super::document;
use super::exercise_table;
use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::hours_table;
use super::limits;
use super::loads_table;
use super::members;
use super::mistake::{Mistake, Mistakes};
use super::places::Places;
use super::policy_table;
use super::problem::Thing;
use super::rack_table;
use super::shared::SharedGear;
use super::spot::{Said, Told};
use super::station_table;
use super::tree_table;
use super::wants;
use crate::floor::config::{Floor, KeptForMembers, Names, Policy, Settings, Station, limits as floor_limits};
use crate::floor::hours::Hours;

/// What a floor file says. Names of people are apart, since they are kept apart.
#[derive(Clone, Debug, PartialEq)]
pub struct FloorFile {
    /// The floor.
    pub floor: Floor,
    /// The names of its coaches.
    pub names: Names,
    /// What is no mistake and still may be a slip, in the order of the file.
    pub hints: Vec<Mistake>,
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
    document::parse(file, text, Told::ByLine, |mut top, found| {
        let floor = top.table(found, "floor");
        let before = found.count();
        let (trees, racks) = (tree_table::trees(&mut top, found), rack_table::racks(&mut top, found));
        let mut shared = SharedGear { trees, racks };
        let (stations, places) = station_table::stations(&mut top, found, known, &mut shared);
        let (trees, racks) = (shared.trees.all(found), shared.racks.all(found));
        let stations_whole = found.count() == before;
        // After the stations, which its policies name.
        let before = found.count();
        let head = floor.and_then(|table| read_head(table, found, &stations, &places));
        let head_whole = found.count() == before;
        let always = Hours::default();
        let hours = head.as_ref().map_or(&always, |head| &head.hours);
        let (coaches, names) = coach_table::coaches(&mut top, found, known, hours);
        let before = found.count();
        let (exercises, wanted) = exercise_table::exercises(&mut top, found, known, &places);
        // An exercise that could not be read may be the one that wants a handle.
        let exercises_whole = found.count() == before;
        if let Some(head) = head.as_ref().filter(|_| exercises_whole) {
            let by_all = exercises.values().filter_map(|exercise| exercise.handle.as_ref()).collect();
            wants::check_handles(found, &wanted, &head.handles, &by_all);
            if stations_whole && head_whole {
                members::check_exercises(found, &head.kept, &head.hours, &exercises);
            }
        }
        // A station that could not be read may be the one that has a setting.
        if stations_whole {
            wants::check_settings(found, &wanted, &stations);
        }
        top.finish(found);
        let Head { name, zone, emergency, settings, hours, handles, policy, kept: _ } = head?;
        let handles = handles.into_iter().map(|(key, count)| (key, count.what)).collect();
        let floor = Floor {
            name,
            zone,
            emergency,
            hours,
            settings,
            stations,
            trees,
            racks,
            coaches,
            handles,
            policy,
            exercises,
        };
        Some(FloorFile { floor, names, hints: found.hints() })
    })
}

struct Head {
    name: String,
    zone: String,
    emergency: Emergency,
    settings: Settings,
    hours: Hours,
    handles: policy_table::Handles,
    policy: Policy,
    /// Its rules for members, each with where it says how many it keeps.
    kept: Vec<Said<KeptForMembers>>,
}

fn read_head(
    mut table: Fields<'_>,
    found: &mut Findings<'_>,
    stations: &BTreeMap<StationId, Station>,
    places: &Places,
) -> Option<Head> {
    let name = table.required(found, "name", &form::text(floor_limits::NAME));
    let zone = table.said(found, "zone", &form::zone());
    let emergency = table.table(found, "emergency").and_then(|notes| read_emergency(notes, found));
    let settings = table.optional_table(found, "settings").map(|times| read_settings(times, found));
    let hours = table.optional_table(found, "hours").map(|week| hours_table::hours(week, found));
    let handles = table.optional_table(found, "handles").map(|kinds| policy_table::handles(kinds, found));
    let policy = table.optional_table(found, "policy");
    let policy = policy.map(|rules| policy_table::policy(rules, found, stations, places));
    let (mut policy, kept) = policy.unwrap_or_default();
    if let Some(loads) = table.optional_table(found, "loads") {
        policy.loads = loads_table::loads(loads, found);
    }
    table.finish(found);
    let zone = zone.and_then(|zone| known_zone(zone, found));
    Some(Head {
        name: name?,
        zone: zone?,
        emergency: emergency?,
        settings: settings.unwrap_or_default(),
        hours: hours.unwrap_or_default(),
        handles: handles.unwrap_or_default(),
        policy,
        kept,
    })
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
    let mut time = |name, most, usual: Secs| {
        let said = times.optional(found, name, &form::duration(1, most));
        said.map_or(usual, |said| said.what)
    };
    let settings = Settings {
        get_set: time("get_set", limits::GET_SET_SECS, usual.get_set),
        get_set_spotted: time("get_set_spotted", limits::GET_SET_SECS, usual.get_set_spotted),
        wipe_down: time("wipe_down", limits::WIPE_DOWN_SECS, usual.wipe_down),
        idle: time("idle", limits::WAIT_SECS, usual.idle),
        lapse: time("lapse", limits::WAIT_SECS, usual.lapse),
        late: time("late", limits::WAIT_SECS, usual.late),
        no_show: time("no_show", limits::WAIT_SECS, usual.no_show),
    };
    times.finish(found);
    settings
}
