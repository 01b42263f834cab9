//! What a client did before the journal: what is read, and every kind of mistake in it.

use turnabout_protocol::command::Ending;
use turnabout_protocol::ids::{ClientId, ExerciseId, StationId};
use turnabout_protocol::units::{Mass, Secs};
use turnabout_protocol::work::Work;
use turnabout_server::floor::config::{Day, Earlier, Programme};
use turnabout_server::setup::{parse_floor, parse_programme};
use turnabout_server::training::session::LastSet;

use crate::small::{FLOOR, PROGRAMME, changed, floor, told_of};

/// A set on the bench, as files write it.
const SET: &str = "[[client.earlier]]\nstation = \"bench-1\"\nexercise = \"bench-press\"\non = 2026-11-18\nload = \"40 kg\"\ngoal = \"8-10\"\nreps = 9\n";

/// The small programme with these lines after the first client's name.
fn with(lines: &str) -> String {
    changed(PROGRAMME, "name = \"Dara\"\n", &format!("name = \"Dara\"\n{lines}"))
}

fn read(text: &str) -> Programme {
    let file = parse_programme("programme.toml", text, &floor().floor);
    file.unwrap_or_else(|mistakes| panic!("{mistakes}\n{text}")).programme
}

fn earlier(text: &str) -> Vec<Earlier> {
    read(text).clients[&ClientId(104)].earlier.clone()
}

/// What is told about a programme, without the name of the file and of the table.
fn told(floor: &str, programme: &str) -> Vec<String> {
    let lines = told_of(floor, programme);
    let place = |line: &String| {
        line.strip_prefix("programme.toml:").expect("a place").replace("client[1].earlier", "")
    };
    lines.iter().map(place).collect()
}

const fn day(day: u8) -> Day {
    Day { year: 2026, month: 11, day }
}

#[test]
fn a_set_is_read_as_it_is_written() {
    let set = LastSet {
        load: Mass::from_grams(40_000).into(),
        goal: Work::Reps { least: 8, most: 10 },
        reps: 9,
        ending: Ending::Complete,
    };
    let press = Earlier { station: StationId(1), exercise: ExerciseId(1), day: day(18), set };
    assert_eq!(earlier(&with(SET)), [press]);
    assert!(earlier(PROGRAMME).is_empty());
    let text = with(SET);
    let row = serde_json::to_string(&read(&text)).expect("a programme");
    assert_eq!(serde_json::from_str::<Programme>(&row).expect("the same"), read(&text));
}

#[test]
fn every_ending_is_read() {
    for (said, ending) in [
        ("ending = \"complete\"", Ending::Complete),
        ("ending = \"short\"", Ending::Short),
        ("ending = \"failed\"", Ending::Failed),
        ("ending = \"form-broken\"", Ending::FormBroken),
        ("ending = \"equipment-fault\"", Ending::EquipmentFault),
        ("ending = \"stopped\"", Ending::Stopped),
        ("helped = 2", Ending::Helped { reps: 2 }),
        ("ending = \"helped\"\nhelped = 1", Ending::Helped { reps: 1 }),
    ] {
        let [set] = earlier(&with(&format!("{SET}{said}\n")))[..] else { panic!("{said}") };
        assert_eq!((set.set.ending, set.set.reps), (ending, 9), "{said}");
    }
}

#[test]
fn a_hold_counts_as_one_where_all_of_it_was_held() {
    let hold = changed(SET, "goal = \"8-10\"\nreps = 9\n", "goal = \"30 s\"\n");
    for (more, reps) in [("", 1), ("ending = \"short\"\n", 0)] {
        let [set] = earlier(&with(&format!("{hold}{more}")))[..] else { panic!("{more}") };
        assert_eq!((set.set.goal, set.set.reps), (Work::Hold { secs: Secs(30) }, reps));
    }
}

#[test]
fn the_last_two_days_are_kept_in_the_order_of_time() {
    let before = changed(SET, "11-18", "11-11");
    let row = changed(&changed(SET, "bench-1", "row-1"), "bench-press", "cable-row");
    let days =
        |text: &str| earlier(&with(text)).iter().map(|set| (set.day.day, set.station.0)).collect::<Vec<_>>();
    assert_eq!(days(&format!("{SET}{before}{row}")), [(11, 1), (18, 1), (18, 2)]);
    assert_eq!(read(&with(&format!("{SET}{before}"))), read(&with(&format!("{before}{SET}"))));
}

