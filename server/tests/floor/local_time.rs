//! Times of day and opening hours: against the calendar and the zones of an independent library, and at the
//! two nights of a year on which clocks are set.

use std::collections::BTreeMap;

use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use jiff::{Timestamp, Unit};
use proptest::prelude::*;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_server::floor::config::Day;
use turnabout_server::floor::hours::{Hours, Opening, Window};
use turnabout_server::floor::local_time::{LocalTime, Minute, Weekday, civil_from_days, days_from_civil};
use turnabout_server::floor::state::ClockMapping;

const HOUR: i64 = 3_600_000;

fn minute(text: &str) -> Minute {
    text.parse().unwrap()
}

fn utc_ms(text: &str) -> i64 {
    text.parse::<Timestamp>().unwrap().as_millisecond()
}

fn offset(zone: &TimeZone, utc_ms: i64) -> i32 {
    zone.to_offset(Timestamp::from_millisecond(utc_ms).unwrap()).seconds()
}

/// A floor whose time began an hour before that instant of UTC.
fn mapped(zone: &TimeZone, utc: i64) -> ClockMapping {
    ClockMapping::default().moved(FloorMs(HOUR), utc, offset(zone, utc))
}

/// The mapping after the next change of the zone's offset.
fn changed(zone: &TimeZone, clock: ClockMapping) -> ClockMapping {
    let from = Timestamp::from_millisecond(clock.utc_ms).unwrap();
    let change = zone.following(from).next().unwrap().timestamp().as_millisecond();
    let at = clock.floor + Millis(change - clock.utc_ms);
    clock.moved(at, change, offset(zone, change))
}

fn berlin() -> TimeZone {
    TimeZone::get("Europe/Berlin").unwrap()
}

fn at(clock: &ClockMapping, utc: &str) -> FloorMs {
    clock.floor + Millis(utc_ms(utc) - clock.utc_ms)
}

#[test]
fn minutes_read_and_write_as_clocks_show_them() {
    for (text, minutes) in
        [("00:00", 0), ("06:05", 365), ("17:30", 1_050), ("23:59", 1_439), ("24:00", 1_440)]
    {
        assert_eq!(text.parse(), Ok(Minute::new(minutes).unwrap()));
        assert_eq!(minute(text).to_string(), text);
    }
    for text in [
        "",
        "6:00",
        "24:01",
        "25:00",
        "12:60",
        "12",
        "12:0",
        "12:000",
        "-1:00",
        "+1:00",
        "12.30",
        " 12:00",
        "１２:00",
    ] {
        assert!(text.parse::<Minute>().is_err(), "{text:?}");
    }
    assert_eq!(Minute::new(1_441), None);
    assert!(serde_json::from_str::<Minute>("1441").is_err());
    assert_eq!(serde_json::from_str::<Minute>("1440").unwrap(), Minute::END);
}

/// Days that the calendar's rules are known by; counts as in Hinnant's paper and POSIX time.
#[test]
fn known_days_have_their_numbers_and_names() {
    for (year, month, day, days, weekday) in [
        (1970, 1, 1, 0, Weekday::Thursday),
        (2000, 2, 29, 11_016, Weekday::Tuesday),
        (2000, 3, 1, 11_017, Weekday::Wednesday),
        (1969, 12, 31, -1, Weekday::Wednesday),
        (0, 1, 1, -719_528, Weekday::Saturday),
        (9999, 12, 31, 2_932_896, Weekday::Friday),
    ] {
        let day = Day { year, month, day };
        assert_eq!((days_from_civil(day), Weekday::of(day)), (days, weekday), "{day:?}");
        assert_eq!(civil_from_days(days), day);
    }
    assert_eq!(civil_from_days(i64::MAX), Day { year: 9999, month: 12, day: 31 });
    assert_eq!(civil_from_days(i64::MIN), Day { year: 0, month: 1, day: 1 });
}

