//! Every kind of mistake in what a floor's manager decides, in shifts and in what stations have.

use crate::small::{FLOOR, changed, told_of_floor};

/// A line of the file, what it is changed to, and everything that is told.
type Case = (&'static str, &'static str, &'static [&'static str]);

fn check(cases: &[Case]) {
    for (from, to, expected) in cases {
        let told = told_of_floor(&changed(FLOOR, from, to));
        let expected: Vec<String> = expected.iter().map(|line| format!("floor.toml:{line}")).collect();
        assert_eq!(told, expected, "{from:?} changed to {to:?}");
    }
}

const THE_POLICY: &[Case] = &[
    (
        "[floor.emergency]",
        "[floor.policy]\nstations_a_coach = 0\nclients_a_coach = \"six\"\narms_accepted = true\nscreening = \"coach\"\narms = 2\n[floor.emergency]",
        &[
            "5:20: floor.policy.stations_a_coach: found 0, allowed a whole number, 1 to 500",
            "6:19: floor.policy.clients_a_coach: found \"six\", allowed a whole number, 1 to 800",
            "7:17: floor.policy.arms_accepted: found true, allowed false: no station has safety arms (write arms = true at the stations that have them)",
            "8:13: floor.policy.screening: found \"coach\", allowed \"not-asked\" or \"coach-decides\" or \"required\"",
            "9:1: floor.policy.arms: found a field that is not known, allowed stations_a_coach, clients_a_coach, arms_accepted, screening, members",
        ],
    ),
    (
        "[floor.emergency]",
        "[[floor.policy.members]]\nstations = [\"bench-1\", \"row-1\", \"row-2\"]\nkeep = 4\n[floor.policy.members.hours]\nmonday = [\"22:00-06:00\"]\n[floor.emergency]",
        &[
            "5:33: floor.policy.members[1].stations[3]: found \"row-2\", allowed the key of a [[station]] of this file (did you mean \"row-1\"?)",
            "6:8: floor.policy.members[1].keep: found 4, allowed at most 3: so many stations are named",
            "8:11: floor.policy.members[1].hours.monday[1]: found 22:00-06:00, allowed an end after 22:00, at most 24:00 (past midnight: \"22:00-24:00\" here, and \"00:00-06:00\" on the day after)",
        ],
    ),
    (
        "[floor.emergency]",
        "[[floor.policy.members]]\nstations = []\nkeep = 0\n[floor.emergency]",
        &[
            "5:12: floor.policy.members[1].stations: found a list of 0, allowed a list of 1 to 500",
            "6:8: floor.policy.members[1].keep: found 0, allowed a whole number, 1 to 255",
        ],
    ),
    (
        "[floor.emergency]",
        "[floor.policy]\nmembers = { stations = [\"row-1\"], keep = 1 }\n[floor.emergency]",
        &[
            "5:11: floor.policy.members: found a table, allowed 0 to 20 [[floor.policy.members]] (write [[floor.policy.members]], with two brackets, before each of them)",
        ],
    ),
    (
        "[floor.emergency]",
        "[floor.policy]\nscreening = \"require\"\n[floor.emergency]",
        &[
            "5:13: floor.policy.screening: found \"require\", allowed \"not-asked\" or \"coach-decides\" or \"required\" (did you mean \"required\"?)",
        ],
    ),
];

const HANDLES_AND_TIMES: &[Case] = &[
    (
        "[floor.emergency]",
        "[floor.handles]\nrope = 0\nV-bar = 2\n[floor.emergency]",
        &[
            "5:8: floor.handles.rope: found 0, allowed a whole number, 1 to 100",
            "6:1: floor.handles.V-bar: found \"V-bar\", allowed a key in quotation marks: 1 to 32 of a-z, 0-9 and -, beginning with a letter (such as \"v-bar\")",
        ],
    ),
    (
        "[floor.emergency]",
        "[floor.settings]\nidle = \"3 h\"\nlapse = \"0 s\"\nlate = 10\nno_shwo = \"5 min\"\n[floor.emergency]",
        &[
            "5:8: floor.settings.idle: found \"3 h\", allowed a duration such as \"90 s\" or \"2 min\", 1 s to 7200 s",
            "6:9: floor.settings.lapse: found \"0 s\", allowed a duration such as \"90 s\" or \"2 min\", 1 s to 7200 s",
            "7:8: floor.settings.late: found 10, allowed a duration such as \"90 s\" or \"2 min\", 1 s to 7200 s (write it with its unit: \"10 s\")",
            "8:1: floor.settings.no_shwo: found a field that is not known, allowed get_set, get_set_spotted, wipe_down, idle, lapse, late, no_show (did you mean no_show?)",
        ],
    ),
];

const STATIONS: &[Case] = &[
    (
        "at = [2.0, 3.5]\n",
        "at = [2.0, 3.5]\nsharing = \"opne\"\n",
        &[
            "14:11: station[1].sharing: found \"opne\", allowed \"open\" or \"ask\" or \"never\" (did you mean \"open\"?)",
        ],
    ),
    (
        "at = [2, -3]\n",
        "at = [2, -3]\narms = true\n",
        &["22:8: station[2].arms: found safety arms at a station with a stack, allowed at one with a bar"],
    ),
    (
        "at = [2, -3]\n",
        "at = [2, -3]\nsettings = [ { name = \"Seat\", values = [1] }, { name = \"Seat\", values = [1, \"1\", \"as high as it will go\", 2.5] } ]\n",
        &[
            "22:40: station[2].settings[1].values: found a list of 1, allowed a list of 2 to 60",
            "22:56: station[2].settings[2].name: found Seat again, allowed once; it stands in line 22 too (choose another, or take one of the two away)",
            "22:77: station[2].settings[2].values[2]: found 1 again, allowed once; it stands in line 22 too (choose another, or take one of the two away)",
            "22:82: station[2].settings[2].values[3]: found \"as high as it will go\", allowed what the label says, such as 4 or \"4\", 1 to 12 characters",
            "22:107: station[2].settings[2].values[4]: found 2.5, allowed what the label says, such as 4 or \"4\", 1 to 12 characters",
        ],
    ),
    (
        "at = [2, -3]\n",
        "at = [2, -3]\nsettings = [ { values = [1, 2], unit = \"hole\" } ]\n",
        &[
            "22:14: station[2].settings[1].name: found nothing, allowed text in quotation marks, 1 to 40 characters on one line",
            "22:33: station[2].settings[1].unit: found a field that is not known, allowed name, values",
        ],
    ),
];

const SHIFTS: &[Case] = &[
    (
        "name = \"Ayla\"",
        "name = \"Ayla\"\nshift = \"22:00-06:00\"",
        &[
            "34:9: coach[1].shift: found 22:00-06:00, allowed a shift that ends after 22:00, at most 24:00 (a shift past midnight ends at 24:00 here; the rest is a coach of its own)",
        ],
    ),
    (
        "name = \"Ayla\"",
        "name = \"Ayla\"\nshift = \"evening\"",
        &[
            "34:9: coach[1].shift: found \"evening\", allowed hours such as \"06:00-22:00\", within 00:00 and 24:00",
        ],
    ),
];

#[test]
fn the_policy() {
    check(THE_POLICY);
}

#[test]
fn handles_and_times() {
    check(HANDLES_AND_TIMES);
}

#[test]
fn stations() {
    check(STATIONS);
}

#[test]
fn shifts() {
    check(SHIFTS);
}
