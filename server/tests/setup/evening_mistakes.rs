//! Every kind of mistake in the times of an evening, its rounds, and its exercises together.

use crate::small::{FLOOR, PROGRAMME, changed, told_of};

/// A line of the file, what it is changed to, and everything that is told.
type Case = (&'static str, &'static str, &'static [&'static str]);

/// The small floor with hours, with policies, and with a coach who comes at ten.
pub(crate) fn floor() -> String {
    let head = "[floor.hours]\ndaily = [\"06:00-22:00\"]\nsunday = [\"08:00-12:00\"]\n[floor.policy]\nclients_a_coach = 2\nstations_a_coach = 3\n[floor.emergency]";
    let shift = "name = \"Ayla\"\nshift = \"10:00-22:00\"";
    changed(&changed(FLOOR, "[floor.emergency]", head), "name = \"Ayla\"", shift)
}

/// The small programme on a Wednesday, from six to seven in the evening.
pub(crate) fn programme() -> String {
    let dated = changed(PROGRAMME, "[[client]]", "date = 2026-11-25\n[[client]]");
    changed(&dated, "number = 1\n", "number = 1\nstarts = \"18:00\"\nends = \"19:00\"\n")
}

fn check(cases: &[Case]) {
    for (from, to, expected) in cases {
        let told = told_of(&floor(), &changed(&programme(), from, to));
        let expected: Vec<String> = expected.iter().map(|line| format!("programme.toml:{line}")).collect();
        assert_eq!(told, expected, "{from:?} changed to {to:?}");
    }
}

#[test]
fn without_a_change_nothing_is_told() {
    assert_eq!(told_of(&floor(), &programme()), [""; 0]);
}

const CLIENTS: &[Case] = &[
    (
        "show_load = false",
        "regular = \"yes\"\nscreening = { on = \"2026-01-01\", result = \"clear\" }",
        &[
            "8:11: client[2].regular: found \"yes\", allowed true or false",
            "9:20: client[2].screening.on: found \"2026-01-01\", allowed a day without quotation marks such as 2026-11-25 (write it without quotation marks: 2026-01-01)",
            "9:43: client[2].screening.result: found \"clear\", allowed \"cleared\" or \"follow-up-needed\" (did you mean \"cleared\"?)",
        ],
    ),
    (
        "show_load = false",
        "screening = { result = \"cleared\" }",
        &[
            "8:13: client[2].screening.on: found nothing, allowed a day without quotation marks such as 2026-11-25",
        ],
    ),
    (
        "show_load = false",
        "screening = { on = 2026-11-26, result = \"cleared\", answers = \"none\" }",
        &[
            "8:20: client[2].screening.on: found 2026-11-26, allowed a day up to 2026-11-25, the date of this programme",
            "8:52: client[2].screening.answers: found a field that is not known, allowed on, result",
        ],
    ),
];

const TIMES: &[Case] = &[
    (
        "starts = \"18:00\"",
        "starts = \"6:00\"",
        &[
            "15:10: group[1].starts: found \"6:00\", allowed a time of day such as \"18:30\", 00:00 to 24:00 (write hours and minutes with two digits: \"06:00\")",
        ],
    ),
    (
        "ends = \"19:00\"",
        "ends = \"18:00\"",
        &["16:8: group[1].ends: found 18:00, allowed an end after 18:00, when it starts, on the same day"],
    ),
    (
        "ends = \"19:00\"",
        "ends = 17:30",
        &["16:8: group[1].ends: found 17:30, allowed an end after 18:00, when it starts, on the same day"],
    ),
    (
        "ends = \"19:00\"",
        "ends = \"22:30\"",
        &["16:8: group[1].ends: found 22:30, allowed 22:00 or earlier: the floor closes then"],
    ),
    ("starts = \"18:00\"\n", "", &[]),
    (
        "starts = \"18:00\"\nends = \"19:00\"",
        "ends = \"22:01\"",
        &[
            "15:8: group[1].ends: found 22:01, allowed a time when the floor is open: on a wednesday 06:00-22:00",
            "16:9: group[1].coach: found coach-1, who is there 10:00-22:00, allowed a coach who is there 22:00-22:01",
        ],
    ),
    (
        "starts = \"18:00\"\nends = \"19:00\"",
        "starts = \"05:00\"\nends = \"06:00\"",
        &[
            "15:10: group[1].starts: found 05:00, allowed a time when the floor is open: on a wednesday 06:00-22:00",
            "16:8: group[1].ends: found 06:00, allowed a time when the floor is open: on a wednesday 06:00-22:00",
            "17:9: group[1].coach: found coach-1, who is there 10:00-22:00, allowed a coach who is there 05:00-06:00",
        ],
    ),
    (
        "date = 2026-11-25\n",
        "date = 2026-11-29\n",
        &[
            "15:10: group[1].starts: found 18:00, allowed a time when the floor is open: on a sunday 08:00-12:00",
            "16:8: group[1].ends: found 19:00, allowed a time when the floor is open: on a sunday 08:00-12:00",
        ],
    ),
    (
        "date = 2026-11-25\n",
        "",
        &[
            "14:10: group[1].starts: found 18:00, allowed a time only in a programme with a date (write date = 2026-11-25, or which day it is, before the first client)",
            "15:8: group[1].ends: found 19:00, allowed a time only in a programme with a date (write date = 2026-11-25, or which day it is, before the first client)",
        ],
    ),
    (
        "starts = \"18:00\"\nends = \"19:00\"",
        "starts = \"08:00\"\nends = \"09:00\"",
        &[
            "17:9: group[1].coach: found coach-1, who is there 10:00-22:00, allowed a coach who is there 08:00-09:00",
        ],
    ),
];

