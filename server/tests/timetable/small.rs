//! A small evening with everything that the format has, and small changes of it.

use serde_json::{Value, json};
use turnabout_server::timetable::check::{Verdict, check};
use turnabout_server::timetable::format::{read_instance, read_timetable};
use turnabout_server::timetable::instance::Instance;

/// A bench, a stack, a mat; two coaches; a pair in the middle of their rounds and one who comes later.
pub(crate) fn instance() -> Value {
    json!({
        "format": "timetable-instance/2", "name": "small", "now": 100, "x_about": "invented",
        "weights": {"overrun": [[0, 30], [15, 100], [45, 300]], "changeover_wait": 60, "flow": 10, "makespan": 10,
                    "handling": 1, "late": 1000, "door": [[300, 20]], "tardy": 20, "told": 20},
        "plate_s": 4, "collar_s": 4, "pin_s": 3, "changeover_wait_max": 15,
        "stations": [
            {"id": 0, "kind": "bar", "free_at": 0, "load": [20000, 2500]},
            {"id": 1, "kind": "stack", "free_at": 0, "load": 40000, "busy": [[600, 700]], "work_in": false},
            {"id": 2, "kind": "plain", "free_at": 0, "load": null},
        ],
        "walk": [[0, 5, 8], [5, 0, 5], [8, 5, 0]],
        "coach_walk": [[0, 4, 6], [4, 0, 4], [6, 4, 0]],
        "coaches": [{"id": 0, "free_at": 0, "at": null, "busy": [[900, 1000]]}, {"id": 1, "free_at": 50, "at": 2}],
        "groups": [
            {"id": 0, "coach": 0, "together": false, "legs": [{"eligible": [0]}, {"eligible": [1, 2]}],
             "rest_min": 60, "rest_max": 90, "order": [1, 0], "holds": [1],
             "members": [
                {"id": 0, "release": 0, "stations": [0, 1], "last_round_end": null,
                 "under_way": {"legs_done": 1, "last_end": 95},
                 "rounds": [
                    {"round": 1, "legs": [turn(40, json!([20000, 2500]), false), turn(30, json!(40000), false)],
                     "told": [null, 100]},
                    {"round": 3, "rest_min": 70, "rest_max": null, "coach": 1, "not_before": 250,
                     "legs": [turn(40, json!([20000, 2500]), [10, 40]), null]},
                 ]},
                {"id": 1, "release": 0, "due": 700, "last_round_end": 60, "under_way": null,
                 "rounds": [
                    {"round": 1, "legs": [turn(40, json!([20000]), true), turn(30, json!(45000), false)]},
                 ]},
             ]},
            {"id": 1, "coach": 1, "together": true, "legs": [{"eligible": [2]}], "rest_min": 30, "rest_max": null,
             "order": null,
             "members": [{"id": 0, "release": 150, "last_round_end": null, "under_way": null,
                          "rounds": [{"round": 0, "legs": [turn(20, Value::Null, false)]}]}]},
        ],
    })
}

/// One turn.
pub(crate) fn turn(length: u32, load: Value, spot: impl Into<Value>) -> Value {
    json!({"dur": length, "load": load, "spot": spot.into()})
}

/// A valid timetable of it.
pub(crate) fn timetable() -> Value {
    json!({
        "instance": "small",
        "stations": [[[0, 1], [0, 2]], [[2]]],
        "turns": [
            {"group": 0, "member": 0, "round": 0, "starts": [null, 100]},
            {"group": 0, "member": 0, "round": 1, "starts": [250, null]},
            {"group": 0, "member": 1, "round": 0, "starts": [120, 168]},
            {"group": 1, "member": 0, "round": 0, "starts": [198]},
        ],
        "breaches": [],
    })
}

/// What a change puts in the place of what was there.
#[derive(Clone, Debug)]
pub(crate) enum Put {
    /// This.
    Value(Value),
    /// Nothing.
    Gone,
}

impl<T: Into<Value>> From<T> for Put {
    fn from(value: T) -> Self {
        Self::Value(value.into())
    }
}

/// Changes one place, named as in RFC 6901.
pub(crate) fn put(document: &mut Value, pointer: &str, put: Put) {
    let (above, name) = pointer.rsplit_once('/').expect("a pointer");
    let above = document.pointer_mut(above).unwrap_or_else(|| panic!("{pointer}"));
    match (above, put) {
        (Value::Object(fields), Put::Value(value)) => {
            fields.insert(name.to_owned(), value);
        }
        (Value::Object(fields), Put::Gone) => {
            fields.remove(name).unwrap_or_else(|| panic!("{pointer}"));
        }
        (Value::Array(list), put) => {
            let place: usize = name.parse().expect("a place in a list");
            match put {
                Put::Value(value) if place == list.len() => list.push(value),
                Put::Value(value) => list[place] = value,
                Put::Gone => drop(list.remove(place)),
            }
        }
        (_, _) => panic!("{pointer}"),
    }
}

/// The instance with these changes, read.
#[track_caller]
pub(crate) fn read(changes: impl IntoIterator<Item = (&'static str, Put)>) -> Instance {
    let mut document = instance();
    for (pointer, value) in changes {
        put(&mut document, pointer, value);
    }
    read_instance(&document.to_string()).unwrap_or_else(|mistakes| panic!("{mistakes}"))
}

/// What is found of the timetable with these changes.
#[track_caller]
pub(crate) fn judge(instance: &Instance, changes: impl IntoIterator<Item = (&'static str, Put)>) -> Verdict {
    let mut document = timetable();
    for (pointer, value) in changes {
        put(&mut document, pointer, value);
    }
    let read =
        read_timetable(&document.to_string(), instance).unwrap_or_else(|mistakes| panic!("{mistakes}"));
    check(instance, &read).expect("a timetable of the instance")
}
