//! What an evening says of somebody who practised as one of its coaches: what was late, by how much, and what it waited for.

use std::fmt::Write as _;

use turnabout_protocol::ids::{CoachId, StationId, TurnId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis};

use crate::floor::config::{Floor, Names, Person};
use crate::floor::event::{Entry, Event};
use crate::floor::rehearse::measured::late::{After, Late, Lateness, What, late};
use crate::floor::rehearse::measured::measured;
use crate::floor::state::ClockMapping;

/// What the entries of an evening say of a coach, as text of a few lines. Times are those of clocks at the floor, to the
/// second; where entries tell of no clock, those since the start.
#[must_use]
pub fn told(entries: &[Entry], floor: &Floor, names: &Names, coach: CoachId) -> String {
    let all = late(entries, coach);
    let evening = measured(entries);
    let clock = clock(entries);
    let mut said = format!("{}: {}", name(names, Person::Coach(coach), coach.0), counted(&all));
    if clock.is_none() && !all.late.is_empty() {
        said.push_str(" Times are since the start.");
    }
    said.push('\n');
    let told = Told { floor, names };
    let (own, others): (Vec<&Late>, Vec<&Late>) = all.late.iter().partition(|one| is_of(one, coach));
    for (heading, some) in [("Waited for you:", own), ("Waited for others or for another bar:", others)] {
        // Writing to a string cannot fail.
        if !some.is_empty() {
            let _ = writeln!(said, "{heading}");
        }
        for one in some {
            let due = clock.map_or_else(|| length(one.due.since(FloorMs(0))), |clock| time(&clock, one.due));
            let _ = writeln!(said, "  {due}  {}", told.line(one));
        }
    }
    let (rests, worst) = (length(evening.overrun), length(evening.worst_overrun));
    let _ =
        writeln!(said, "All groups: {} sets, rests too long by {rests}, the worst by {worst}.", evening.sets);
    said
}

/// Whether it was for the coach to do something.
fn is_of(late: &Late, coach: CoachId) -> bool {
    match late.what {
        What::Call { .. } => true,
        What::Set { after, .. } => after.is_of(coach),
    }
}

/// How much was late, of how much.
fn counted(all: &Lateness) -> String {
    let sets = all.late.iter().filter(|one| matches!(one.what, What::Set { .. })).count();
    let calls = all.late.len() - sets;
    let of_sets = format!("{sets} of {} sets late", all.sets);
    match (sets, calls) {
        (0, 0) => format!("nothing was late, of {} sets.", all.sets),
        (_, 0) => format!("{of_sets}."),
        (_, 1) => format!("{of_sets}, and one call that waited."),
        (_, calls) => format!("{of_sets}, and {calls} calls that waited."),
    }
}

/// What clocks at the floor showed, as far as the entries tell.
fn clock(entries: &[Entry]) -> Option<ClockMapping> {
    let mut clock: Option<ClockMapping> = None;
    for entry in entries {
        // Nothing else says what time it is.
        if let Event::ClockMapped { utc_ms, offset_secs } = &entry.event {
            clock = Some(clock.unwrap_or_default().moved(entry.at, *utc_ms, *offset_secs));
        }
    }
    clock
}

/// `18:52:05`.
fn time(clock: &ClockMapping, at: FloorMs) -> String {
    clock.rfc3339(at).chars().skip("2026-03-02T".len()).take("18:52:05".len()).collect()
}

/// The names of what is told of.
struct Told<'f> {
    floor: &'f Floor,
    names: &'f Names,
}

impl Told<'_> {
    fn line(&self, late: &Late) -> String {
        let by = length(late.by);
        match late.what {
            What::Call { station } => {
                format!("a call from {}: {by} before somebody said to come", place(self.floor, station))
            }
            What::Set { turn, station, ramp, after } => {
                let place = place(self.floor, station);
                let reason = self.reason(after, &place);
                format!("{} at {place}, {}: {by} late, {reason}", self.client(turn), set(turn, ramp))
            }
        }
    }

    fn reason(&self, after: After, place: &str) -> String {
        let fixed = match after {
            After::Station { before, ramp } => {
                let (client, set) = (self.client(before), set(before, ramp));
                return format!("{client}'s {set} at {place} was not said to be over");
            }
            After::PutOff { by } => return format!("it was put off {}", self.by(by)),
            After::Resumed => "the group was held",
            After::Technique => "the technique set was not passed",
            After::Load => "the load was not confirmed",
            After::Spotter => "nobody was at the bar",
            After::Briefed => "the exercises had not been explained",
            After::OtherUse => "somebody else used the station",
            After::HandedOver => "the group had come from another coach",
            After::AtAnother { set: at } => {
                return format!("you spotted {}'s {}", self.client(at), set(at, false));
            }
            After::Go { by } => return format!("GO was said late {}", self.by(by)),
        };
        fixed.to_owned()
    }

    fn by(&self, actor: Actor) -> String {
        let coach = |coach: CoachId| name(self.names, Person::Coach(coach), coach.0);
        match actor {
            Actor::Station { station } => format!("at the display of {}", place(self.floor, station)),
            Actor::Coach { coach: id } => format!("by {}", coach(id)),
            Actor::Assistant { coach: id } => format!("by {}'s assistant", coach(id)),
            Actor::Board => "at the board".to_owned(),
            Actor::Manager => "by the manager".to_owned(),
            Actor::Floor => "by the floor".to_owned(),
        }
    }

    fn client(&self, turn: TurnId) -> String {
        name(self.names, Person::Client(turn.client), turn.client.0)
    }
}

/// Which set, in the words of the screens.
fn set(turn: TurnId, ramp: bool) -> String {
    match turn.round {
        0 if ramp => "ramp set".to_owned(),
        0 => "technique set".to_owned(),
        round => format!("set {round}"),
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