proptest! {
    #[test]
    fn every_day_is_the_one_that_jiff_says(days in -719_528_i64..=2_932_896) {
        let ours = civil_from_days(days);
        let date = jiff::civil::date(1970, 1, 1).checked_add(jiff::Span::new().days(days)).unwrap();
        prop_assert_eq!((i64::from(ours.year), i64::from(ours.month), i64::from(ours.day)),
            (i64::from(date.year()), i64::from(date.month()), i64::from(date.day())));
        prop_assert_eq!(days_from_civil(ours), days);
        let weekday = Weekday::ALL[usize::try_from(date.weekday().to_monday_zero_offset()).unwrap()];
        prop_assert_eq!(Weekday::of(ours), weekday);
    }

    /// A day before a change of the offset, at it, and a day after, the mapping made before or after: both
    /// ways are as jiff has them, gaps and folds too ("compatible": RFC 5545, section 3.3.5).
    #[test]
    fn clocks_at_the_floor_say_what_jiff_says(
        zone in prop::sample::select(vec!["Europe/Berlin", "America/New_York", "Australia/Lord_Howe", "UTC",
            "Asia/Kathmandu", "Africa/Casablanca", "America/Santiago", "Asia/Beirut"]),
        year in 2015_i16..2040, before_days in 1_i64..20, minutes in -1_500_i64..1_500,
    ) {
        let zone = TimeZone::get(zone).unwrap();
        let from = jiff::civil::date(year, 1, 1).to_zoned_datetime(TimeZone::UTC).unwrap().timestamp();
        let change = zone.following(from).next().map_or(from, |change| change.timestamp()).as_millisecond();
        let clock = mapped(&zone, change - before_days * 24 * HOUR);
        let clock = if offset(&zone, change) == clock.offset_secs { clock } else { changed(&zone, clock) };
        let instant = change + minutes * 60_000;
        let now = clock.floor + Millis(instant - clock.utc_ms);
        let said: LocalTime = clock.local(now);
        let civil = Timestamp::from_millisecond(instant).unwrap().to_zoned_datetime(zone.clone()).datetime();
        let day = Day { year: u16::try_from(civil.year()).unwrap(), month: civil.month().unsigned_abs(), day: civil.day().unsigned_abs() };
        prop_assert_eq!(said.day, day);
        prop_assert_eq!(said.weekday, Weekday::of(day));
        prop_assert_eq!(i64::from(said.minute.minutes()), i64::from(civil.hour()) * 60 + i64::from(civil.minute()));
        let whole: DateTime = civil.round(Unit::Minute).unwrap();
        prop_assert_eq!(whole, civil, "no zone here has seconds in its offset today");
        let expected = civil.to_zoned_datetime(zone).unwrap().timestamp().as_millisecond();
        prop_assert_eq!(clock.utc(clock.today_at(now, said.minute)), expected);
    }

    /// No floor time and no mapping, however wild, stops the floor.
    #[test]
    fn any_instant_has_a_time_of_day(floor: i64, utc: i64, offset: i32, at: i64, minutes in 0_u16..=1_440) {
        let clock = ClockMapping::default().moved(FloorMs(floor), utc, offset);
        let said = clock.local(FloorMs(at));
        prop_assert!(said.minute < Minute::END);
        let _ = clock.today_at(FloorMs(at), Minute::new(minutes).unwrap());
    }
}

/// 2026-03-29 in Berlin: 02:00 to 03:00 is skipped at 01:00 UTC. 2026-10-25: it comes twice, and the change
/// is at 01:00 UTC again (Directive 2000/84/EC, articles 2 and 3).
#[test]
fn a_skipped_minute_is_later_and_a_doubled_one_the_first() {
    let spring = changed(&berlin(), mapped(&berlin(), utc_ms("2026-03-28T10:00:00Z")));
    let day = Day { year: 2026, month: 3, day: 29 };
    for (shown, utc) in [
        ("01:59", "2026-03-29T00:59:00Z"),
        ("02:30", "2026-03-29T01:30:00Z"),
        ("03:00", "2026-03-29T01:00:00Z"),
        ("24:00", "2026-03-29T22:00:00Z"),
    ] {
        assert_eq!(spring.day_at(day, minute(shown)), at(&spring, utc), "{shown}");
    }
    let autumn = changed(&berlin(), mapped(&berlin(), utc_ms("2026-10-24T10:00:00Z")));
    let day = Day { year: 2026, month: 10, day: 25 };
    for (shown, utc) in [
        ("01:59", "2026-10-24T23:59:00Z"),
        ("02:30", "2026-10-25T00:30:00Z"),
        ("03:00", "2026-10-25T02:00:00Z"),
        ("24:00", "2026-10-25T23:00:00Z"),
    ] {
        assert_eq!(autumn.day_at(day, minute(shown)), at(&autumn, utc), "{shown}");
    }
}

#[test]
fn a_change_is_known_only_where_utc_goes_on_as_it_did() {
    let clock = mapped(&berlin(), utc_ms("2026-10-24T10:00:00Z"));
    let after = changed(&berlin(), clock);
    assert!(after.change.is_some_and(|change| change.before_secs == 7_200));
    // The wall clock is set by two seconds: the change is still the same instant of UTC.
    let stepped = after.moved(after.floor + Millis(HOUR), after.utc_ms + HOUR + 2_000, 3_600);
    assert_eq!(stepped.change, after.change);
    // The server was down when it came.
    assert_eq!(clock.moved(FloorMs(20 * HOUR), clock.utc_ms + 30 * HOUR, 3_600).change, None);
}

