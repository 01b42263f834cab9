//! What lies at the top.

use std::collections::BTreeSet;

use crate::{
    repository,
    source::{Fault, demand},
};

/// Must be there.
pub(crate) const TOP: [&str; 8] =
    ["Cargo.lock", "Cargo.toml", "DEVELOPERS.md", "README.md", "kiosk", "protocol", "server", "tests"];

/// May be there besides licences and names that begin with a dot.
const ALSO: [&str; 2] = ["clippy.toml", "rustfmt.toml"];

fn misplaced<'a>(paths: impl Iterator<Item = &'a str>) -> Vec<Fault> {
    let found: BTreeSet<&str> = paths.filter_map(|path| path.split('/').next()).collect();
    let wanted = BTreeSet::from(TOP);
    let known = |name: &str| name.starts_with('.') || name.starts_with("LICENSE") || ALSO.contains(&name);
    let missing = wanted.difference(&found).map(|name| Fault::new(name, 0, "missing"));
    let extra =
        found.difference(&wanted).filter(|name| !known(name)).map(|name| Fault::new(name, 0, "extra"));
    missing.chain(extra).collect()
}

#[test]
fn the_top_level_is_exactly_the_house() {
    let paths = repository::paths();
    demand("the top level is fixed", &misplaced(paths.iter().map(String::as_str)));
}

#[test]
fn planted_extra_and_missing_names_are_found() {
    let mut house: Vec<String> = TOP.iter().map(|name| format!("{name}/x")).collect();
    house.extend([".ci/run", "LICENSE-MIT", "clippy.toml"].map(str::to_owned));
    assert_eq!(misplaced(house.iter().map(String::as_str)), []);
    house.push("docs/a.md".to_owned());
    house.retain(|path| path != "server/x");
    let names: Vec<String> =
        misplaced(house.iter().map(String::as_str)).into_iter().map(|f| f.path).collect();
    assert_eq!(names, ["server", "docs"]);
}
