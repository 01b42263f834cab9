//! Every kind of mistake in a floor file, with its place and words.

use crate::small::{FLOOR, changed, told_of_floor};

/// A line of the small floor file, what it is changed to, and everything that is told.
type Case = (&'static str, &'static str, &'static [&'static str]);

fn check(cases: &[Case]) {
    for (from, to, expected) in cases {
        let told = told_of_floor(&changed(FLOOR, from, to));
        let expected: Vec<String> = expected.iter().map(|line| format!("floor.toml:{line}")).collect();
        assert_eq!(told, expected, "{from:?} changed to {to:?}");
    }
}

const THE_HEAD: &[Case] = &[
    (
        "name = \"Small floor\"\n",
        "",
        &["1:1: floor.name: found nothing, allowed text in quotation marks, 1 to 40 characters on one line"],
    ),
    (
        "zone",
        "zoen",
        &[
            "1:1: floor.zone: found nothing, allowed an IANA time zone such as \"Europe/Berlin\"",
            "3:1: floor.zoen: found a field that is not known, allowed name, zone, emergency, settings, hours, handles, policy, loads (did you mean zone?)",
        ],
    ),
    (
        "\"UTC\"",
        "\"Europe/Berln\"",
        &[
            "3:8: floor.zone: found \"Europe/Berln\", allowed an IANA time zone such as \"Europe/Berlin\" (did you mean \"Europe/Berlin\"?)",
        ],
    ),
    (
        "\"UTC\"",
        "\"Nowhere\"",
        &["3:8: floor.zone: found \"Nowhere\", allowed an IANA time zone such as \"Europe/Berlin\""],
    ),
    (
        "name = \"Small floor\"",
        "name = \"\"",
        &["2:8: floor.name: found \"\", allowed text in quotation marks, 1 to 40 characters on one line"],
    ),
    (
        "\"Small floor\"",
        "\"a floor with a name that nobody can read from afar\"",
        &[
            "2:8: floor.name: found \"a floor with a name that nobody can read…\", allowed text in quotation marks, 1 to 40 characters on one line",
        ],
    ),
    (
        "\"112\"",
        "112",
        &[
            "5:10: floor.emergency.number: found 112, allowed text in quotation marks, 1 to 200 characters on one line (write it in quotation marks: \"112\")",
        ],
    ),
    (
        "[floor.emergency]",
        "[floor.emergencies]",
        &[
            "1:1: floor.emergency: found nothing, allowed a table (write [floor.emergency] before its fields)",
            "4:8: floor.emergencies: found a field that is not known, allowed name, zone, emergency, settings, hours, handles, policy, loads",
        ],
    ),
];

const STATIONS: &[Case] = &[
    (
        "key = \"bench-1\"",
        "key = \"Bench 1\"",
        &[
            "11:7: station[1].key: found \"Bench 1\", allowed a key in quotation marks: 1 to 32 of a-z, 0-9 and -, beginning with a letter (such as \"bench-1\")",
        ],
    ),
    (
        "key = \"row-1\"",
        "key = \"bench-1\"",
        &[
            "19:7: station[2].key: found bench-1 again, allowed once; it stands in line 11 too (choose another, or take one of the two away)",
        ],
    ),
    ("at = [2.0, 3.5]", "at = [2.0]", &["13:6: station[1].at: found a list of 1, allowed a list of 2"]),
    (
        "at = [2.0, 3.5]",
        "at = [2.0, \"3.5\"]",
        &[
            "13:12: station[1].at[2]: found \"3.5\", allowed metres, -1000 to 1000 (write it without quotation marks: 3.5)",
        ],
    ),
    (
        "at = [2.0, 3.5]",
        "at = [2.0, 1e9]",
        &["13:12: station[1].at[2]: found 1e9, allowed metres, -1000 to 1000"],
    ),
    (
        "at = [2.0, 3.5]",
        "at = [nan, 1]",
        &["13:7: station[1].at[1]: found nan, allowed metres, -1000 to 1000"],
    ),
    ("at = [2.0, 3.5]", "at = \"here\"", &["13:6: station[1].at: found \"here\", allowed a list of 2"]),
];

