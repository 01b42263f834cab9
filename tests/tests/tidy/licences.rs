//! The kiosk links a toolkit under the GPL; everything else stays free of it and says so.

use crate::{
    repository,
    source::{Fault, Source, demand},
};

const LICENCES: [(&str, &str); 4] = [
    ("kiosk/Cargo.toml", "GPL-3.0-only"),
    ("protocol/Cargo.toml", "MIT OR Apache-2.0"),
    ("server/Cargo.toml", "MIT OR Apache-2.0"),
    ("tests/Cargo.toml", "MIT OR Apache-2.0"),
];

fn wrong_licences(sources: &[Source]) -> Vec<Fault> {
    let wrong = |(path, expected): &(&str, &str)| {
        let manifest = sources.iter().find(|source| source.path == *path)?;
        let table: toml::Table = manifest.text.parse().unwrap_or_else(|error| panic!("{path}: {error}"));
        let found =
            table.get("package").and_then(|package| package.get("license")).and_then(toml::Value::as_str);
        (found != Some(expected)).then(|| Fault::new(path, 0, format!("{found:?}, must be {expected}")))
    };
    LICENCES.iter().filter_map(wrong).collect()
}

#[test]
fn each_package_carries_its_licence() {
    let sources = repository::sources();
    let manifests = sources.iter().filter(|source| source.path.ends_with("/Cargo.toml")).count();
    assert_eq!(manifests, LICENCES.len(), "a new package needs its line in the table of licences");
    demand("licences", &wrong_licences(&sources));
}

#[test]
fn a_planted_wrong_or_absent_licence_is_found() {
    let wrong = [
        Source::new("server/Cargo.toml", "[package]\nlicense = \"GPL-3.0-only\""),
        Source::new("kiosk/Cargo.toml", "[package]\nname = \"x\""),
        Source::new("tests/Cargo.toml", "[package]\nlicense = \"MIT OR Apache-2.0\""),
    ];
    let paths: Vec<String> = wrong_licences(&wrong).into_iter().map(|fault| fault.path).collect();
    assert_eq!(paths, ["kiosk/Cargo.toml", "server/Cargo.toml"]);
}
