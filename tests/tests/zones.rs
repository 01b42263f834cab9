//! Time zones against Python's zoneinfo: the offset and its next change as the floor's task asks for them, and
//! the times of day that the floor's core makes of what the task journals.
//!
//! Source: the IANA time zone database as the package tzdata has it, which our library bundles by itself.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

use std::path::Path;
use std::process::Command;

use serde_json::Value;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_server::floor::config::{Day, Floor};
use turnabout_server::floor::local_time::{Minute, Weekday};
use turnabout_server::floor::state::ClockMapping;
use turnabout_server::live::Zone;
use turnabout_tests::outside;

/// Two changes a year by an hour, in both orders of the year, and one by half an hour.
const ZONES: [&str; 4] = ["Europe/Berlin", "America/New_York", "Australia/Sydney", "Australia/Lord_Howe"];
/// Past rules, present ones, and those that only a rule tells (the tables end in 2037).
const YEARS: [(&str, &str); 3] = [("2005", "2008"), ("2023", "2028"), ("2045", "2045")];
/// Two changes a year, 11 years.
const CHANGES: usize = 22;
/// The whole hours of the day before, of the day itself and of the day after.
const HOURS: usize = 72;

fn python_says(python: &Path, zone: &str) -> Vec<Value> {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("outside/zone_days.py");
    let lines = |(first, last)| {
        let output = Command::new(python).arg(&script).args([zone, first, last]).output().unwrap();
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        let text = String::from_utf8(output.stdout).unwrap();
        text.lines().map(|line| serde_json::from_str(line).unwrap()).collect::<Vec<Value>>()
    };
    YEARS.into_iter().flat_map(lines).collect()
}

/// `2026-03-29 02:30` as the floor says it.
fn local(text: &str) -> (Day, Minute) {
    let (day, minute) = text.split_once(' ').unwrap();
    let [year, month, date] = day.split('-').collect::<Vec<_>>()[..] else { panic!("{text}") };
    let day = Day { year: year.parse().unwrap(), month: month.parse().unwrap(), day: date.parse().unwrap() };
    (day, minute.parse().unwrap())
}

/// A floor that was started a week before `utc`, and what its task has journaled up to then.
fn mapped(zone: &mut Zone, utc_ms: i64) -> ClockMapping {
    const WEEK_MS: i64 = 7 * 24 * 3_600_000;
    let started = utc_ms - WEEK_MS;
    let mut clock = ClockMapping::default().moved(FloorMs(123_456), started, zone.offset_secs(started));
    while let Some(at) = zone.next_change(clock).filter(|at| clock.utc(*at) <= utc_ms) {
        clock = clock.moved(at, clock.utc(at), zone.offset_secs(clock.utc(at)));
    }
    clock
}

fn check(name: &str, said: &[Value]) {
    let mut zone = Zone::of(&Floor { zone: name.to_owned(), ..Floor::unknown() });
    let (mut hours, mut walls) = (0, 0);
    for line in said {
        let utc_ms = line["utc"].as_i64().unwrap() * 1_000;
        if let Some(wall) = line["wall"].as_str() {
            // A day later nothing of that night is still to come.
            let clock = mapped(&mut zone, utc_ms + 24 * 3_600_000);
            let (day, minute) = local(wall);
            assert_eq!(clock.utc(clock.day_at(day, minute)), utc_ms, "{name}: {line}");
            walls += 1;
            continue;
        }
        assert_eq!(i64::from(zone.offset_secs(utc_ms)), line["offset"], "{name}: {line}");
        let clock = mapped(&mut zone, utc_ms);
        assert_eq!(i64::from(clock.offset_secs), line["offset"], "{name}: {line}");
        let next = zone.next_change(clock).map(|at| clock.utc(at) / 1_000);
        assert_eq!(next, line["next"].as_i64(), "{name}: {line}");
        let now = clock.floor + Millis(utc_ms - clock.utc_ms);
        let here = clock.local(now);
        assert_eq!((here.day, here.minute), local(line["local"].as_str().unwrap()), "{name}: {line}");
        let weekday = usize::try_from(line["weekday"].as_u64().unwrap()).unwrap();
        assert_eq!(here.weekday, Weekday::ALL[weekday], "{name}: {line}");
        hours += 1;
    }
    assert!(hours >= CHANGES * HOURS && walls == CHANGES * 24 * 6, "{name}: {hours} hours, {walls} minutes");
}

#[test]
fn the_days_on_which_clocks_are_set_are_those_of_zoneinfo() {
    let Some(python) = outside::python() else { return };
    for zone in ZONES {
        check(zone, &python_says(&python, zone));
    }
}

/// Directive 2000/84/EC, articles 2 and 3: 01:00 UTC on the last Sunday of March and of October. Needs no tool.
#[test]
fn berlin_changes_when_the_directive_says() {
    let mut zone = Zone::of(&Floor { zone: "Europe/Berlin".to_owned(), ..Floor::unknown() });
    let clock = ClockMapping::default().moved(FloorMs(0), 1_767_225_600_000, 3_600); // 2026-01-01T00:00:00Z
    let spring = zone.next_change(clock).unwrap();
    assert_eq!(clock.utc(spring), 1_774_746_000_000); // 2026-03-29T01:00:00Z
    let clock = clock.moved(spring, clock.utc(spring), 7_200);
    let autumn = zone.next_change(clock).unwrap();
    assert_eq!(clock.utc(autumn), 1_792_890_000_000); // 2026-10-25T01:00:00Z
}

#[test]
fn a_zone_without_changes_has_none_to_come() {
    for (name, offset) in [("UTC", 0), ("Asia/Kathmandu", 20_700), ("no such zone", 0)] {
        let mut zone = Zone::of(&Floor { zone: name.to_owned(), ..Floor::unknown() });
        let utc_ms = 1_767_225_600_000;
        assert_eq!(zone.offset_secs(utc_ms), offset, "{name}");
        let clock = ClockMapping::default().moved(FloorMs(0), utc_ms, offset);
        assert_eq!(zone.next_change(clock), None, "{name}");
    }
}