const BARS: &[Case] = &[
    (
        "bar = \"20 kg\"",
        "bar = 20",
        &[
            "15:7: station[1].bar.bar: found 20, allowed a mass such as \"82.5 kg\" or \"45 lb\", above zero, at most 9000 kg, at most 4 decimals (write it with its unit: \"20 kg\")",
        ],
    ),
    (
        "bar = \"20 kg\"",
        "bar = \"20\"",
        &[
            "15:7: station[1].bar.bar: found \"20\", allowed a mass such as \"82.5 kg\" or \"45 lb\", above zero, at most 9000 kg, at most 4 decimals (write it with its unit: \"20 kg\")",
        ],
    ),
    (
        "bar = \"20 kg\"",
        "bar = \"0 kg\"",
        &[
            "15:7: station[1].bar.bar: found \"0 kg\", allowed a mass such as \"82.5 kg\" or \"45 lb\", above zero, at most 9000 kg, at most 4 decimals",
        ],
    ),
    (
        "\"2.5 kg\"",
        "\"5 lb\"",
        &[
            "17:52: station[1].bar.plates[2].mass: found lb, allowed kg: kilograms and pounds are never mixed at one station",
        ],
    ),
    (
        "\"2.5 kg\"",
        "\"10 kg\"",
        &[
            "17:52: station[1].bar.plates[2].mass: found 10 kg again, allowed once; it stands in line 17 too (choose another, or take one of the two away)",
        ],
    ),
    (
        "count = 2",
        "count = 0",
        &["17:38: station[1].bar.plates[1].count: found 0, allowed a whole number, 1 to 100"],
    ),
    (
        "count = 2",
        "count = \"2\"",
        &[
            "17:38: station[1].bar.plates[1].count: found \"2\", allowed a whole number, 1 to 100 (write it without quotation marks: 2)",
        ],
    ),
    (
        "count = 2",
        "count = 2, colour = \"red\"",
        &[
            "17:41: station[1].bar.plates[1].colour: found a field that is not known, allowed mass, count, full, thickness",
        ],
    ),
    (
        "count = 4",
        "count = 101",
        &["17:70: station[1].bar.plates[2].count: found 101, allowed a whole number, 1 to 100"],
    ),
    (
        "bar = \"20 kg\"",
        "bar = \"8990 kg\"",
        &["14:1: station[1].bar.plates: found plates of 9020 kg in all, allowed 9000 kg with the bar"],
    ),
];

const STACKS_AND_GEAR: &[Case] = &[
    (
        "last = \"50 kg\"",
        "last = \"52 kg\"",
        &[
            "25:8: station[2].stack.last: found 52 kg, allowed 5 kg or whole steps of 5 kg above it, at most 200 labels",
        ],
    ),
    (
        "step = \"5 kg\"",
        "step = \"0 kg\"",
        &[
            "24:8: station[2].stack.step: found \"0 kg\", allowed a mass such as \"82.5 kg\" or \"45 lb\", above zero, at most 9000 kg, at most 4 decimals",
        ],
    ),
    (
        "last = \"50 kg\"",
        "last = \"100 lb\"",
        &[
            "25:8: station[2].stack.last: found lb, allowed kg: kilograms and pounds are never mixed at one station",
        ],
    ),
    (
        "last = \"50 kg\"",
        "last = \"4 kg\"",
        &[
            "25:8: station[2].stack.last: found 4 kg, allowed 5 kg or whole steps of 5 kg above it, at most 200 labels",
        ],
    ),
    (
        "step = \"5 kg\"",
        "step = \"0.01 kg\"",
        &[
            "25:8: station[2].stack.last: found 50 kg, allowed 5 kg or whole steps of 0.01 kg above it, at most 200 labels",
        ],
    ),
    (
        "[station.stack]",
        "[station.bar]\nbar = \"20 kg\"\ncollar = \"0 kg\"\n[station.stack]",
        &["25:1: station[2].stack: found a bar and a stack, allowed one of them (make two stations of them)"],
    ),
    (
        "[station.stack]\nfirst = \"5 kg\"\nstep = \"5 kg\"\nlast = \"50 kg\"\n",
        "",
        &[
            "40:8: exercise[2].gear: found \"stack\", allowed the gear of a station: no station has a stack (give a [[station]] that gear, or take the exercise away)",
        ],
    ),
    (
        "gear = \"plain\"",
        "gear = \"kettle\"",
        &[
            "50:8: exercise[3].gear: found \"kettle\", allowed \"bar\" or \"stack\" or \"dumbbells\" or \"belt\" or \"plain\"",
        ],
    ),
];

