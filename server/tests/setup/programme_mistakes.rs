//! Every kind of mistake in a programme file, with its place and words.

use turnabout_server::floor::config::Day;
use turnabout_server::setup::parse_programme;

use crate::small::{FLOOR, PROGRAMME, changed, floor, told_of, told_of_programme};

/// A line of the small programme file, what it is changed to, and everything that is told.
type Case = (&'static str, &'static str, &'static [&'static str]);

fn check(cases: &[Case]) {
    for (from, to, expected) in cases {
        let told = told_of_programme(&changed(PROGRAMME, from, to));
        let expected: Vec<String> = expected.iter().map(|line| format!("programme.toml:{line}")).collect();
        assert_eq!(told, expected, "{from:?} changed to {to:?}");
    }
}

const CLIENTS: &[Case] = &[
    ("number = 104", "number = 0", &["2:10: client[1].number: found 0, allowed a whole number, 1 to 999999"]),
    (
        "number = 104",
        "number = \"104\"",
        &[
            "2:10: client[1].number: found \"104\", allowed a whole number, 1 to 999999 (write it without quotation marks: 104)",
        ],
    ),
    (
        "number = 105\n",
        "number = 104\n",
        &[
            "5:10: client[2].number: found 104 again, allowed once; it stands in line 2 too (choose another, or take one of the two away)",
            "15:17: group[1].clients[2]: found 105, allowed the number of a [[client]] of this file",
        ],
    ),
    (
        "name = \"Dara\"\n",
        "",
        &[
            "1:1: client[1].name: found nothing, allowed text in quotation marks, 1 to 40 characters on one line",
        ],
    ),
    (
        "show_load",
        "show_laod",
        &[
            "7:1: client[2].show_laod: found a field that is not known, allowed number, name, show_load, regular, screening, unit, max, earlier (did you mean show_load?)",
        ],
    ),
    ("show_load = false", "show_load = 0", &["7:13: client[2].show_load: found 0, allowed true or false"]),
    ("show_load = false", "unit = \"st\"", &["7:8: client[2].unit: found \"st\", allowed \"kg\" or \"lb\""]),
];

const DAY: &[Case] = &[
    (
        "[[client]]\nnumber = 104",
        "date = \"2026-11-25\"\n[[client]]\nnumber = 104",
        &[
            "1:8: date: found \"2026-11-25\", allowed a day without quotation marks such as 2026-11-25 (write it without quotation marks: 2026-11-25)",
        ],
    ),
    (
        "[[client]]\nnumber = 104",
        "date = 2026-11-25T18:00:00\n[[client]]\nnumber = 104",
        &["1:8: date: found a date or time, allowed a day without quotation marks such as 2026-11-25"],
    ),
];

const GROUPS: &[Case] = &[
    (
        "coach = \"coach-1\"",
        "coach = \"coach-2\"",
        &[
            "14:9: group[1].coach: found \"coach-2\", allowed the key of a coach in the floor file (did you mean \"coach-1\"?)",
        ],
    ),
    (
        "coach = \"coach-1\"",
        "coach = \"somebody\"",
        &["14:9: group[1].coach: found \"somebody\", allowed the key of a coach in the floor file"],
    ),
    (
        "clients = [104, 105]",
        "clients = []",
        &["15:11: group[1].clients: found a list of 0, allowed a list of 1 to 4"],
    ),
    (
        "clients = [104, 105]",
        "clients = [104, 104, 105]",
        &[
            "15:17: group[1].clients[2]: found 104 again, allowed once; it stands in line 15 too (choose another, or take one of the two away)",
        ],
    ),
    (
        "clients = [104, 105]",
        "clients = [104, 105, 107]",
        &["15:22: group[1].clients[3]: found 107, allowed the number of a [[client]] of this file"],
    ),
    (
        "clients = [104, 105]",
        "clients = 104",
        &["15:11: group[1].clients: found 104, allowed a list of 1 to 4"],
    ),
    (
        "clients = [104, 105]",
        "clients = [1, 2, 3, 4, 5]",
        &[
            "15:12: group[1].clients[1]: found 1, allowed the number of a [[client]] of this file",
            "15:15: group[1].clients[2]: found 2, allowed the number of a [[client]] of this file",
            "15:18: group[1].clients[3]: found 3, allowed the number of a [[client]] of this file",
            "15:21: group[1].clients[4]: found 4, allowed the number of a [[client]] of this file",
            "15:24: group[1].clients: found a list of 5, allowed a list of 1 to 4",
            "26:20: group[1].block[1].exercise[1].own[1].client: found client 105, allowed the clients of this group",
        ],
    ),
];

