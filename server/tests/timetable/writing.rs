//! What is written is read as it was, and says what the published files say.

use serde_json::Value;
use turnabout_server::timetable::answer::{Breach, Timetable};
use turnabout_server::timetable::format::{read_instance, read_timetable, write_instance, write_timetable};

use crate::{files, small};

/// Without what is ignored when it is read, and with what may be absent where it says nothing.
fn plain(value: &mut Value) {
    match value {
        Value::Object(fields) => {
            fields.retain(|name, _| !name.starts_with("x_") || name == "x_free_start");
            fields.retain(|name, value| name != "breaches" || *value != Value::Array(Vec::new()));
            fields.values_mut().for_each(plain);
        }
        Value::Array(list) => list.iter_mut().for_each(plain),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

#[track_caller]
fn same(written: &str, original: &str) {
    assert_eq!(written.matches('\n').count(), 1, "one line");
    let parsed = |text: &str| {
        let mut value: Value = serde_json::from_str(text).expect("JSON");
        plain(&mut value);
        value
    };
    assert_eq!(parsed(written), parsed(original));
}

#[test]
fn published_instances_are_written_as_they_were() {
    for (name, text) in files::texts("instances").into_iter().chain(files::texts("classic")) {
        let instance = read_instance(&text).expect("a published instance");
        let written = write_instance(&instance);
        same(&written, &text);
        assert_eq!(read_instance(&written), Ok(instance), "{name}");
    }
}

#[test]
fn the_small_evening_is_written_as_it_was() {
    let text = small::instance().to_string();
    let instance = read_instance(&text).expect("no mistakes");
    same(&write_instance(&instance), &text);
    let text = small::timetable().to_string();
    same(&write_timetable(&read_timetable(&text, &instance).expect("no mistakes")), &text);
}

#[test]
fn published_timetables_are_written_as_they_were() {
    for (name, text) in files::texts("solutions") {
        let instance =
            files::instances().into_iter().find(|(other, _)| *other == name).expect("its instance").1;
        let timetable = read_timetable(&text, &instance).expect("a published timetable");
        same(&write_timetable(&timetable), &text);
        let breach = Breach { rule: 4, group: 0, member: 1, round: 2, leg: 1, seconds: 30 };
        let broken = Timetable { breaches: vec![breach], ..timetable };
        assert_eq!(read_timetable(&write_timetable(&broken), &instance), Ok(broken), "{name}");
    }
}