const EXERCISES_AND_COACHES: &[Case] = &[
    (
        "starts_with = \"pulling\"",
        "starts_with = \"pushing\"",
        &[
            "45:15: exercise[2].starts_with: found \"pushing\", allowed \"lowering\" or \"pulling\" or \"lifting\" (did you mean \"pulling\"?)",
        ],
    ),
    (
        "spot = \"over-face\"",
        "spot = true",
        &["40:8: exercise[1].spot: found true, allowed \"none\" or \"over-face\" or \"on-shoulders\""],
    ),
    (
        "key = \"cable-row\"",
        "key = \"bench-press\"",
        &[
            "42:7: exercise[2].key: found bench-press again, allowed once; it stands in line 36 too (choose another, or take one of the two away)",
        ],
    ),
    (
        "[[coach]]",
        "[coach]",
        &[
            "31:1: coach: found a table, allowed 1 to 100 [[coach]] (write [[coach]], with two brackets, before each of them)",
        ],
    ),
    (
        "[[coach]]",
        "[[coach]]\nkey = \"coach-1\"\nname = \"Bram\"\n[[coach]]",
        &[
            "35:7: coach[2].key: found coach-1 again, allowed once; it stands in line 32 too (choose another, or take one of the two away)",
        ],
    ),
    (
        "[[station]]\nkey = \"mat\"",
        "[[stations]]\nkey = \"mat\"",
        &[
            "26:3: stations: found a field that is not known, allowed floor, tree, rack, station, coach, exercise (did you mean station?)",
            "50:8: exercise[3].gear: found \"plain\", allowed the gear of a station: no station has nothing to set (give a [[station]] that gear, or take the exercise away)",
        ],
    ),
];

