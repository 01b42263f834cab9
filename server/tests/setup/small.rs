//! A small floor and programme that the other tests change by a line.

use turnabout_server::setup::{FloorFile, parse_floor, parse_programme};

pub(crate) const FLOOR: &str = r#"[floor]
name = "Small floor"
zone = "UTC"
[floor.emergency]
number = "112"
address = "Example Street 1"
defibrillator = "front desk"
first_aid = "by the door"

[[station]]
key = "bench-1"
name = "Bench 1"
at = [2.0, 3.5]
[station.bar]
bar = "20 kg"
collar = "0 kg"
plates = [ { mass = "10 kg", count = 2 }, { mass = "2.5 kg", count = 4 } ]
[[station]]
key = "row-1"
name = "Row 1"
at = [2, -3]
[station.stack]
first = "5 kg"
step = "5 kg"
last = "50 kg"
[[station]]
key = "mat"
name = "Mat"
at = [0, 0]

[[coach]]
key = "coach-1"
name = "Ayla"

[[exercise]]
key = "bench-press"
name = "Bench press"
gear = "bar"
starts_with = "lowering"
spot = "over-face"
[[exercise]]
key = "cable-row"
name = "Cable row"
gear = "stack"
starts_with = "pulling"
spot = "none"
[[exercise]]
key = "push-up"
name = "Push-up"
gear = "plain"
starts_with = "lowering"
spot = "none"
"#;

pub(crate) const PROGRAMME: &str = r#"[[client]]
number = 104
name = "Dara"
[[client]]
number = 105
name = "Edda"
show_load = false
[[client]]
number = 106
name = "Farid"

[[group]]
number = 1
coach = "coach-1"
clients = [104, 105]
[[group.block]]
rounds = 3
rest = ["60 s", "2 min"]
changeover = "20 s"
[[group.block.exercise]]
use = "bench-press"
reps = 10
tempo = "2-0-2-0"
load = "40 kg"
technique = { reps = 3, load = "20 kg" }
own = [ { client = 105, reps = 8, load = "25 kg" } ]
[[group.block.exercise]]
use = "cable-row"
reps = 12
tempo = "2-0-X-1"
load = "30 kg"
[[group.block]]
rounds = 2
rest = ["1 min", "90 s"]
[[group.block.exercise]]
use = "push-up"
reps = 15
tempo = "2-0-2-0"
"#;

/// The small floor, read.
pub(crate) fn floor() -> FloorFile {
    parse_floor("floor.toml", FLOOR, None).unwrap_or_else(|mistakes| panic!("{mistakes}"))
}

/// One change of a text, which must apply.
pub(crate) fn changed(text: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "{from:?} is not in the text");
    text.replacen(from, to, 1)
}

/// What is told about a floor file, line by line.
pub(crate) fn told_of_floor(text: &str) -> Vec<String> {
    match parse_floor("floor.toml", text, None) {
        Ok(_) => Vec::new(),
        Err(mistakes) => mistakes.to_string().lines().map(str::to_owned).collect(),
    }
}

/// What is told about a programme file for the small floor, line by line.
pub(crate) fn told_of_programme(text: &str) -> Vec<String> {
    told_of(FLOOR, text)
}

/// What is told about a programme file for a floor file without mistakes, line by line.
pub(crate) fn told_of(floor: &str, text: &str) -> Vec<String> {
    let floor = parse_floor("floor.toml", floor, None).unwrap_or_else(|mistakes| panic!("{mistakes}")).floor;
    match parse_programme("programme.toml", text, &floor) {
        Ok(_) => Vec::new(),
        Err(mistakes) => mistakes.to_string().lines().map(str::to_owned).collect(),
    }
}