const BLOCKS: &[Case] = &[
    (
        "rounds = 3",
        "rounds = 0",
        &["17:10: group[1].block[1].rounds: found 0, allowed a whole number, 1 to 20"],
    ),
    (
        "rounds = 3",
        "rounds = 21",
        &["17:10: group[1].block[1].rounds: found 21, allowed a whole number, 1 to 20"],
    ),
    (
        "rounds = 3",
        "rounds = 3.0",
        &["17:10: group[1].block[1].rounds: found 3.0, allowed a whole number, 1 to 20"],
    ),
    (
        "rest = [\"60 s\", \"2 min\"]",
        "rest = [\"2 min\", \"60 s\"]",
        &[
            "18:18: group[1].block[1].rest[2]: found 60 s as the longest rest, allowed 120 s (the shortest) or more",
        ],
    ),
    (
        "rest = [\"60 s\", \"2 min\"]",
        "rest = [60, \"31 min\"]",
        &[
            "18:9: group[1].block[1].rest[1]: found 60, allowed a duration such as \"90 s\" or \"2 min\", 0 s to 1800 s (write it with its unit: \"60 s\")",
            "18:13: group[1].block[1].rest[2]: found \"31 min\", allowed a duration such as \"90 s\" or \"2 min\", 0 s to 1800 s",
        ],
    ),
    (
        "rest = [\"60 s\", \"2 min\"]",
        "rest = \"60 s\"",
        &["18:8: group[1].block[1].rest: found \"60 s\", allowed a list of 2"],
    ),
    (
        "changeover = \"20 s\"\n",
        "",
        &[
            "16:1: group[1].block[1].changeover: found nothing, allowed a duration such as \"90 s\" or \"2 min\", 0 s to 600 s",
        ],
    ),
    (
        "changeover = \"20 s\"",
        "changeover = \"11 min\"",
        &[
            "19:14: group[1].block[1].changeover: found \"11 min\", allowed a duration such as \"90 s\" or \"2 min\", 0 s to 600 s",
        ],
    ),
];

const EXERCISES: &[Case] = &[
    (
        "use = \"bench-press\"",
        "use = \"bench-pres\"",
        &[
            "21:7: group[1].block[1].exercise[1].use: found \"bench-pres\", allowed the key of an exercise in the floor file (did you mean \"bench-press\"?)",
        ],
    ),
    (
        "reps = 10",
        "reps = 0",
        &[
            "22:8: group[1].block[1].exercise[1].reps: found 0, allowed repetitions such as 10 or \"8-12\", 1 to 100, or a time such as \"30 s\", 1 s to 600 s",
        ],
    ),
    (
        "reps = 10",
        "reps = 101",
        &[
            "22:8: group[1].block[1].exercise[1].reps: found 101, allowed repetitions such as 10 or \"8-12\", 1 to 100, or a time such as \"30 s\", 1 s to 600 s",
        ],
    ),
    (
        "reps = 10\n",
        "",
        &[
            "20:1: group[1].block[1].exercise[1].reps: found nothing, allowed repetitions such as 10 or \"8-12\", 1 to 100, or a time such as \"30 s\", 1 s to 600 s",
        ],
    ),
    (
        "\"2-0-2-0\"",
        "\"2-0-2\"",
        &[
            "23:9: group[1].block[1].exercise[1].tempo: found \"2-0-2\", allowed a tempo such as \"2-0-2-0\": eccentric-pause-concentric-pause, each 0 to 30 seconds or X, not all 0",
        ],
    ),
    (
        "\"2-0-2-0\"",
        "2020",
        &[
            "23:9: group[1].block[1].exercise[1].tempo: found 2020, allowed a tempo such as \"2-0-2-0\": eccentric-pause-concentric-pause, each 0 to 30 seconds or X, not all 0 (write it with its dashes: \"2-0-2-0\")",
        ],
    ),
];

