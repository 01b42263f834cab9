//! The published instances, and a search of so many evaluations.

use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};

use turnabout_server::timetable::answer::Timetable;
use turnabout_server::timetable::format::{read_instance, read_timetable};
use turnabout_server::timetable::instance::Instance;
use turnabout_server::timetable::order::Order;
use turnabout_server::timetable::plan::{Plan, plan};
use turnabout_server::timetable::search::{Effort, in_turn};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/published/timetable")
}

pub(crate) fn text(path: &str) -> String {
    std::fs::read_to_string(folder().join(path)).unwrap_or_else(|e| panic!("{path}: {e}"))
}

pub(crate) fn instance(path: &str) -> Instance {
    read_instance(&text(path)).unwrap_or_else(|e| panic!("{path}: {e:?}"))
}

pub(crate) fn solution(name: &str, instance: &Instance) -> Timetable {
    read_timetable(&text(&format!("solutions/{name}.json")), instance).expect("as published")
}

pub(crate) fn json(path: &str) -> serde_json::Value {
    serde_json::from_str(&text(path)).expect("as published")
}

/// The names of a folder's instances, sorted.
pub(crate) fn names(within: &str) -> Vec<String> {
    let mut names: Vec<_> = std::fs::read_dir(folder().join(within))
        .expect("as published")
        .map(|f| {
            f.expect("as published")
                .path()
                .file_stem()
                .expect("as published")
                .to_str()
                .expect("as published")
                .to_owned()
        })
        .collect();
    names.sort();
    assert!(!names.is_empty(), "{within} has no instance");
    names
}

/// A search of so many evaluations by each of two threads; every rule of its timetable was looked at by the checker.
pub(crate) fn searched(instance: &Instance, warm: &[Order], seed: u64, evaluations: u64) -> Plan {
    let threads = NonZeroUsize::new(2).expect("as published");
    let done = move |n: u64| n as f64 / evaluations as f64;
    let found =
        plan(instance, warm, &Effort { seed, threads, done: &done, beside: &in_turn }).expect("as published");
    assert!(found.verdict.is_valid(), "{}: {:?}", instance.name, found.verdict.faults);
    found
}
