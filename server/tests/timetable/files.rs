//! What is published.

use std::fs;
use std::path::{Path, PathBuf};

use turnabout_server::timetable::format::read_instance;
use turnabout_server::timetable::instance::Instance;

/// The folder with everything that is published of the problem.
pub(crate) fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/published/timetable")
}

/// The files of one of its folders, as name without ending and text, in the order of their names.
pub(crate) fn texts(of: &str) -> Vec<(String, String)> {
    let entries = fs::read_dir(folder().join(of)).expect("a published folder");
    let mut texts: Vec<(String, String)> = entries
        .map(|entry| {
            let path = entry.expect("an entry").path();
            let name = path.file_stem().expect("a name").to_string_lossy().into_owned();
            (name, fs::read_to_string(path).expect("text"))
        })
        .collect();
    texts.sort();
    texts
}

/// Every published instance.
pub(crate) fn instances() -> Vec<(String, Instance)> {
    let texts = texts("instances").into_iter().chain(texts("classic"));
    texts
        .map(|(name, text)| {
            let instance = read_instance(&text).unwrap_or_else(|mistakes| panic!("{name}: {mistakes}"));
            (name, instance)
        })
        .collect()
}