const REPS_AND_LOADS_BY_ROUND: &[Case] = &[
    (
        "reps = 10",
        "reps = \"12-8\"",
        &[
            "25:8: group[1].block[1].exercise[1].reps: found 12-8, allowed a range with its lower end first (write it as \"8-12\")",
        ],
    ),
    (
        "reps = 10",
        "reps = \"10\"",
        &[
            "25:8: group[1].block[1].exercise[1].reps: found \"10\", allowed repetitions such as 10 or \"8-12\", 1 to 100, or a time such as \"30 s\", 1 s to 600 s (write it without quotation marks: 10)",
        ],
    ),
    (
        "reps = 10",
        "reps = [10, 8]",
        &[
            "25:8: group[1].block[1].exercise[1].reps: found a list of 2, allowed one for all rounds or a list of 3, one for each round",
        ],
    ),
    (
        "reps = 10",
        "reps = []",
        &["25:8: group[1].block[1].exercise[1].reps: found a list of 0, allowed a list of 1 to 20"],
    ),
    (
        "reps = 10",
        "reps = [10, \"x\", 0]",
        &[
            "25:13: group[1].block[1].exercise[1].reps[2]: found \"x\", allowed repetitions such as 10 or \"8-12\", 1 to 100, or a time such as \"30 s\", 1 s to 600 s",
            "25:18: group[1].block[1].exercise[1].reps[3]: found 0, allowed repetitions such as 10 or \"8-12\", 1 to 100, or a time such as \"30 s\", 1 s to 600 s",
        ],
    ),
    (
        "load = \"40 kg\"",
        "load = [\"40 kg\", \"41 kg\"]",
        &[
            "27:8: group[1].block[1].exercise[1].load: found a list of 2, allowed one for all rounds or a list of 3, one for each round",
            "27:18: group[1].block[1].exercise[1].load[2]: found 41 kg, allowed what a station for bench-press can be set to: the nearest are 40 kg and 45 kg",
        ],
    ),
    (
        "load = \"40 kg\"",
        "load = [\"20 kg\", \"30 kg\", 50]",
        &[
            "27:27: group[1].block[1].exercise[1].load[3]: found 50, allowed a mass such as \"82.5 kg\" or \"45 lb\", above zero, at most 9000 kg, at most 4 decimals; where labels are mere numbers a pin such as \"pin 7\", 1 to 200; a share of the maximum such as \"70 %\", 0.1 % to 99.9 %; \"by-reserve\", \"as-last-time\" or \"find-it\" (write it with its unit: \"50 kg\")",
        ],
    ),
    (
        "reps = 10",
        "reps = \"11 min\"",
        &[
            "25:8: group[1].block[1].exercise[1].reps: found \"11 min\", allowed repetitions such as 10 or \"8-12\", 1 to 100, or a time such as \"30 s\", 1 s to 600 s",
        ],
    ),
    (
        "technique = { reps = 3, load = \"20 kg\" }",
        "technique = { reps = 3, load = \"30 kg\" }\nreserve = 11",
        &[
            "29:11: group[1].block[1].exercise[1].reserve: found 11, allowed a whole number, 0 to 10",
            "30:42: group[1].block[1].exercise[1].own[1].load: found 30 kg for the technique set, allowed at most the load of client 105, 25 kg",
        ],
    ),
    (
        "load = \"25 kg\" }",
        "load = [\"25 kg\"], tempo = \"2-0\", reserve = -1, technique_reps = 0 }",
        &[
            "29:42: group[1].block[1].exercise[1].own[1].load: found a list of 1, allowed one for all rounds or a list of 3, one for each round",
            "29:61: group[1].block[1].exercise[1].own[1].tempo: found \"2-0\", allowed a tempo such as \"2-0-2-0\": eccentric-pause-concentric-pause, each 0 to 30 seconds or X, not all 0",
            "29:78: group[1].block[1].exercise[1].own[1].reserve: found -1, allowed a whole number, 0 to 10",
            "29:99: group[1].block[1].exercise[1].own[1].technique_reps: found 0, allowed a whole number, 1 to 100",
        ],
    ),
];

const IN_PLACE: &[Case] = &[
    (
        "use = \"bench-press\"\n",
        "use = \"bench-press\"\nin_place = true\n",
        &[
            "25:12: group[1].block[1].exercise[1].in_place: found true for the first exercise of a block, allowed from the second on: it has the station of the one before",
        ],
    ),
    (
        "use = \"cable-row\"\n",
        "use = \"cable-row\"\nin_place = true\n",
        &[
            "31:7: group[1].block[1].exercise[2].use: found cable-row in place, allowed an exercise that can be done where bench-press is done",
        ],
    ),
    (
        "use = \"cable-row\"\n",
        "use = \"cable-row\"\nin_place = \"yes\"\nper_side = 2\n",
        &[
            "32:12: group[1].block[1].exercise[2].in_place: found \"yes\", allowed true or false",
            "33:12: group[1].block[1].exercise[2].per_side: found 2, allowed true or false",
        ],
    ),
];

const PEOPLE: &[Case] = &[(
    "clients = [104, 105]",
    "clients = [104, 105, 106]",
    &[
        "18:22: group[1].clients[3]: found 3 clients, allowed 2: clients_a_coach in the floor file (make two groups of them, or let the floor file allow more)",
    ],
)];

#[test]
fn clients() {
    check(CLIENTS);
}

#[test]
fn times() {
    check(TIMES);
}

#[test]
fn reps_and_loads_by_round() {
    check(REPS_AND_LOADS_BY_ROUND);
}

#[test]
fn in_place() {
    check(IN_PLACE);
}

#[test]
fn people() {
    check(PEOPLE);
}