/// A line of the set, what it is changed to, and everything that is told.
const MISTAKES: &[(&str, &str, &[&str])] = &[
    (
        "\"bench-1\"",
        "\"bench-2\"",
        &[
            "5:11: [1].station: found \"bench-2\", allowed the key of a station in the floor file (did you mean \"bench-1\"?)",
        ],
    ),
    (
        "\"bench-press\"",
        "\"bench-pres\"",
        &[
            "6:12: [1].exercise: found \"bench-pres\", allowed the key of an exercise in the floor file (did you mean \"bench-press\"?)",
        ],
    ),
    (
        "\"bench-1\"",
        "\"row-1\"",
        &[
            "5:11: [1].station: found \"row-1\", allowed \"bench-1\": where bench-press is done (loads compare nowhere else, so leave out what was done elsewhere)",
        ],
    ),
    (
        "load = \"40 kg\"",
        "load = \"41 kg\"",
        &["8:8: [1].load: found 41 kg, allowed what bench-1 can be set to: the nearest are 40 kg and 45 kg"],
    ),
    (
        "load = \"40 kg\"",
        "load = \"19 kg\"",
        &["8:8: [1].load: found 19 kg, allowed what bench-1 can be set to: 20 kg is the lightest"],
    ),
    (
        "load = \"40 kg\"",
        "load = \"70 %\"",
        &[
            "8:8: [1].load: found \"70 %\", allowed a mass such as \"82.5 kg\" or \"45 lb\", above zero, at most 9000 kg, at most 4 decimals; where labels are mere numbers a pin such as \"pin 7\", 1 to 200",
        ],
    ),
    (
        "on = 2026-11-18",
        "on = \"2026-11-18\"",
        &[
            "7:6: [1].on: found \"2026-11-18\", allowed a day without quotation marks such as 2026-11-25 (write it without quotation marks: 2026-11-18)",
        ],
    ),
    (
        "goal = \"8-10\"",
        "goal = \"10-8\"",
        &["9:8: [1].goal: found 10-8, allowed a range with its lower end first (write it as \"8-10\")"],
    ),
    ("reps = 9", "reps = 101", &["10:8: [1].reps: found 101, allowed a whole number, 0 to 100"]),
    ("reps = 9\n", "", &["4:1: [1].reps: found nothing, allowed a whole number, 0 to 100"]),
    (
        "reps = 9",
        "reps = 7",
        &[
            "10:8: [1].reps: found 7 of a set that was complete, allowed 8 or more, as its goal says (write how it ended, such as ending = \"short\")",
        ],
    ),
    ("goal = \"8-10\"", "goal = \"30 s\"", &["10:8: [1].reps: found repetitions of a hold, allowed none"]),
    (
        "reps = 9",
        "reps = 7\nending = \"shrot\"",
        &[
            "11:10: [1].ending: found \"shrot\", allowed \"complete\" or \"short\" or \"helped\" or \"failed\" or \"form-broken\" or \"equipment-fault\" or \"stopped\" (did you mean \"short\"?)",
        ],
    ),
    (
        "reps = 9",
        "reps = 7\nending = \"helped\"",
        &["4:1: [1].helped: found nothing, allowed a whole number, 1 to 100"],
    ),
    (
        "reps = 9",
        "reps = 7\nending = \"failed\"\nhelped = 1",
        &[
            "12:10: [1].helped: found helped repetitions of a set that ended otherwise, allowed with ending = \"helped\" or without one",
        ],
    ),
    ("reps = 9", "reps = 7\nhelped = 0", &["11:10: [1].helped: found 0, allowed a whole number, 1 to 100"]),
    (
        "reps = 9",
        "rep = 9",
        &[
            "4:1: [1].reps: found nothing, allowed a whole number, 0 to 100",
            "10:1: [1].rep: found a field that is not known, allowed station, exercise, on, load, goal, reps, ending, helped (did you mean reps?)",
        ],
    ),
];

#[test]
fn every_kind_of_mistake_is_told_at_its_place() {
    for (from, to, expected) in MISTAKES {
        assert_eq!(told(FLOOR, &with(&changed(SET, from, to))), *expected, "{from:?} changed to {to:?}");
    }
    let plain = changed(&changed(SET, "bench-1", "mat"), "bench-press", "push-up");
    assert_eq!(
        told(FLOOR, &with(&plain)),
        ["6:12: [1].exercise: found push-up, allowed an exercise with a load: this one has nothing to set"]
    );
    let inline = with("earlier = 3\n");
    assert_eq!(told(FLOOR, &inline).len(), 1);
}

#[test]
fn a_set_after_the_day_of_the_programme_is_told() {
    let on = |date: &str| format!("date = {date}\n{}", with(SET));
    assert_eq!(told(FLOOR, &on("2026-11-18")), [""; 0]);
    assert_eq!(
        told(FLOOR, &on("2026-11-17")),
        ["8:6: [1].on: found 2026-11-18, allowed a day up to 2026-11-17, the date of this programme"]
    );
}

#[test]
fn two_of_one_day_and_a_third_are_told() {
    assert_eq!(
        told(FLOOR, &with(&format!("{SET}{SET}"))),
        [
            "14:6: [2].on: found 2026-11-18 again, allowed once for bench-press at bench-1; it stands in line 7 too (write the last set of that day alone)"
        ]
    );
    let on = |day: &str| changed(SET, "2026-11-18", day);
    assert_eq!(
        told(FLOOR, &with(&format!("{}{SET}{}", on("2026-11-04"), on("2026-11-11")))),
        [
            "21:6: [3].on: found a third set for bench-press at bench-1, allowed two: the last and the one before (keep the two latest)"
        ]
    );
}

#[test]
fn the_example_tells_of_two_stations() {
    let floor = parse_floor("floor.toml", include_str!("../../examples/floor.toml"), None);
    let floor = floor.unwrap_or_else(|mistakes| panic!("{mistakes}")).floor;
    let file = parse_programme("evening.toml", include_str!("../../examples/evening.toml"), &floor);
    let programme = file.unwrap_or_else(|mistakes| panic!("{mistakes}")).programme;
    let sets = &programme.clients[&ClientId(201)].earlier;
    let key = |set: &Earlier| floor.stations[&set.station].key.to_string();
    let told: Vec<_> = sets.iter().map(|set| (set.day.day, key(set), set.set.reps, set.set.ending)).collect();
    let (row, bench) = ("row-1".to_owned(), "bench-1".to_owned());
    assert_eq!(
        told,
        [
            (11, row.clone(), 7, Ending::Short),
            (18, bench, 6, Ending::Helped { reps: 2 }),
            (18, row, 12, Ending::Complete),
            (18, "leg-1".to_owned(), 12, Ending::Complete),
        ]
    );
}
