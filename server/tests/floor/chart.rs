//! The charts of a group and of a station say what histories do: no more, no less.

use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::view::{Stage, StationState};
use turnabout_server::floor::chart::{self, GROUP, STATION, Step};
use turnabout_server::floor::event::Entry;
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::state::State;

use crate::histories::always_the_same;

/// Histories that are looked at: enough that each step is taken by one.
const HISTORIES: usize = 6_000;

/// Steps that no random history takes in so few; each has its own test.
const RARE: [&str; 2] = ["stations_given_back", "turn_reopened"];

type Steps<S> = BTreeMap<(S, S), BTreeSet<&'static str>>;

fn note<S: Ord>(steps: &mut Steps<S>, from: S, to: S, kind: &'static str) {
    if from != to {
        steps.entry((from, to)).or_default().insert(kind);
    }
}

/// Every step that the entries of a history take. Other files and other days begin anew.
fn walk(entries: &[Entry], groups: &mut Steps<Stage>, stations: &mut Steps<StationState>) {
    let mut state = State::new();
    for entry in entries {
        let kind = entry.event.kind();
        if matches!(kind, "floor_set" | "programme_set") {
            evolve(&mut state, entry);
            continue;
        }
        let plans = state.programme.groups.clone();
        let stages: Vec<Stage> = plans.iter().map(|(id, plan)| state.groups[id].stage(plan)).collect();
        let uses: Vec<_> = state.stations.iter().map(|(id, now)| state.station_state(*id, now)).collect();
        evolve(&mut state, entry);
        for ((id, plan), was) in plans.iter().zip(stages) {
            note(groups, was, state.groups[id].stage(plan), kind);
        }
        for ((id, now), was) in state.stations.iter().zip(uses) {
            note(stations, was, state.station_state(*id, now), kind);
        }
    }
}

fn of<S: Copy + Ord>(rows: &[Step<S>]) -> Steps<S> {
    rows.iter().map(|row| ((row.from, row.to), row.by.iter().copied().collect())).collect()
}

/// What is in one and not in the other.
fn only<S: Copy + Ord>(one: &Steps<S>, other: &Steps<S>) -> Vec<(S, S, &'static str)> {
    let all = |steps: &Steps<S>| -> BTreeSet<(S, S, &'static str)> {
        steps.iter().flat_map(|((from, to), by)| by.iter().map(|kind| (*from, *to, *kind))).collect()
    };
    all(one).difference(&all(other)).copied().filter(|(_, _, kind)| !RARE.contains(kind)).collect()
}

#[test]
fn the_charts_say_what_histories_do() {
    let (mut groups, mut stations) = (Steps::new(), Steps::new());
    for entries in always_the_same(HISTORIES) {
        walk(&entries, &mut groups, &mut stations);
    }
    assert_eq!(only(&groups, &of(&GROUP)), [], "steps of groups that the chart lacks");
    assert_eq!(only(&stations, &of(&STATION)), [], "steps of stations that the chart lacks");
    // Who left comes back just while the others wipe down: `sessions` has it.
    let mut seldom = only(&of(&GROUP), &groups);
    seldom.retain(|step| *step != (Stage::WipeDown, Stage::Rounds, "clients_arrived"));
    assert_eq!(seldom, [], "steps of the chart that no group takes");
    // Of two groups that share a station one ends its session while it wipes down: once in some thousand histories.
    let mut seldom = only(&of(&STATION), &stations);
    seldom.retain(|step| *step != (StationState::WipeDown, StationState::Reserved, "session_ended"));
    assert_eq!(seldom, [], "steps of the chart that no station takes");
}

#[test]
fn the_map_of_the_house_has_the_charts_as_the_command_draws_them() {
    let map = include_str!("../../../DEVELOPERS.md");
    for chart in [chart::group(), chart::station()] {
        assert!(
            map.contains(&format!("```mermaid\n{chart}```")),
            "not in DEVELOPERS.md; `cargo run -p turnabout-server --example chart` draws:\n{chart}"
        );
    }
}
