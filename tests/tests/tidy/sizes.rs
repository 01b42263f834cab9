//! One idea a file: none is so long that nobody reads it.

use crate::{
    repository,
    source::{Fault, Source, demand, expect_lines},
};

/// Lines; most files are well below half of it.
const LONGEST: usize = 500;

const KINDS: [&str; 6] = ["rs", "slint", "js", "css", "py", "sh"];

/// Files that may be longer, each with its reason.
const EXCEPTIONS: [(&str, &str); 2] = [
    ("server/src/floor/event.rs", "one closed list of everything that can happen, each with its fields"),
    ("tests/published/timetable/checker.py", "published by others and kept as it is"),
];

fn too_long(sources: &[Source], exceptions: &[(&str, &str)]) -> Vec<Fault> {
    let long =
        |source: &&Source| KINDS.contains(&source.extension()) && source.text.lines().count() > LONGEST;
    let excused = |path: &str| exceptions.iter().any(|(exception, _)| *exception == path);
    let faults = sources.iter().filter(long).filter(|source| !excused(&source.path));
    faults.map(|source| Fault::new(&source.path, LONGEST + 1, format!("over {LONGEST} lines"))).collect()
}

#[test]
fn no_file_is_too_long_without_a_reason() {
    let sources = repository::sources();
    demand("split the file, or list it with its reason", &too_long(&sources, &EXCEPTIONS));
    for (path, reason) in EXCEPTIONS {
        assert!(!reason.is_empty(), "{path} needs its reason");
        let still = sources.iter().filter(|source| source.path == path).cloned().collect::<Vec<_>>();
        assert!(!too_long(&still, &[]).is_empty(), "{path} is not too long any more: take it off the list");
    }
}

#[test]
fn a_planted_long_file_is_found_unless_listed() {
    let long = [Source::new("kiosk/ui/a.slint", &"x\n".repeat(LONGEST + 1))];
    expect_lines(&too_long(&long, &[]), &[LONGEST + 1]);
    expect_lines(&too_long(&long, &[("kiosk/ui/a.slint", "a table")]), &[]);
    expect_lines(&too_long(&[Source::new("a.rs", &"x\n".repeat(LONGEST))], &[]), &[]);
}