const WHERE_EXERCISES_ARE_DONE: &[Case] = &[
    (
        "gear = \"bar\"\n",
        "gear = \"bar\"\nstations = [\"bench-2\"]\n",
        &[
            "39:13: exercise[1].stations[1]: found \"bench-2\", allowed the key of a [[station]] of this file (did you mean \"bench-1\"?)",
        ],
    ),
    (
        "gear = \"bar\"\n",
        "gear = \"bar\"\nstations = [\"bench-1\", \"row-1\", \"mat\"]\n",
        &[
            "39:24: exercise[1].stations[2]: found \"row-1\", which has a stack, allowed a station with a bar",
            "39:33: exercise[1].stations[3]: found \"mat\", which has nothing to set, allowed a station with a bar",
        ],
    ),
    (
        "gear = \"bar\"\n",
        "gear = \"bar\"\nstations = [\"bench-1\", \"bench-1\"]\n",
        &[
            "39:24: exercise[1].stations[2]: found bench-1 again, allowed once; it stands in line 39 too (choose another, or take one of the two away)",
        ],
    ),
    (
        "gear = \"bar\"\n",
        "gear = \"bar\"\nstations = []\n",
        &["39:12: exercise[1].stations: found a list of 0, allowed a list of 1 to 500"],
    ),
    (
        "gear = \"bar\"\n",
        "gear = \"bar\"\nstations = \"bench-1\"\n",
        &["39:12: exercise[1].stations: found \"bench-1\", allowed a list of 1 to 500"],
    ),
    (
        "gear = \"bar\"\n",
        "gear = \"bar\"\nstations = [1]\n",
        &[
            "39:13: exercise[1].stations[1]: found 1, allowed a key in quotation marks: 1 to 32 of a-z, 0-9 and -, beginning with a letter",
        ],
    ),
    (
        "gear = \"bar\"\n",
        "gear = \"bra\"\nstations = [\"row-1\"]\n",
        &[
            "38:8: exercise[1].gear: found \"bra\", allowed \"bar\" or \"stack\" or \"dumbbells\" or \"belt\" or \"plain\" (did you mean \"bar\"?)",
        ],
    ),
    (
        "gear = \"bar\"\n",
        "gear = \"bar\"\nstation = [\"bench-1\"]\n",
        &[
            "39:1: exercise[1].station: found a field that is not known, allowed key, name, gear, implement, movement, starts_with, spot, from_the_floor, handle, muscles, phases, breathing, set_up, cautions, settings, opposing, stations (did you mean stations?)",
        ],
    ),
];

const TOML_AND_SETTINGS: &[Case] = &[
    ("zone = \"UTC\"", "zone = \"UTC\"\nzone = \"UTC\"", &["4:1: not TOML: duplicate key"]),
    (
        "zone = \"UTC\"",
        "zone = UTC",
        &["3:8: not TOML: string values must be quoted, expected literal string"],
    ),
    (
        "name = \"Mat\"",
        "name = \"Mat\\u0007\"",
        &[
            "28:8: station[3].name: found \"Mat\\u{7}\", allowed text in quotation marks, 1 to 40 characters on one line",
        ],
    ),
    (
        "[floor.emergency]",
        "[floor.settings]\nget_set = \"8\"\nget_set_spotted = \"2 min\"\nwipe_down = 1979-05-27\n[floor.emergency]",
        &[
            "5:11: floor.settings.get_set: found \"8\", allowed a duration such as \"90 s\" or \"2 min\", 1 s to 60 s (write it with its unit: \"8 s\")",
            "6:19: floor.settings.get_set_spotted: found \"2 min\", allowed a duration such as \"90 s\" or \"2 min\", 1 s to 60 s",
            "7:13: floor.settings.wipe_down: found a date or time, allowed a duration such as \"90 s\" or \"2 min\", 1 s to 1800 s",
        ],
    ),
];

#[test]
fn the_head() {
    check(THE_HEAD);
}

#[test]
fn stations() {
    check(STATIONS);
}

#[test]
fn bars() {
    check(BARS);
}

#[test]
fn stacks_and_gear() {
    check(STACKS_AND_GEAR);
}

#[test]
fn exercises_and_coaches() {
    check(EXERCISES_AND_COACHES);
}

#[test]
fn where_exercises_are_done() {
    check(WHERE_EXERCISES_ARE_DONE);
}

#[test]
fn a_station_whose_key_or_gear_could_not_be_read_may_be_the_one_that_is_meant() {
    let text = changed(FLOOR, "gear = \"bar\"\n", "gear = \"bar\"\nstations = [\"bench-1\"]\n");
    for (from, to) in [("key = \"bench-1\"", "key = \"Bench 1\""), ("bar = \"20 kg\"", "bar = 20")] {
        let told = told_of_floor(&changed(&text, from, to));
        assert_eq!(told.len(), 1, "{told:?}");
        assert!(told[0].contains("station[1]"), "{told:?}");
    }
}

#[test]
fn toml_and_settings() {
    check(TOML_AND_SETTINGS);
}
