//! Every mistake in an instance, with its place and its words.

use serde_json::{Value, json};
use turnabout_server::timetable::format::{Mistake, read_instance};

use crate::small::{self, Put, put, turn};

/// The mistakes of a document.
fn mistakes(document: &Value) -> Vec<Mistake> {
    read_instance(&document.to_string()).map(|_| Vec::new()).unwrap_or_else(|mistakes| mistakes.list)
}

/// Each change alone leads to exactly this mistake.
#[track_caller]
fn each(rows: Vec<(&str, Put, &str)>) {
    for (pointer, value, line) in rows {
        let mut document = small::instance();
        put(&mut document, pointer, value.clone());
        let lines: Vec<String> = mistakes(&document).iter().map(ToString::to_string).collect();
        assert_eq!(lines, [line], "{pointer} {value:?}");
    }
}

const ROUND: &str = "groups[0].members[0].rounds[1]";

#[test]
fn the_small_evening_has_none() {
    assert_eq!(mistakes(&small::instance()), []);
}

#[test]
fn of_the_whole() {
    each(vec![
        (
            "/format",
            json!("timetable-instance/1").into(),
            "format: \"timetable-instance/2\" is wanted, not \"timetable-instance/1\"",
        ),
        ("/name", json!(7).into(), "name: a string is wanted, not 7"),
        ("/now", json!(-1).into(), "now: an integer >= 0 is wanted, not -1"),
        ("/now", json!(1.5).into(), "now: an integer >= 0 is wanted, not 1.5"),
        ("/now", json!("1").into(), "now: an integer >= 0 is wanted, not \"1\""),
        ("/now", json!(true).into(), "now: an integer >= 0 is wanted, not true"),
        ("/plate_s", json!(null).into(), "plate_s: an integer >= 0 is wanted, not null"),
        ("/collar_s", json!([]).into(), "collar_s: an integer >= 0 is wanted, not []"),
        ("/pin_s", json!({}).into(), "pin_s: an integer >= 0 is wanted, not an object"),
        ("/pin_s", Put::Gone, "field pin_s is missing"),
        (
            "/changeover_wait_max",
            json!(-2).into(),
            "changeover_wait_max: an integer >= 0 or null is wanted, not -2",
        ),
        (
            "/tasks",
            json!([]).into(),
            "unknown field tasks; there are format, name, now, weights, plate_s, collar_s, pin_s, changeover_wait_max, \
             stations, walk, coach_walk, coaches, groups and names that begin with x_",
        ),
        ("/stations", json!(3).into(), "stations: a list is wanted, not 3"),
        ("/groups", json!({}).into(), "groups: a list is wanted, not an object"),
        ("/coaches", json!(null).into(), "coaches: a list is wanted, not null"),
    ]);
}

#[test]
fn of_prices() {
    each(vec![
        ("/weights", json!([]).into(), "weights: an object is wanted, not []"),
        ("/weights/flow", json!(-1).into(), "weights.flow: an integer >= 0 is wanted, not -1"),
        ("/weights/late", Put::Gone, "weights: field late is missing"),
        ("/weights/overrun", json!(30).into(), "weights.overrun: a list is wanted, not 30"),
        ("/weights/overrun/1", json!([15]).into(), "weights.overrun[1]: a list of 2 is wanted, not of 1"),
        (
            "/weights/overrun/1/1",
            json!(-1).into(),
            "weights.overrun[1][1]: an integer >= 0 is wanted, not -1",
        ),
        (
            "/weights/overrun/2/0",
            json!(15).into(),
            "weights.overrun[2][0]: an ascending number is wanted, not 15 after 15",
        ),
        ("/weights/door/0/0", json!("a").into(), "weights.door[0][0]: an integer >= 0 is wanted, not \"a\""),
        ("/weights/x_free_start", json!(1).into(), "weights.x_free_start: true or false is wanted, not 1"),
    ]);
}

