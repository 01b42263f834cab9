//! Opening hours in a floor file: what they mean, and every mistake in them.

use turnabout_server::floor::hours::{Hours, Opening};
use turnabout_server::floor::local_time::Weekday;
use turnabout_server::floor::state::ClockMapping;
use turnabout_server::setup::parse_floor;

use crate::small::{FLOOR, changed, told_of_floor};

/// The small floor file with these lines under `[floor.hours]`, which stand from line 9 on.
fn file(lines: &str) -> String {
    changed(FLOOR, "\n\n[[station]]", &format!("\n[floor.hours]\n{lines}\n\n[[station]]"))
}

fn hours(lines: &str) -> Hours {
    let file = parse_floor("floor.toml", &file(lines), None).unwrap_or_else(|mistakes| panic!("{mistakes}"));
    file.floor.hours
}

fn said(hours: &Hours, day: Weekday) -> String {
    hours.windows(day).iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")
}

#[test]
fn a_day_is_open_as_its_own_list_says_or_else_the_daily_one() {
    let text = "daily = [\"14:00-22:30\", \"06:00 - 12:00\"]\nfriday = [\"18:00-24:00\"]\nsunday = []";
    let hours = hours(text);
    for (day, expected) in [
        (Weekday::Monday, "06:00-12:00 14:00-22:30"),
        (Weekday::Thursday, "06:00-12:00 14:00-22:30"),
        (Weekday::Friday, "18:00-24:00"),
        (Weekday::Sunday, ""),
    ] {
        assert_eq!(said(&hours, day), expected, "{day:?}");
    }
}

#[test]
fn a_day_without_any_list_is_closed_and_a_floor_without_hours_never_is() {
    let only = hours("monday = [\"08:00-12:00\", \"12:00-20:00\"]");
    assert_eq!(said(&only, Weekday::Monday), "08:00-12:00 12:00-20:00");
    assert_eq!(said(&only, Weekday::Tuesday), "");
    assert!(!only.is_always());
    assert!(parse_floor("floor.toml", FLOOR, None).unwrap().floor.hours.is_always());
    let day_and_night = hours("daily = [\"00:00-24:00\"]");
    assert_eq!(day_and_night.at(&ClockMapping::default(), Default::default()), Opening::Always);
}

#[test]
fn a_floor_with_hours_survives_the_journal_and_one_without_reads_as_always_open() {
    for text in [FLOOR.to_owned(), file("daily = [\"06:00-22:00\"]\nsunday = []")] {
        let floor = parse_floor("floor.toml", &text, None).unwrap().floor;
        let json = serde_json::to_string(&floor).unwrap();
        assert_eq!(json.contains("\"hours\""), !floor.hours.is_always());
        assert_eq!(serde_json::from_str::<turnabout_server::floor::config::Floor>(&json).unwrap(), floor);
    }
}

#[test]
fn every_mistake_in_the_hours_is_told_at_once() {
    let allowed = "allowed hours such as \"06:00-22:00\", within 00:00 and 24:00";
    let lines = "daily = [\"06:00-22:00\", \"21:59-23:00\"]\nmonday = [\"6-22\", \"22:00-06:00\", 7]\n\
                 tuesday = [\"08:00-24:01\", \"09:00-09:00\", \"18:00-00:00\"]\nwensday = []\nfriday = \"06:00-22:00\"";
    let expected = [
        "10:25: floor.hours.daily[2]: found 21:59-23:00, allowed hours that do not overlap 06:00-22:00 (make one of the two)".to_owned(),
        format!("11:11: floor.hours.monday[1]: found \"6-22\", {allowed}"),
        "11:19: floor.hours.monday[2]: found 22:00-06:00, allowed an end after 22:00, at most 24:00 (past midnight: \"22:00-24:00\" here, and \"00:00-06:00\" on the day after)".to_owned(),
        format!("11:34: floor.hours.monday[3]: found 7, {allowed}"),
        format!("12:12: floor.hours.tuesday[1]: found \"08:00-24:01\", {allowed}"),
        "12:27: floor.hours.tuesday[2]: found 09:00-09:00, allowed an end after 09:00, at most 24:00".to_owned(),
        "12:42: floor.hours.tuesday[3]: found 18:00-00:00, allowed an end after 18:00, at most 24:00 (midnight at the end of a day is 24:00: \"18:00-24:00\")".to_owned(),
        "13:1: floor.hours.wensday: found a field that is not known, allowed daily, monday, tuesday, wednesday, thursday, friday, saturday, sunday (did you mean wednesday?)".to_owned(),
        "14:10: floor.hours.friday: found \"06:00-22:00\", allowed a list of 0 to 6".to_owned(),
    ];
    assert_eq!(told_of_floor(&file(lines)), expected.map(|line| format!("floor.toml:{line}")));
}

#[test]
fn a_floor_that_never_opens_is_refused_unless_something_could_not_be_read() {
    let never = "floor.toml:9:1: floor.hours: found no opening hours in the whole week, allowed some \
                 (leave floor.hours out where the floor never closes)";
    for lines in ["", "daily = []", "monday = []\nsunday = []"] {
        assert_eq!(told_of_floor(&file(lines)), [never], "{lines:?}");
    }
    for unread in ["daily = [\"all day\"]", "daily = \"06:00-22:00\"", "dialy = [\"06:00-22:00\"]"] {
        assert_eq!(told_of_floor(&file(unread)).len(), 1, "{unread:?}");
    }
    let many = format!("daily = [{}]", "\"06:00-07:00\", ".repeat(7));
    let told = told_of_floor(&file(&many));
    assert!(told[5].contains("found a list of 7, allowed a list of 0 to 6"), "{told:?}");
}