const LOADS: &[Case] = &[
    (
        "load = \"40 kg\"",
        "load = \"41 kg\"",
        &[
            "24:8: group[1].block[1].exercise[1].load: found 41 kg, allowed what a station for bench-press can be set to: the nearest are 40 kg and 45 kg",
        ],
    ),
    (
        "load = \"40 kg\"",
        "load = \"88 lb\"",
        &[
            "24:8: group[1].block[1].exercise[1].load: found 88 lb, allowed what a station for bench-press can be set to: the nearest are 30 kg and 40 kg",
        ],
    ),
    (
        "load = \"40 kg\"",
        "load = \"200 kg\"",
        &[
            "24:8: group[1].block[1].exercise[1].load: found 200 kg, allowed what a station for bench-press can be set to: 50 kg is the heaviest",
        ],
    ),
    (
        "load = \"30 kg\"",
        "load = \"1 kg\"",
        &[
            "31:8: group[1].block[1].exercise[2].load: found 1 kg, allowed what a station for cable-row can be set to: 5 kg is the lightest",
        ],
    ),
    (
        "load = \"40 kg\"",
        "load = 40",
        &[
            "24:8: group[1].block[1].exercise[1].load: found 40, allowed a mass such as \"82.5 kg\" or \"45 lb\", above zero, at most 9000 kg, at most 4 decimals; where labels are mere numbers a pin such as \"pin 7\", 1 to 200; a share of the maximum such as \"70 %\", 0.1 % to 99.9 %; \"by-reserve\", \"as-last-time\" or \"find-it\" (write it with its unit: \"40 kg\")",
        ],
    ),
    (
        "load = \"30 kg\"\n",
        "",
        &[
            "27:1: group[1].block[1].exercise[2].load: found nothing, allowed a load: this exercise uses a stack (write it with its unit, such as load = \"60 kg\")",
        ],
    ),
    (
        "reps = 15",
        "reps = 15\nload = \"5 kg\"",
        &[
            "38:8: group[1].block[2].exercise[1].load: found a load, allowed none: this exercise has nothing to set (take the load away, or give the exercise other gear)",
        ],
    ),
    (
        "reps = 3, load = \"20 kg\"",
        "reps = 3, load = \"30 kg\"",
        &[
            "26:42: group[1].block[1].exercise[1].own[1].load: found 30 kg for the technique set, allowed at most the load of client 105, 25 kg",
        ],
    ),
    (
        "reps = 3, load = \"20 kg\"",
        "load = \"22 kg\"",
        &[
            "25:22: group[1].block[1].exercise[1].technique.load: found 22 kg, allowed what a station for bench-press can be set to: the nearest are 20 kg and 25 kg",
        ],
    ),
    (
        "reps = 3, load = \"20 kg\"",
        "laod = \"20 kg\"",
        &[
            "25:15: group[1].block[1].exercise[1].technique.laod: found a field that is not known, allowed reps, load, ramp (did you mean load?)",
        ],
    ),
];

const ONE_CLIENTS_OWN: &[Case] = &[
    (
        "client = 105, reps = 8",
        "client = 106, reps = 8",
        &[
            "26:20: group[1].block[1].exercise[1].own[1].client: found client 106, allowed the clients of this group",
        ],
    ),
    (
        "{ client = 105, reps = 8, load = \"25 kg\" }",
        "{ client = 105, reps = 8 }, { client = 105, reps = 9 }",
        &[
            "26:48: group[1].block[1].exercise[1].own[2].client: found 105 again, allowed once; it stands in line 26 too (choose another, or take one of the two away)",
        ],
    ),
    (
        "client = 105, reps = 8",
        "client = 105, leg = 8",
        &[
            "26:25: group[1].block[1].exercise[1].own[1].leg: found a field that is not known, allowed client, reps, tempo, load, reserve, technique_reps, technique_load, technique_ramp",
        ],
    ),
    (
        "load = \"25 kg\"",
        "load = \"25 kg\", technique_load = \"40 kg\"",
        &[
            "26:68: group[1].block[1].exercise[1].own[1].technique_load: found 40 kg for the technique set, allowed at most the load of client 105, 25 kg",
        ],
    ),
];

