//! Which ways groups and stations go, as tables: what the map of the house draws, and what tests hold the floor
//! to. Every step that a history takes is in a table, and every row is taken by some history.

mod rows;

use std::fmt::Write as _;

use turnabout_protocol::view::{Stage, StationState};

pub use self::rows::{GROUP, STATION};

/// A step: from where, by which kinds of events, to where.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step<S: 'static> {
    /// From here ...
    pub from: S,
    /// ... to there ...
    pub to: S,
    /// ... by an event of one of these kinds.
    pub by: &'static [&'static str],
}

/// The chart of a group, in the notation that many readers of Markdown draw.
#[must_use]
pub fn group() -> String {
    draw(&GROUP, Stage::Expected, |stage| match stage {
        Stage::Expected => "expected",
        Stage::Gone => "gone",
        Stage::WarmUp => "warm-up",
        Stage::Briefing => "briefing",
        Stage::Waiting => "waiting",
        Stage::Technique => "technique sets",
        Stage::Rounds => "rounds",
        Stage::WipeDown => "wipe-down",
        Stage::Finished => "finished",
    })
}

/// The chart of a station.
#[must_use]
pub fn station() -> String {
    draw(&STATION, StationState::Free, |state| match state {
        StationState::Free => "free",
        StationState::Reserved => "reserved",
        StationState::InUse => "in use",
        StationState::WipeDown => "wipe-down",
        StationState::OtherUse => "other use",
        StationState::OutOfService => "out of service",
    })
}

fn draw<S: Copy>(steps: &[Step<S>], first: S, name: impl Fn(S) -> &'static str) -> String {
    let id = |state: S| name(state).replace([' ', '-'], "_");
    let mut chart = String::from("stateDiagram-v2\n");
    let mut named: Vec<&str> = Vec::new();
    for state in steps.iter().flat_map(|step| [step.from, step.to]) {
        if !named.contains(&name(state)) {
            named.push(name(state));
            let _ = writeln!(chart, "    state \"{}\" as {}", name(state), id(state));
        }
    }
    let _ = writeln!(chart, "    [*] --> {}", id(first));
    for step in steps {
        let by = step.by.join(", ").replace('_', " ");
        let _ = writeln!(chart, "    {} --> {}: {by}", id(step.from), id(step.to));
    }
    chart
}