#[test]
fn of_stations_walks_and_coaches() {
    each(vec![
        ("/stations/1", json!(4).into(), "stations[1]: an object is wanted, not 4"),
        ("/stations/1/id", json!(0).into(), "stations[1].id: an integer 1..1 is wanted, not 0"),
        (
            "/stations/0/kind",
            json!("rack").into(),
            "stations[0].kind: bar or stack or plain is wanted, not \"rack\"",
        ),
        ("/stations/0/free_at", json!(-3).into(), "stations[0].free_at: an integer >= 0 is wanted, not -3"),
        ("/stations/0/load", json!([0]).into(), "stations[0].load[0]: an integer >= 1 is wanted, not 0"),
        (
            "/stations/0/load",
            json!(20000).into(),
            "stations[0].load: station 0 is a bar: a list of grams or null is wanted, not 20000",
        ),
        (
            "/stations/1/load",
            json!([20000]).into(),
            "stations[1].load: station 1 is a stack: an integer of grams or null is wanted, not [20000]",
        ),
        (
            "/stations/1/load",
            json!(-5).into(),
            "stations[1].load: a list of grams (integers >= 1), an integer of grams or null is wanted, not -5",
        ),
        ("/stations/1/busy", json!(null).into(), "stations[1].busy: a list is wanted, not null"),
        (
            "/stations/1/busy/0",
            json!([600, 600]).into(),
            "stations[1].busy[0]: from < to is wanted, not from 600 to 600",
        ),
        (
            "/stations/1/busy/0/0",
            json!(-1).into(),
            "stations[1].busy[0][0]: an integer >= 0 is wanted, not -1",
        ),
        ("/stations/1/work_in", json!(null).into(), "stations[1].work_in: true or false is wanted, not null"),
        ("/walk/2", Put::Gone, "walk: a list of 3 is wanted, not of 2"),
        ("/walk/1/2", Put::Gone, "walk[1]: a list of 3 is wanted, not of 2"),
        ("/coach_walk/1/2", json!(null).into(), "coach_walk[1][2]: an integer >= 0 is wanted, not null"),
        ("/walk/2/0", json!(11).into(), "walk[2][0]: 11 s is longer than the way over station 1, 10 s"),
        (
            "/coach_walk/0/2",
            json!(9).into(),
            "coach_walk[0][2]: 9 s is longer than the way over station 1, 8 s",
        ),
        ("/coaches/1/at", json!(3).into(), "coaches[1].at: an integer 0..2 or null is wanted, not 3"),
        ("/coaches/0/busy/0", json!([1, 2, 3]).into(), "coaches[0].busy[0]: a list of 2 is wanted, not of 3"),
        ("/coaches/1/id", json!(2).into(), "coaches[1].id: an integer 1..1 is wanted, not 2"),
        ("/coaches/0/free_at", Put::Gone, "coaches[0]: field free_at is missing"),
        (
            "/coaches/0/name",
            json!("a").into(),
            "coaches[0]: unknown field name; there are id, free_at, at, busy and names that begin with x_",
        ),
    ]);
}

#[test]
fn of_groups() {
    each(vec![
        ("/groups/1", json!([]).into(), "groups[1]: an object is wanted, not []"),
        ("/groups/1/id", json!(0).into(), "groups[1].id: an integer 1..1 is wanted, not 0"),
        ("/groups/1/coach", json!(2).into(), "groups[1].coach: an integer 0..1 is wanted, not 2"),
        ("/groups/1/together", json!(0).into(), "groups[1].together: true or false is wanted, not 0"),
        ("/groups/1/rest_min", json!(null).into(), "groups[1].rest_min: an integer >= 0 is wanted, not null"),
        (
            "/groups/1/rest_max",
            json!("x").into(),
            "groups[1].rest_max: an integer >= 0 or null is wanted, not \"x\"",
        ),
        (
            "/groups/1/rest_max",
            json!(29).into(),
            "groups[1].rest_max: the longest rest, 29 s, is shorter than the shortest, 30 s",
        ),
        ("/groups/1/legs", json!([]).into(), "groups[1].legs: at least one is wanted"),
        ("/groups/1/legs/0", json!({}).into(), "groups[1].legs[0]: field eligible is missing"),
        ("/groups/1/legs/0/eligible", json!([]).into(), "groups[1].legs[0].eligible: at least one is wanted"),
        (
            "/groups/1/legs/0/eligible",
            json!([3]).into(),
            "groups[1].legs[0].eligible[0]: an integer 0..2 is wanted, not 3",
        ),
        ("/groups/1/members", json!([]).into(), "groups[1].members: at least one is wanted"),
        ("/groups/1/members", Put::Gone, "groups[1]: field members is missing"),
        ("/groups/0/holds", json!(null).into(), "groups[0].holds: a list is wanted, not null"),
        ("/groups/0/holds", json!([9]).into(), "groups[0].holds[0]: an integer 0..2 is wanted, not 9"),
        ("/groups/1/holds", json!([1]).into(), "groups[1].holds[0]: station 1 is held by group 0 too"),
        ("/groups/0/holds", json!([1, 1]).into(), "groups[0].holds[1]: station 1 is held by group 0 too"),
        ("/groups/0/order", json!(1).into(), "groups[0].order: a list is wanted, not 1"),
        ("/groups/0/order", json!([2]).into(), "groups[0].order[0]: an integer 0..1 is wanted, not 2"),
        ("/groups/0/order", json!([1, 1]).into(), "groups[0].order[1]: member 1 is listed twice"),
        ("/groups/1/order", json!([0]).into(), "groups[1].order[0]: member 0 has not begun"),
    ]);
}

