//! The published instances.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;
use turnabout_server::timetable::answer::Timetable;
use turnabout_server::timetable::format::{read_instance, read_timetable};
use turnabout_server::timetable::instance::Instance;

/// Sizes of the published evenings, by the beginning of their names.
pub(crate) const CLASSES: [&str; 4] = ["small", "medium", "large", "snapshot"];

/// Where a published file is.
pub(crate) fn path(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("published/timetable").join(path)
}

fn text(file: &str) -> String {
    fs::read_to_string(path(file)).unwrap_or_else(|error| panic!("{file}: {error}"))
}

pub(crate) fn instance(file: &str) -> Instance {
    read_instance(&text(file)).unwrap_or_else(|mistakes| panic!("{file}: {mistakes:?}"))
}

pub(crate) fn evening(name: &str) -> Instance {
    instance(&format!("instances/{name}.json"))
}

/// The published timetable of a snapshot.
pub(crate) fn solution(name: &str, instance: &Instance) -> Timetable {
    let file = format!("solutions/{name}.json");
    read_timetable(&text(&file), instance).unwrap_or_else(|mistakes| panic!("{file}: {mistakes:?}"))
}

/// Which class an evening is of; snapshots are medium evenings, and a class of their own.
pub(crate) fn class(name: &str) -> &'static str {
    if is_snapshot(name) {
        return "snapshot";
    }
    CLASSES.into_iter().find(|class| name.starts_with(class)).unwrap_or_else(|| panic!("{name} has no class"))
}

pub(crate) fn is_snapshot(name: &str) -> bool {
    name.ends_with("-snapshot")
}

/// The names of all evenings, small ones first.
pub(crate) fn evenings() -> Vec<String> {
    let place = |name: &String| CLASSES.iter().position(|one| *one == class(name));
    let mut all = names("instances");
    all.sort_by_key(|name| (place(name), name.len(), name.clone()));
    all
}

/// The names of what is in a folder, sorted.
pub(crate) fn names(folder: &str) -> Vec<String> {
    let files = fs::read_dir(path(folder)).unwrap_or_else(|error| panic!("{folder}: {error}"));
    let stem = |file: std::io::Result<fs::DirEntry>| {
        let path = file.expect("a folder that can be listed").path();
        path.file_stem().and_then(|stem| stem.to_str()).expect("published names are plain").to_owned()
    };
    let mut names: Vec<String> = files.map(stem).collect();
    names.sort();
    names
}

/// What is known of every evening.
pub(crate) struct Best(Value);

impl Best {
    pub(crate) fn read() -> Self {
        Self(serde_json::from_str(&text("best.json")).expect("published as JSON"))
    }

    /// By how many percent an objective is above the best known, in the measure of the published page.
    pub(crate) fn gap(&self, name: &str, objective: i64) -> f64 {
        let of =
            |field: &str| self.0[name][field].as_i64().unwrap_or_else(|| panic!("{name} has no {field}"));
        let (best, alone) = (of("objective"), of("alone"));
        ((objective - alone) as f64 / (best - alone) as f64 - 1.0) * 100.0
    }
}
