//! Tests drive the clock; they do not sleep and hope.

use crate::{
    mentions::mentions,
    repository,
    rust_text::blank,
    source::{Fault, Source, demand, expect_lines},
};

/// Files whose tests may sleep, each with its reason.
const EXCEPTIONS: [(&str, &str); 1] =
    [("tests/tests/simulation/pause.rs", "in simulated time, which the test drives itself")];

fn sleeps(sources: &[Source], exceptions: &[(&str, &str)]) -> Vec<Fault> {
    let is_test =
        |source: &&Source| source.extension() == "rs" && source.path.split('/').any(|part| part == "tests");
    let excused = |path: &str| exceptions.iter().any(|(exception, _)| *exception == path);
    let mut faults = Vec::new();
    for source in sources.iter().filter(is_test).filter(|source| !excused(&source.path)) {
        for mention in mentions(&blank(&source.text)) {
            if mention.path.ends_with("thread::sleep") || mention.path.ends_with("time::sleep") {
                faults.push(Fault::new(&source.path, mention.line, mention.path));
            }
        }
    }
    faults
}

#[test]
fn tests_do_not_sleep() {
    let sources = repository::sources();
    demand("wait for what must happen, or drive the clock", &sleeps(&sources, &EXCEPTIONS));
    for (path, reason) in EXCEPTIONS {
        assert!(!reason.is_empty(), "{path} needs its reason");
        assert!(sources.iter().any(|source| source.path == path), "{path} is gone: take it off the list");
    }
}

#[test]
fn a_planted_sleep_is_found_however_it_is_imported() {
    let text = "use std::{thread::{self, sleep}};\nfn f() { thread::sleep(d); }\nfn g() { tokio::time::sleep(d) } // x";
    expect_lines(&sleeps(&[Source::new("server/tests/a.rs", text)], &[]), &[1, 2, 3]);
    expect_lines(&sleeps(&[Source::new("server/tests/a.rs", text)], &[("server/tests/a.rs", "why")]), &[]);
    expect_lines(&sleeps(&[Source::new("server/src/live/clock.rs", text)], &[]), &[]);
}
