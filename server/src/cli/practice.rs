//! What an evening says of somebody who practised as one of its coaches: what was late, by how much, and what it waited for.

use std::fmt::Write as _;

use turnabout_protocol::ids::{ClientId, CoachId, StationId};
use turnabout_protocol::units::{FloorMs, Millis};

use crate::floor::config::{Floor, Names, Person};
use crate::floor::event::Entry;
use crate::floor::rehearse::measured::late::{After, Late, What, late};
use crate::floor::rehearse::measured::measured;

/// What the entries of an evening say of a coach, as text of a few lines.
#[must_use]
pub fn told(entries: &[Entry], floor: &Floor, names: &Names, coach: CoachId) -> String {
    let all = late(entries, coach);
    let evening = measured(entries);
    let who = name(names, Person::Coach(coach), coach.0);
    let mut said = match all.len() {
        0 => format!("{who}: nothing was late.\n"),
        1 => format!("{who}: one thing was late.\n"),
        count => format!("{who}: {count} things were late.\n"),
    };
    for one in &all {
        // Writing to a string cannot fail.
        let _ = writeln!(said, "  {}  {}", length(one.due.since(FloorMs(0))), line(one, floor, names));
    }
    let (rests, worst) = (evening.overrun.ceil_secs(), evening.worst_overrun.ceil_secs());
    let _ = writeln!(
        said,
        "All groups: {} sets, rests too long by {rests} s, the worst by {worst} s.",
        evening.sets
    );
    said
}

fn line(late: &Late, floor: &Floor, names: &Names) -> String {
    let by = length(late.by);
    match late.what {
        What::Call { station } => {
            format!("a call from {}: {by} before somebody said to come", place(floor, station))
        }
        What::Set { turn, station, after } => {
            let client = name(names, Person::Client(turn.client), ClientId(turn.client.0).0);
            let set = if turn.round == 0 { "light set".to_owned() } else { format!("set {}", turn.round) };
            format!("{client} at {}, {set}: {by} late, {}", place(floor, station), reason(after))
        }
    }
}

const fn reason(after: After) -> &'static str {
    match after {
        After::Station => "the set before was not said to be over",
        After::Resumed => "the group was held",
        After::Technique => "the light set was not passed",
        After::Load => "the load was not confirmed",
        After::Spotter => "nobody was at the bar",
        After::PutOff => "it was put off",
        After::Go => "nobody said GO",
    }
}

fn name(names: &Names, person: Person, number: impl Into<u64>) -> String {
    names.get(&person).cloned().unwrap_or_else(|| number.into().to_string())
}

fn place(floor: &Floor, station: StationId) -> String {
    floor.stations.get(&station).map_or_else(|| station.0.to_string(), |station| station.name.clone())
}

/// Minutes and seconds.
fn length(time: Millis) -> String {
    let seconds = time.ceil_secs().max(0);
    format!("{}:{:02}", seconds / 60, seconds % 60)
}
