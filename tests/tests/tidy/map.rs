//! `DEVELOPERS.md` is the map of the house, and the map is true.

use std::collections::BTreeSet;

use crate::{
    layout, repository,
    source::{Fault, Source, demand, expect_lines},
};

const MAP: &str = "DEVELOPERS.md";

/// What stands between backticks, with its line. Fenced blocks show commands and pictures, not places.
fn quoted(map: &Source) -> Vec<(usize, &str)> {
    let mut fenced = false;
    let mut found = Vec::new();
    for (line, text) in map.lines() {
        if text.trim_start().starts_with("```") {
            fenced = !fenced;
        } else if !fenced {
            found.extend(text.split('`').skip(1).step_by(2).map(|words| (line, words)));
        }
    }
    found
}

/// The repository path that quoted words begin with, if they do: `tests/run --offline` means `tests/run`.
/// Of a pattern, the folder before it.
fn place(words: &str) -> Option<&str> {
    let first = words.split_whitespace().next()?;
    let first = first.split(['*', '{', '<', ':']).next()?;
    let (top, _) = first.split_once('/')?;
    let folder =
        if first.len() < words.split([' ', ':']).next()?.len() { first.rsplit_once('/')?.0 } else { first };
    (layout::TOP.contains(&top) || top == ".ci").then(|| folder.trim_end_matches('/'))
}

fn dead_places(map: &Source, paths: &[String]) -> Vec<Fault> {
    let exists = |place: &str| {
        paths
            .iter()
            .any(|path| path.strip_prefix(place).is_some_and(|rest| rest.is_empty() || rest.starts_with('/')))
    };
    let places = quoted(map).into_iter().filter_map(|(line, words)| Some((line, place(words)?)));
    places
        .filter(|(_, place)| !exists(place))
        .map(|(line, place)| Fault::new(MAP, line, format!("{place} does not exist")))
        .collect()
}

fn unnamed_rooms(map: &Source, paths: &[String]) -> Vec<Fault> {
    let rooms: BTreeSet<&str> = paths
        .iter()
        .filter_map(|path| path.strip_prefix("server/src/")?.split_once('/'))
        .map(|(room, _)| room)
        .collect();
    let words = quoted(map);
    let named = |room: &str| {
        let path = format!("server/src/{room}");
        words.iter().any(|(_, words)| words.trim_end_matches('/') == room || words.starts_with(&path))
    };
    rooms
        .into_iter()
        .filter(|room| !named(room))
        .map(|room| Fault::new(MAP, 0, format!("does not name {room}")))
        .collect()
}

fn the_map(sources: Vec<Source>) -> Source {
    sources.into_iter().find(|source| source.path == MAP).expect("the house has its map")
}

#[test]
fn every_place_on_the_map_exists() {
    demand(
        "the map names only what exists",
        &dead_places(&the_map(repository::sources()), &repository::paths()),
    );
}

#[test]
fn every_room_is_on_the_map() {
    demand("the map names every room", &unnamed_rooms(&the_map(repository::sources()), &repository::paths()));
}

#[test]
fn planted_dead_places_and_unnamed_rooms_are_found() {
    let text = "`server/src/floor/` and `server/src/gone.rs`\n`and/or`, `tests/run --offline`, `tests/nope -x`\n\
                ```\n`server/src/other`\n```\n`server/src/floor/*.rs`, `server/src/none/*.rs`\n`protocol/src/a.rs::f`";
    let map = Source::new(MAP, text);
    let paths = ["server/src/floor/a.rs", "server/src/live/b.rs", "tests/run", "protocol/src/a.rs"]
        .map(str::to_owned);
    expect_lines(&dead_places(&map, &paths), &[1, 2, 6]);
    let faults = unnamed_rooms(&map, &paths);
    assert_eq!(faults, [Fault::new(MAP, 0, "does not name live")]);
}
