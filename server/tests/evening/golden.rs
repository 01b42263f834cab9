//! The script, played: its journal and its summary are as they were, and the journal alone leads to the same.

use std::fs;
use std::path::Path;

use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::state::State;
use turnabout_server::journal::Row;
use turnabout_server::journal::codec::{decode, encode};

use crate::play::Evening;
use crate::script;
use crate::summary::{clock, summary};

fn played() -> Evening {
    let mut evening = Evening::new();
    let lines = script::parse(include_str!("script.txt")).unwrap_or_else(|mistake| panic!("{mistake}"));
    for line in &lines {
        if let Err(mistake) = evening.play(line) {
            let last = evening.entries.iter().rev().take(40).rev();
            let last = last.map(|e| format!("{} {:?} {:?}\n", clock(e.recorded), e.by, e.event));
            panic!("script.txt, {mistake}\n{}", last.collect::<String>());
        }
    }
    evening
}

fn same(name: &str, told: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden/evening").join(name);
    if std::env::var("GOLDEN").as_deref() == Ok("write") {
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, told).unwrap();
    }
    let golden = fs::read_to_string(&path).unwrap_or_default();
    if let Some((n, (is, was))) = (1..).zip(told.lines().zip(golden.lines())).find(|(_, (is, was))| is != was)
    {
        panic!("{name}, line {n}\n is {is}\nwas {was}");
    }
    assert_eq!(told.lines().count(), golden.lines().count(), "{name} has another length");
}

fn line(row: &Row) -> String {
    let json: serde_json::Value = serde_json::from_str(&row.json).unwrap();
    let (sequence, recorded, kind, version) = (row.sequence, row.recorded, &row.kind, row.version);
    serde_json::json!([sequence, recorded, kind, version, json]).to_string()
}

fn row(line: &str) -> Row {
    let (sequence, recorded, kind, version, json): (_, _, String, _, serde_json::Value) =
        serde_json::from_str(line).unwrap();
    Row { sequence, recorded, kind: kind.into(), version, json: json.to_string() }
}

#[test]
fn the_evening_goes_as_it_is_written_down() {
    let evening = played();
    let rows: Vec<String> = evening.entries.iter().map(|entry| line(&encode(entry).unwrap())).collect();
    same("journal.jsonl", &(rows.join("\n") + "\n"));
    same("summary.txt", &summary(&evening));

    let mut state = State::new();
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden/evening/journal.jsonl");
    for line in fs::read_to_string(path).unwrap().lines() {
        evolve(&mut state, &decode(&row(line)).unwrap());
    }
    assert_eq!(state, evening.state, "the journal alone leads to the same");
}

#[test]
fn every_kind_of_entry_happens_in_the_evening() {
    let evening = played();
    let missing: Vec<_> = turnabout_server::floor::event::Event::KINDS
        .iter()
        // What is told comes from a plan, and the script has people alone.
        .filter(|kind| **kind != "promised")
        .filter(|kind| !evening.entries.iter().any(|entry| entry.event.kind() == **kind))
        .collect();
    assert!(missing.is_empty(), "never happened: {missing:?}");
    assert_eq!(evening.state.groups.len(), 12);
    assert_eq!(evening.state.floor.coaches.len(), 3);
    assert!(
        evening.state.stations.values().all(|s| s.on.is_none() && s.claim.is_none()),
        "all have gone home"
    );
}
