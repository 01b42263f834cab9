//! What is published: every instance is read and written, and the snapshots' timetables cost what they are said to.

use std::fs;

use serde_json::Value;
use turnabout_server::timetable::check::{Parts, check};
use turnabout_server::timetable::format::read_timetable;

use crate::files::{self, folder, instances};

#[test]
fn all_instances_are_read() {
    let instances = instances();
    assert_eq!(instances.len(), 28);
    for (name, instance) in instances {
        assert_eq!(instance.name, name);
        assert_eq!(instance.weights.free_start, name.ends_with("-jobshop"), "{name}");
        assert_eq!(instance.now.0 > 0, name.ends_with("-snapshot"), "{name}");
    }
}

/// The objectives and their parts as published.
#[test]
fn the_snapshots_timetables_are_valid_and_cost_what_is_published() {
    let best: Value = serde_json::from_str(&fs::read_to_string(folder().join("best.json")).unwrap()).unwrap();
    let mut checked = 0;
    for (name, text) in files::texts("solutions") {
        let instance = instances().into_iter().find(|(other, _)| *other == name).expect("its instance").1;
        let timetable = read_timetable(&text, &instance).unwrap_or_else(|mistakes| panic!("{mistakes}"));
        let verdict = check(&instance, &timetable).expect("a timetable of the instance");
        assert!(verdict.is_valid(), "{:?}", verdict.faults);
        let published = &best[&name];
        assert_eq!(Some(verdict.objective), published["objective"].as_i64(), "{name}");
        let part = |part: &str| published["parts"][part].as_i64().expect("a part");
        let parts = Parts {
            overrun: part("overrun"),
            overrun_price: part("overrun_price"),
            changeover_wait: part("changeover_wait"),
            late: part("late"),
            flow: part("flow"),
            makespan: part("makespan"),
            door: part("door"),
            door_price: part("door_price"),
            tardy: part("tardy"),
            told: part("told"),
            handling: part("handling"),
        };
        assert_eq!(verdict.parts, parts, "{name}");
        assert_eq!(verdict.breach_seconds(), published["breach_seconds"].as_u64().unwrap_or(0), "{name}");
        checked += 1;
    }
    assert_eq!(checked, 2);
}
