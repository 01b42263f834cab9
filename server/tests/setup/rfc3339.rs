//! The one place where RFC 3339 is read: the programme's day, a `full-date` of its section 5.6.

use turnabout_server::floor::config::Day;
use turnabout_server::setup::parse_programme;

use crate::small::{PROGRAMME, changed, floor, told_of_programme};

fn dated(date: &str) -> String {
    changed(PROGRAMME, "[[client]]", &format!("date = {date}\n[[client]]"))
}

fn day(date: &str) -> Option<Day> {
    parse_programme("programme.toml", &dated(date), &floor().floor).ok()?.programme.day
}

/// RFC 3339, section 5.8: the examples, each an instant where a day is wanted. The leap second is one that was.
const INSTANTS: [&str; 5] = [
    "1985-04-12T23:20:50.52Z",
    "1996-12-19T16:39:57-08:00",
    "1990-12-31T23:59:60Z",
    "1990-12-31T15:59:60-08:00",
    "1937-01-01T12:00:27.87+00:20",
];

#[test]
fn an_instant_is_no_day_and_is_refused_at_its_place() {
    for instant in INSTANTS {
        let told = told_of_programme(&dated(instant));
        let expected = "programme.toml:1:8: date: found a date or time, allowed a day without quotation marks \
                        such as 2026-11-25";
        assert_eq!(told, [expected], "{instant}");
    }
}

#[test]
fn the_days_of_the_examples_are_read() {
    for (date, year, month, day_of_month) in [
        ("1985-04-12", 1985, 4, 12),
        ("1996-12-20", 1996, 12, 20),
        ("1990-12-31", 1990, 12, 31),
        ("1937-01-01", 1937, 1, 1),
    ] {
        assert_eq!(day(date), Some(Day { year, month, day: day_of_month }));
    }
}

/// RFC 3339, section 5.7: days a month; appendix C: leap years.
#[test]
fn only_days_that_exist_are_read() {
    for (leap, year) in
        [(true, 2000), (true, 2024), (true, 2400), (false, 1900), (false, 2023), (false, 2100)]
    {
        assert_eq!(day(&format!("{year}-02-29")).is_some(), leap, "{year}");
    }
    for (month, days) in [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31].into_iter().enumerate() {
        let month = month + 1;
        assert!(day(&format!("2023-{month:02}-{days}")).is_some(), "{month}");
        assert_eq!(day(&format!("2023-{month:02}-{}", days + 1)), None, "{month}");
    }
    for date in
        ["2023-00-10", "2023-13-10", "2023-10-00", "23-10-10", "2023-1-10", "2023/10/10", "12023-10-10"]
    {
        let told = told_of_programme(&dated(date));
        assert!(
            !told.is_empty() && told.iter().all(|line| line.starts_with("programme.toml:1:")),
            "{told:?}"
        );
    }
}
