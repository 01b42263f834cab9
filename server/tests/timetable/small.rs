//! A small evening with everything that the format has, and small changes of it.

use serde_json::{Value, json};
use turnabout_server::timetable::check::{Verdict, check};
use turnabout_server::timetable::format::{read_instance, read_timetable};
use turnabout_server::timetable::instance::Instance;

/// A bench, a stack, a mat; two coaches; a pair in the middle of their rounds and one who comes later.
pub(crate) fn instance() -> Value {
    serde_json::from_str(include_str!("small/instance.json")).expect("JSON")
}

/// One turn.
pub(crate) fn turn(length: u32, load: impl Into<Value>, spot: impl Into<Value>) -> Value {
    json!({"dur": length, "load": load.into(), "spot": spot.into()})
}

/// A valid timetable of it.
pub(crate) fn timetable() -> Value {
    serde_json::from_str(include_str!("small/timetable.json")).expect("JSON")
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