#[test]
fn of_groups_who_train_together() {
    let mut document = small::instance();
    put(&mut document, "/groups/0/together", json!(true).into());
    assert_eq!(mistakes(&document), [], "station 1 suits both");
    put(&mut document, "/groups/0/legs/1/eligible", json!([2]).into());
    let nowhere =
        "groups[0].together: true, but station 1, fixed for member 0, does not suit leg 1 of the others";
    assert_eq!(mistakes(&document)[0].to_string(), nowhere);
    put(&mut document, "/groups/0/members/1/stations", json!([0, 1]).into());
    assert_eq!(mistakes(&document), [], "both are fixed");
    put(&mut document, "/groups/0/members/1/stations", json!([0, 2]).into());
    let differ = "groups[0].together: true, but the members' fixed stations differ";
    assert_eq!(mistakes(&document)[0].to_string(), differ);
}

#[test]
fn of_members() {
    each(vec![
        ("/groups/1/members/0", json!(1).into(), "groups[1].members[0]: an object is wanted, not 1"),
        (
            "/groups/1/members/0/id",
            json!(1).into(),
            "groups[1].members[0].id: an integer 0..0 is wanted, not 1",
        ),
        (
            "/groups/1/members/0/release",
            json!(null).into(),
            "groups[1].members[0].release: an integer >= 0 is wanted, not null",
        ),
        (
            "/groups/0/members/1/due",
            json!(null).into(),
            "groups[0].members[1].due: an integer >= 0 is wanted, not null",
        ),
        (
            "/groups/1/members/0/last_round_end",
            json!(-1).into(),
            "groups[1].members[0].last_round_end: an integer >= 0 or null is wanted, not -1",
        ),
        (
            "/groups/0/members/0/stations",
            json!([0]).into(),
            "groups[0].members[0].stations: a list of 2 is wanted, not of 1",
        ),
        (
            "/groups/0/members/0/stations/1",
            json!(5).into(),
            "groups[0].members[0].stations[1]: an integer 0..2 is wanted, not 5",
        ),
        (
            "/groups/0/members/0/stations",
            json!([0, 0]).into(),
            "groups[0].members[0].rounds[0].legs[1].load: station 0 is a bar: a list of grams or null is wanted, not 40000",
        ),
        (
            "/groups/0/members/0/under_way/legs_done",
            json!(2).into(),
            "groups[0].members[0].under_way.legs_done: an integer 1..1 is wanted, not 2",
        ),
        (
            "/groups/1/members/0/under_way",
            json!({"legs_done": 1, "last_end": 3}).into(),
            "groups[1].members[0].under_way.legs_done: nothing (there is none to name) is wanted, not 1",
        ),
        (
            "/groups/0/members/0/under_way",
            json!(1).into(),
            "groups[0].members[0].under_way: an object is wanted, not 1",
        ),
        (
            "/groups/0/members/0/under_way/last_end",
            json!(null).into(),
            "groups[0].members[0].under_way.last_end: an integer >= 0 is wanted, not null",
        ),
        (
            "/groups/0/members/0/rounds",
            json!([]).into(),
            "groups[0].members[0].under_way: there is no round that could be under way",
        ),
        (
            "/groups/0/members/0/rounds",
            json!(0).into(),
            "groups[0].members[0].rounds: a list is wanted, not 0",
        ),
    ]);
}