fn week(days: &[(Weekday, &[(&str, &str)])]) -> Hours {
    let windows = |of: &[(&str, &str)]| -> Vec<Window> {
        of.iter().map(|(from, to)| Window::new(minute(from), minute(to)).unwrap()).collect()
    };
    Hours::new(days.iter().map(|(day, of)| (*day, windows(of))).collect())
}

/// What clocks show on Thursday, 1970-01-01, and the days after.
fn shown(day: u8, text: &str) -> LocalTime {
    let day = Day { year: 1970, month: 1, day };
    LocalTime { day, weekday: Weekday::of(day), minute: minute(text) }
}

#[test]
fn a_floor_is_open_within_its_windows() {
    let hours = week(&[(Weekday::Thursday, &[("16:00", "20:00"), ("06:00", "12:00"), ("20:00", "22:30")])]);
    for (text, closes) in [
        ("05:59", None),
        ("06:00", Some("12:00")),
        ("11:59", Some("12:00")),
        ("12:00", None),
        ("16:00", Some("22:30")),
        ("22:29", Some("22:30")),
        ("22:30", None),
    ] {
        assert_eq!(hours.closes_after(shown(1, text)), closes.map(minute), "{text}");
        assert_eq!(hours.open_at(shown(1, text)), closes.is_some(), "{text}");
    }
    assert!(!hours.open_at(shown(2, "10:00")), "a day without windows is closed");
    let always = Hours::default();
    assert!(always.is_always() && always.open_at(shown(2, "03:00")));
    assert_eq!(always.closes_after(shown(2, "03:00")), None);
    assert_eq!(Hours::new(BTreeMap::from([(Weekday::Monday, Vec::new())])), always);
}

#[test]
fn closing_goes_on_through_midnight_where_the_next_day_does() {
    let clock = ClockMapping::default();
    let hour = |hours: i64| FloorMs(hours * HOUR);
    let hours = week(&[(Weekday::Thursday, &[("18:00", "24:00")]), (Weekday::Friday, &[("00:00", "02:00")])]);
    assert_eq!(hours.closes_after(shown(1, "23:00")), Some(Minute::END));
    for (now, expected) in [
        (17, Opening::Closed),
        (18, Opening::Until(hour(26))),
        (25, Opening::Until(hour(26))),
        (26, Opening::Closed),
        (7 * 24 + 18, Opening::Until(hour(7 * 24 + 26))),
    ] {
        assert_eq!(hours.at(&clock, hour(now)), expected, "after {now} h");
    }
    let all_day = Weekday::ALL.map(|day| (day, &[("00:00", "24:00")] as &[_]));
    assert_eq!(week(&all_day).at(&clock, hour(30)), Opening::Always);
    assert_eq!(week(&all_day[..6]).at(&clock, hour(30)), Opening::Until(hour(3 * 24)), "until Sunday");
    assert_eq!(Hours::default().at(&clock, hour(30)), Opening::Always);
}

/// A floor that closes at 02:30 closes once, though clocks show 02:30 twice; one that opens at 02:30 of a
/// night without it opens at 03:30.
#[test]
fn the_two_nights_on_which_clocks_are_set() {
    let sunday = week(&[(Weekday::Sunday, &[("00:00", "02:30")])]);
    let autumn = changed(&berlin(), mapped(&berlin(), utc_ms("2026-10-24T10:00:00Z")));
    let closing = at(&autumn, "2026-10-25T00:30:00Z");
    assert_eq!(sunday.at(&autumn, at(&autumn, "2026-10-25T00:29:59Z")), Opening::Until(closing));
    let again = at(&autumn, "2026-10-25T01:10:00Z");
    assert_eq!(autumn.local(again).minute, minute("02:10"));
    assert_eq!(sunday.at(&autumn, again), Opening::Closed);

    let spring = changed(&berlin(), mapped(&berlin(), utc_ms("2026-03-28T10:00:00Z")));
    let late = week(&[(Weekday::Sunday, &[("02:30", "05:00")])]);
    assert_eq!(late.at(&spring, at(&spring, "2026-03-29T01:29:00Z")), Opening::Closed);
    let closing = at(&spring, "2026-03-29T03:00:00Z");
    assert_eq!(late.at(&spring, at(&spring, "2026-03-29T01:30:00Z")), Opening::Until(closing));
}