/// A second bench with another bar: 15, 17 and 19 kg.
const LIGHT_BENCH: &str = "[[station]]\nkey = \"bench-2\"\nname = \"Bench 2\"\nat = [1, 1]\n[station.bar]\nbar = \"15 kg\"\ncollar = \"0 kg\"\nplates = [ { mass = \"1 kg\", count = 4 } ]\n[[station]]\nkey = \"mat\"";

#[test]
fn a_group_needs_one_station_for_all_its_loads_of_an_exercise() {
    let floor = changed(FLOOR, "[[station]]\nkey = \"mat\"", LIGHT_BENCH);
    let programme = changed(PROGRAMME, "load = \"25 kg\"", "load = \"19 kg\", technique_load = \"15 kg\"");
    let told = told_of(&floor, &programme);
    let together = "programme.toml:20:1: group[1].block[1].exercise[1]: found 15 kg, 19 kg, 20 kg and 40 kg for bench-press, allowed loads that one station for it can be set to, each exactly (a whole group does an exercise at one station)";
    assert_eq!(told, [together]);
    // Where one load fits nowhere, that alone is told.
    let alone = "programme.toml:24:8: group[1].block[1].exercise[1].load: found 41 kg, allowed what a station for bench-press can be set to: the nearest are 40 kg and 45 kg";
    assert_eq!(told_of(&floor, &changed(&programme, "\"40 kg\"", "\"41 kg\"")), [alone]);
    // Only the stations that the exercise names count.
    let named = changed(&floor, "gear = \"bar\"\n", "gear = \"bar\"\nstations = [\"bench-2\"]\n");
    let heavy = "programme.toml:24:8: group[1].block[1].exercise[1].load: found 40 kg, allowed what a station for bench-press can be set to: 19 kg is the heaviest";
    assert!(told_of(&named, PROGRAMME).contains(&heavy.to_owned()));
    assert_eq!(told_of(&floor, PROGRAMME), Vec::<String>::new());
}

const SEVERAL_GROUPS: &[Case] = &[
    (
        "[[group]]",
        "[[group]]\nnumber = 2\ncoach = \"coach-1\"\nclients = [104]\n[[group.block]]\nrounds = 1\nrest = [\"0 s\", \"0 s\"]\nexercise = [{ use = \"push-up\", reps = 1, tempo = \"1-0-1-0\" }]\n[[group]]",
        &[
            "23:12: group[2].clients[1]: found client 104, who is in group 2 already, allowed one group a client, or groups whose times are apart",
        ],
    ),
    (
        "[[group]]",
        "[[group]]\nnumber = 1\ncoach = \"coach-1\"\nclients = [106]\n[[group]]",
        &[
            "12:1: group[1].block: found nothing, allowed 1 to 20 [[group.block]] (write [[group.block]], with two brackets, before each of them)",
            "17:10: group[2].number: found 1 again, allowed once; it stands in line 13 too (choose another, or take one of the two away)",
        ],
    ),
];

#[test]
fn the_day() {
    check(DAY);
    let dated = changed(PROGRAMME, "[[client]]", "date = 2026-02-28\n[[client]]");
    let read = parse_programme("programme.toml", &dated, &floor().floor).expect("a programme of a day");
    assert_eq!(read.programme.day, Some(Day { year: 2026, month: 2, day: 28 }));
}

#[test]
fn clients() {
    check(CLIENTS);
}

#[test]
fn groups() {
    check(GROUPS);
}

#[test]
fn blocks() {
    check(BLOCKS);
}

#[test]
fn exercises() {
    check(EXERCISES);
}

#[test]
fn loads() {
    check(LOADS);
}

#[test]
fn one_clients_own() {
    check(ONE_CLIENTS_OWN);
}

#[test]
fn several_groups() {
    check(SEVERAL_GROUPS);
}