#[test]
fn of_rounds() {
    let at = |rest: &str| format!("{ROUND}{rest}");
    let rows: Vec<(&str, Put, String)> = vec![
        ("", json!(3).into(), at(": an object is wanted, not 3")),
        ("/round", json!(1).into(), at(".round: an ascending number is wanted, not 1 after 1")),
        ("/round", json!(-1).into(), at(".round: an integer >= 0 is wanted, not -1")),
        ("/coach", json!(2).into(), at(".coach: an integer 0..1 is wanted, not 2")),
        ("/rest_min", json!(null).into(), at(".rest_min: an integer >= 0 is wanted, not null")),
        ("/rest_max", json!(-1).into(), at(".rest_max: an integer >= 0 or null is wanted, not -1")),
        (
            "/rest_max",
            json!(69).into(),
            at(".rest_max: the longest rest, 69 s, is shorter than the shortest, 70 s"),
        ),
        ("/not_before", json!(null).into(), at(".not_before: an integer >= 0 is wanted, not null")),
        ("/told", json!(null).into(), at(".told: a list is wanted, not null")),
        ("/told", json!([250]).into(), at(".told: a list of 2 is wanted, not of 1")),
        ("/told", json!([-1, null]).into(), at(".told[0]: an integer >= 0 or null is wanted, not -1")),
        ("/told", json!([null, 300]).into(), at(".told[1]: null is wanted: the leg is done or skipped")),
        ("/legs", json!([null]).into(), at(".legs: a list of 2 is wanted, not of 1")),
        ("/legs", json!([null, null]).into(), at(".legs: a round without a turn left: leave it out")),
        ("/legs/1", json!(5).into(), at(".legs[1]: an object is wanted, not 5")),
        ("/legs/0/dur", json!(0).into(), at(".legs[0].dur: an integer >= 1 is wanted, not 0")),
        ("/legs/0/dur", Put::Gone, at(".legs[0]: field dur is missing")),
        (
            "/legs/0/load",
            json!("20").into(),
            at(
                ".legs[0].load: a list of grams (integers >= 1), an integer of grams or null is wanted, not \"20\"",
            ),
        ),
        (
            "/legs/0/load",
            json!(20).into(),
            at(".legs[0].load: station 0 is a bar: a list of grams or null is wanted, not 20"),
        ),
        (
            "/legs/0/spot",
            json!(null).into(),
            at(".legs[0].spot: true, false or [from, to] with 0 <= from < to <= 40 is wanted, not null"),
        ),
        (
            "/legs/0/spot",
            json!([10, 41]).into(),
            at(".legs[0].spot: true, false or [from, to] with 0 <= from < to <= 40 is wanted, not [10,41]"),
        ),
        (
            "/legs/0/spot",
            json!([10, 10]).into(),
            at(".legs[0].spot: true, false or [from, to] with 0 <= from < to <= 40 is wanted, not [10,10]"),
        ),
        (
            "/legs/0/spot",
            json!([1]).into(),
            at(".legs[0].spot: true, false or [from, to] with 0 <= from < to <= 40 is wanted, not [1]"),
        ),
    ];
    for (pointer, value, line) in rows {
        let mut document = small::instance();
        put(&mut document, &format!("/groups/0/members/0/rounds/1{pointer}"), value);
        let lines: Vec<String> = mistakes(&document).iter().map(ToString::to_string).collect();
        assert_eq!(lines, [line], "{pointer}");
    }
    let way = "groups[0].members[0].rounds[0]";
    for (pointer, value, line) in [
        ("/told", json!([90, null]), ".told[0]: null is wanted: the leg is done or skipped"),
        ("/legs/0", json!(null), ".legs[0]: the leg done last cannot be null"),
        (
            "/legs",
            json!([turn(40, json!([20000]), false), null]),
            ".legs: a round without a turn left: leave it out",
        ),
    ] {
        let mut document = small::instance();
        put(&mut document, "/groups/0/members/0/rounds/0/told", json!([null, null]).into());
        put(&mut document, &format!("/groups/0/members/0/rounds/0{pointer}"), value.into());
        let lines: Vec<String> = mistakes(&document).iter().map(ToString::to_string).collect();
        assert_eq!(lines, [format!("{way}{line}")], "{pointer}");
    }
}

/// All mistakes are told, not only the first, and up to the limit.
#[test]
fn many_at_once() {
    let mut document = small::instance();
    for (pointer, value) in [
        ("/now", json!(-1)),
        ("/weights/flow", json!("10")),
        ("/walk/0/1", json!(null)),
        ("/groups/0/members/0/rounds/0/legs/1/dur", json!(0)),
        ("/groups/1/coach", json!(7)),
    ] {
        put(&mut document, pointer, value.into());
    }
    let places: Vec<String> = mistakes(&document).into_iter().map(|mistake| mistake.at).collect();
    let wanted = [
        "now",
        "weights.flow",
        "walk[0][1]",
        "groups[0].members[0].rounds[0].legs[1].dur",
        "groups[1].coach",
    ];
    assert_eq!(places, wanted);
    for n in 0..33 {
        put(&mut document, &format!("/field{n}"), json!(n).into());
    }
    let mistakes = read_instance(&document.to_string()).unwrap_err();
    assert_eq!((mistakes.list.len(), mistakes.left_out), (20, 18));
    assert!(mistakes.to_string().ends_with("\nand 18 more"), "{mistakes}");
}

#[test]
fn what_is_no_json_says_where() {
    for text in ["", "{", "[1, 2", "{\"now\": NaN}", "nul"] {
        let mistakes = read_instance(text).unwrap_err().to_string();
        assert!(mistakes.starts_with("not JSON: ") && mistakes.contains("line 1"), "{mistakes}");
    }
    let deep = "[".repeat(100_000);
    assert!(read_instance(&deep).unwrap_err().to_string().starts_with("not JSON: "));
    assert_eq!(read_instance("[]").unwrap_err().to_string(), "an object is wanted, not []");
}
