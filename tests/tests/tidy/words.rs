//! Words that do not belong in the repository.

use crate::{
    mentions::mentions,
    repository,
    rust_text::{blank, is_name},
    source::{Fault, Source, demand, expect_lines},
};

const CODE: [&str; 7] = ["rs", "slint", "js", "css", "html", "py", "sh"];

// Cut in two, or this file would break its own rules.

/// Promises nobody keeps.
const LATER: [&str; 4] = [concat!("TO", "DO"), concat!("FIX", "ME"), concat!("XX", "X"), concat!("HA", "CK")];

/// Code that is not there yet, or not there for good.
const UNFINISHED: [&str; 3] = ["todo!", "unimplemented!", "dbg!"];

/// Files and hosts of one machine, and papers that nobody else has. A clone must work and read well anywhere.
const ELSEWHERE: [&str; 15] = [
    concat!("/wo", "rk/"),
    concat!("/tmp/", "wt"),
    concat!("/root", "/"),
    concat!("../sha", "red"),
    concat!("design", ".md"),
    concat!("facts", ".md"),
    concat!("seed ", "document"),
    concat!("Co-authored", "-by"),
    concat!("crates", ".io"),
    concat!("pypi", ".org"),
    concat!("pythonhosted", ".org"),
    concat!("npmjs", ".org"),
    concat!("npmjs", ".com"),
    concat!("debian", ".org"),
    concat!("proxy.golang", ".org"),
];

/// Cargo writes its registry's address into every entry and offers no way around it.
const LOCK: &str = "Cargo.lock";

fn left_for_later(sources: &[Source]) -> Vec<Fault> {
    let mut faults = Vec::new();
    // Scripts without an ending are code too.
    let is_code = |source: &&Source| CODE.contains(&source.extension()) || source.text.starts_with("#!/");
    for source in sources.iter().filter(is_code) {
        for (line, text) in source.lines() {
            for word in LATER.iter().filter(|word| has_word(text, word)) {
                faults.push(Fault::new(&source.path, line, *word));
            }
        }
        if source.extension() == "rs" {
            faults.extend(unfinished(source));
        }
    }
    faults
}

fn unfinished(source: &Source) -> Vec<Fault> {
    let code = blank(&source.text);
    let macros = mentions(&code).into_iter().filter(|mention| UNFINISHED.contains(&mention.path.as_str()));
    let mut faults: Vec<Fault> =
        macros.map(|mention| Fault::new(&source.path, mention.line, mention.path)).collect();
    for (index, _) in code.lines().enumerate().filter(|(_, text)| text.contains("#[ignore")) {
        faults.push(Fault::new(&source.path, index + 1, "an ignored test"));
    }
    faults
}

fn has_word(text: &str, word: &str) -> bool {
    text.match_indices(word).any(|(at, _)| {
        let before = text[..at].chars().next_back();
        let after = text[at + word.len()..].chars().next();
        !before.is_some_and(is_name) && !after.is_some_and(is_name)
    })
}

fn from_elsewhere(sources: &[Source]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for source in sources.iter().filter(|source| source.path != LOCK) {
        for (line, text) in source.lines() {
            for word in ELSEWHERE.iter().filter(|word| text.contains(*word)) {
                faults.push(Fault::new(&source.path, line, *word));
            }
            if names_an_issue(text) {
                faults.push(Fault::new(&source.path, line, "says an issue's number instead of the reason"));
            }
        }
    }
    faults
}

fn names_an_issue(text: &str) -> bool {
    let lower = text.to_lowercase();
    let numbered = |(at, word): (usize, &str)| {
        lower[at + word.len()..].trim_start_matches('#').starts_with(|c: char| c.is_ascii_digit())
    };
    lower.match_indices("issue ").any(numbered)
}

#[test]
fn nothing_is_left_for_later() {
    demand("finish it or leave it out", &left_for_later(&repository::sources()));
}

#[test]
fn nothing_points_to_one_machine_or_registry() {
    demand("a clone must work and read well anywhere", &from_elsewhere(&repository::sources()));
}

#[test]
fn planted_leftovers_are_found() {
    let text = format!("// {} later\nfn f() {{ todo!() }}\n#[ignore = \"x\"]\n/// todo! in words", LATER[0]);
    expect_lines(&left_for_later(&[Source::new("a/b.rs", &text)]), &[1, 2, 3]);
    expect_lines(&left_for_later(&[Source::new("tests/run", &format!("#!/bin/sh\n# {}", LATER[1]))]), &[2]);
    expect_lines(&left_for_later(&[Source::new("a.js", &format!("// a{}", LATER[2]))]), &[]);
}

#[test]
fn planted_paths_hosts_and_issue_numbers_are_found() {
    let text =
        format!("see {}x\nfine\nfrom {}\nissue {}2 says\nan issue of trust", ELSEWHERE[0], ELSEWHERE[8], '#');
    expect_lines(&from_elsewhere(&[Source::new("README.md", &text)]), &[1, 3, 4]);
    expect_lines(&from_elsewhere(&[Source::new(LOCK, &text)]), &[]);
}
