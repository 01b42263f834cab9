//! Who may use whom.

use std::path::Path;

use crate::{
    mentions::mentions,
    repository,
    rooms::{self, PURE},
    rust_text::shipped,
    source::{Fault, Source, demand, expect_lines},
};

const OURS: [&str; 4] = ["turnabout-protocol", "turnabout-server", "turnabout-kiosk", "turnabout-tests"];

/// The demo's people are guests: they speak over real sockets and see nothing from inside.
const CLOSED_TO_DEMO: [&str; 2] = ["live", "floor"];

/// A path that starts inside our server, as its segments below the crate: `crate::floor::x`, `super::x`, or
/// the crate by name.
fn inside(path: &str, file: &str) -> Option<Vec<String>> {
    let mut segments = path.split("::").peekable();
    let mut at = match segments.peek().copied()? {
        "crate" | "turnabout_server" => {
            segments.next();
            Vec::new()
        }
        "super" => module_of(file)?,
        _ => return None,
    };
    while segments.next_if_eq(&"super").is_some() {
        at.pop();
    }
    at.extend(segments.map(str::to_owned));
    Some(at)
}

/// The module that a server file is.
fn module_of(file: &str) -> Option<Vec<String>> {
    let inside = Path::new(file).strip_prefix("server/src").ok()?.with_extension("");
    let mut module: Vec<String> = inside.iter().map(|part| part.to_string_lossy().into_owned()).collect();
    if matches!(module.last().map(String::as_str), Some("mod" | "lib" | "main")) {
        module.pop();
    }
    Some(module)
}

/// Mentions of server modules that the predicate refuses, given the first segment below the crate.
fn refused(source: &Source, allowed: impl Fn(&str) -> bool) -> Vec<Fault> {
    let mut faults = Vec::new();
    for mention in mentions(&source.text) {
        let target = inside(&mention.path, &source.path).and_then(|module| module.into_iter().next());
        if target.is_some_and(|target| !allowed(&target)) {
            faults.push(Fault::new(&source.path, mention.line, mention.path));
        }
    }
    faults
}

fn against_the_order(sources: &[Source]) -> Vec<Fault> {
    let shipped = shipped(sources);
    let pure = shipped.iter().filter_map(|source| Some((source, rooms::pure_rank(source)?)));
    pure.flat_map(|(source, rank)| refused(source, |target| PURE[..=rank].contains(&target))).collect()
}

fn demo_inside_the_server(sources: &[Source]) -> Vec<Fault> {
    let shipped = shipped(sources);
    let demo = shipped.iter().filter(|source| rooms::room(&source.path) == Some("demo"));
    demo.flat_map(|source| refused(source, |target| !CLOSED_TO_DEMO.contains(&target))).collect()
}

/// Names of the packages that a manifest depends on, in any table, with the table's path.
fn dependencies(manifest: &Source) -> Vec<String> {
    let table: toml::Table =
        manifest.text.parse().unwrap_or_else(|error| panic!("{}: {error}", manifest.path));
    let mut found = Vec::new();
    collect_dependencies(&table, &mut found);
    found
}

fn collect_dependencies(table: &toml::Table, found: &mut Vec<String>) {
    for (key, value) in table {
        let Some(inner) = value.as_table() else { continue };
        if key.ends_with("dependencies") {
            for (name, what) in inner {
                // `alias = { package = "name" }` depends on the name.
                let package = what.get("package").and_then(toml::Value::as_str);
                found.push(package.unwrap_or(name).to_owned());
            }
        } else {
            collect_dependencies(inner, found);
        }
    }
}

fn wrong_packages(sources: &[Source]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for manifest in sources.iter().filter(|source| source.path.ends_with("Cargo.toml")) {
        let allowed_ours: &[&str] = match manifest.path.as_str() {
            "protocol/Cargo.toml" => &[],
            "kiosk/Cargo.toml" | "server/Cargo.toml" => &["turnabout-protocol"],
            // The tests, and the workspace's list of versions.
            _ => &["turnabout-protocol", "turnabout-server"],
        };
        for name in dependencies(manifest) {
            let toolkit = name.split('-').any(|part| part == "slint");
            if toolkit && manifest.path != "kiosk/Cargo.toml" {
                faults.push(Fault::new(
                    &manifest.path,
                    0,
                    format!("{name}: only the kiosk links the toolkit"),
                ));
            }
            if OURS.contains(&name.as_str()) && !allowed_ours.contains(&name.as_str()) {
                faults.push(Fault::new(&manifest.path, 0, format!("may not depend on {name}")));
            }
        }
    }
    faults
}

#[test]
fn pure_rooms_use_only_the_pure_rooms_before_them() {
    let rule =
        "arrows between rooms: training, loading, timetable, floor, capacity, each only those before it";
    demand(rule, &against_the_order(&repository::sources()));
}

#[test]
fn the_demo_stays_outside_the_floor() {
    demand("the demo speaks over sockets only", &demo_inside_the_server(&repository::sources()));
}

#[test]
fn packages_depend_on_ours_only_along_the_arrows() {
    demand("arrows between packages", &wrong_packages(&repository::sources()));
}

#[test]
fn planted_arrows_against_the_order_are_found() {
    let text = "use turnabout_protocol::units::Mass;\nuse crate::{training::x, floor};\nuse super::step;\n\
                use super::super::{journal, loading::y};\nfn f() { crate::live::g(); std::mem::drop(1) }\n\
                #[cfg(test)]\nuse crate::web;";
    let faults = against_the_order(&[Source::new("server/src/loading/plates.rs", text)]);
    expect_lines(&faults, &[2, 4, 5]);
    expect_lines(&against_the_order(&[Source::new("server/src/journal/log.rs", text)]), &[]);
    let faults =
        against_the_order(&[Source::new("server/src/training/mod.rs", "mod a;\nuse super::loading;")]);
    expect_lines(&faults, &[2]);
}

#[test]
fn a_planted_demo_that_looks_inside_is_found() {
    let text = "use crate::setup;\nuse crate::live::hub;\nfn f() { turnabout_server::floor::x() }";
    expect_lines(&demo_inside_the_server(&[Source::new("server/src/demo/people.rs", text)]), &[2, 3]);
}

#[test]
fn planted_packages_against_the_arrows_are_found() {
    let slint = "[dependencies]\nslint = \"1\"\n[target.'cfg(unix)'.dev-dependencies]\ni-slint-core = \"1\"";
    assert_eq!(wrong_packages(&[Source::new("server/Cargo.toml", slint)]).len(), 2);
    assert_eq!(wrong_packages(&[Source::new("kiosk/Cargo.toml", slint)]), []);
    let server = "[dependencies]\nx = { package = \"turnabout-server\", path = \"../server\" }";
    assert_eq!(wrong_packages(&[Source::new("kiosk/Cargo.toml", server)]).len(), 1);
    assert_eq!(wrong_packages(&[Source::new("protocol/Cargo.toml", server)]).len(), 1);
    assert_eq!(wrong_packages(&[Source::new("tests/Cargo.toml", server)]), []);
}
