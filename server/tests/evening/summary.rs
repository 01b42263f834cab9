//! What came of an evening, to be read: by group, client and set, by station, and by coach.

use std::collections::BTreeMap;
use std::fmt::Write;

use turnabout_protocol::command::{Effort, Ending, NoteAbout, Spotter};
use turnabout_protocol::ids::{ClientId, CoachId, GroupId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::text::Language;
use turnabout_protocol::units::{FloorMs, MassUnit};
use turnabout_server::floor::config::{GroupPlan, Person};
use turnabout_server::floor::event::Event;
use turnabout_server::floor::state::{GroupNow, SetOver, SetRecord};
use turnabout_server::training::block::Block;

use crate::play::{Evening, time_of_day};

/// A floor time as clocks at the floor show it.
pub(crate) fn clock(at: FloorMs) -> String {
    let secs = time_of_day(at);
    format!("{:02}:{:02}:{:02}", secs / 3_600, secs / 60 % 60, secs % 60)
}

/// All of it.
pub(crate) fn summary(evening: &Evening) -> String {
    let mut out = String::new();
    for (id, plan) in &evening.state.programme.groups {
        if let Some(now) = evening.state.groups.get(id) {
            group(evening, *id, plan, now, &mut out);
        }
    }
    stations(evening, &mut out);
    coaches(evening, &mut out);
    notes(evening, &mut out);
    out
}

fn group(evening: &Evening, id: GroupId, plan: &GroupPlan, now: &GroupNow, out: &mut String) {
    let coach = |coach: CoachId| evening.name(Person::Coach(coach)).to_owned();
    let mut coached = vec![coach(plan.coach)];
    for entry in &evening.entries {
        if let Event::GroupHandedOver { group, to, .. } = &entry.event
            && *group == id
        {
            coached.push(format!("{} from {}", coach(*to), clock(entry.recorded)));
        }
    }
    let stage = serde_json::to_value(now.stage(plan)).unwrap();
    let stage = if now.no_show { "did not come" } else { stage.as_str().unwrap() };
    writeln!(out, "group {id}: {stage}; coached by {}", coached.join(", then ")).unwrap();
    for client in &plan.clients {
        for past in &now.past {
            if let (Some(block), Some(done)) =
                (plan.blocks.get(usize::from(past.block)), past.clients.get(client))
            {
                of_client(evening, *client, past.block, block, &done.sets, out);
                for (turn, record) in &done.again {
                    let name = evening.name(Person::Client(*client));
                    let (leg, set) = (letter(turn.leg), set(evening, record));
                    writeln!(out, "  {name} block {} 0{leg} once more: {set}", past.block + 1).unwrap();
                }
            }
        }
        if let (Some(block), Some(c)) = (plan.blocks.get(usize::from(now.block)), now.clients.get(client)) {
            of_client(evening, *client, now.block, block, &c.sets, out);
        }
    }
}

fn letter(leg: u8) -> char {
    char::from(b'a' + leg)
}

fn of_client(
    evening: &Evening,
    client: ClientId,
    number: u8,
    block: &Block,
    sets: &[SetOver],
    out: &mut String,
) {
    if sets.is_empty() {
        return;
    }
    writeln!(out, "  {} block {}", evening.name(Person::Client(client)), number + 1).unwrap();
    let legs = block.legs.len();
    for (place, over) in sets.iter().enumerate() {
        let (round, leg) = (place / legs, place % legs);
        let told = match over {
            SetOver::Done(record) => {
                let before = sets.get(legs..round * legs).unwrap_or_default();
                let first = sets[round * legs..place].iter().all(|set| set.done().is_none());
                let ended = before.iter().rev().find_map(SetOver::done).filter(|_| first && round > 1);
                let rest = ended.map(|before| rest(record, before.ended)).unwrap_or_default();
                format!("{}{rest}", set(evening, record))
            }
            SetOver::Skipped { reason, .. } => format!("left out: {}", word(reason)),
            SetOver::Missed => "missed".to_owned(),
        };
        writeln!(out, "    {round}{} {told}", letter(u8::try_from(leg).unwrap())).unwrap();
    }
}

fn rest(record: &SetRecord, before: FloorMs) -> String {
    let secs = record.started.since(before).floor_secs();
    match record.short_rest {
        Some(reason) => format!(", after {secs} s of rest, shortened: {}", word(&reason)),
        None => format!(", after {secs} s of rest"),
    }
}

fn word(said: &impl serde::Serialize) -> String {
    serde_json::to_value(said).unwrap().as_str().unwrap_or_default().replace('_', " ")
}

fn reps(said: Option<u8>) -> String {
    said.map_or_else(|| "?".to_owned(), |reps| reps.to_string())
}

fn set(evening: &Evening, record: &SetRecord) -> String {
    let floor = &evening.state.floor;
    let exercise = floor.exercises.get(&record.exercise).map_or("?", |e| e.key.as_str());
    let station = floor.stations.get(&record.station);
    let unit = station.map_or(MassUnit::Kg, |s| s.gear.unit());
    let load = record.load.now().map(|load| format!(" x {}", load.read(Language::En, unit)));
    let mut told = format!(
        "{} {exercise} at {}: {}{}",
        clock(record.started),
        station.map_or("?", |s| s.key.as_str()),
        reps(record.reps.now()),
        load.unwrap_or_default()
    );
    match record.ending.now() {
        Ending::Complete => {}
        Ending::Helped { reps } => write!(told, ", helped with {reps}").unwrap(),
        Ending::Short => told.push_str(", short"),
        Ending::Failed => told.push_str(", failed"),
        Ending::FormBroken => told.push_str(", form broken"),
        Ending::EquipmentFault => told.push_str(", equipment fault"),
        Ending::Stopped => told.push_str(", stopped"),
    }
    match record.effort.now() {
        None => {}
        Some(Effort::Rir { reps }) => write!(told, ", RIR {reps}").unwrap(),
        Some(Effort::Light) => told.push_str(", light"),
        Some(Effort::Right) => told.push_str(", right"),
        Some(Effort::Heavy) => told.push_str(", heavy"),
    }
    match record.spotter {
        None => {}
        Some(Spotter::Coach { coach }) => {
            write!(told, ", by {}", evening.name(Person::Coach(coach))).unwrap();
        }
        Some(Spotter::Assistant { .. }) => told.push_str(", by an assistant"),
        Some(Spotter::Client { client }) => {
            write!(told, ", by {}", evening.name(Person::Client(client))).unwrap();
        }
        Some(Spotter::Arms) => told.push_str(", safety arms"),
    }
    if let Some(first) = record.reps.first {
        write!(told, " (first said: {})", reps(first.what)).unwrap();
    }
    if record.done.by == Actor::Floor {
        told.push_str(" (assumed)");
    }
    told
}

fn stations(evening: &Evening, out: &mut String) {
    let mut used: BTreeMap<&str, (u32, i64)> = BTreeMap::new();
    let floor = &evening.state.floor;
    for group in evening.state.groups.values() {
        let past = group.past.iter().flat_map(|past| past.clients.values());
        let past =
            past.flat_map(|c| c.sets.iter().filter_map(SetOver::done).chain(c.again.iter().map(|a| &a.1)));
        let now = group.clients.values().flat_map(|c| c.sets.iter().filter_map(SetOver::done));
        for record in past.chain(now) {
            let key = floor.stations.get(&record.station).map_or("?", |s| s.key.as_str());
            let used = used.entry(key).or_default();
            used.0 += 1;
            used.1 += record.ended.since(record.started).floor_secs();
        }
    }
    for (station, (sets, secs)) in used {
        writeln!(out, "{station}: {sets} sets, {} min {} s under load", secs / 60, secs % 60).unwrap();
    }
}

fn coaches(evening: &Evening, out: &mut String) {
    for id in evening.state.floor.coaches.keys() {
        let by = |entry: &&turnabout_server::floor::event::Entry| entry.by == Actor::Coach { coach: *id };
        let taps = evening.entries.iter().filter(by).count();
        let spotter = Some(Spotter::Coach { coach: *id });
        let spots = |event: &Event| matches!(event, Event::TurnWent { spotter: who, .. } if *who == spotter);
        let spotted = evening.entries.iter().filter(|entry| spots(&entry.event)).count();
        let name = evening.name(Person::Coach(*id));
        writeln!(out, "{name}: {taps} entries, {spotted} sets spotted").unwrap();
    }
}

fn notes(evening: &Evening, out: &mut String) {
    for (id, note) in &evening.state.notes {
        let about = match note.about {
            NoteAbout::Incident { station, call } => {
                format!("an incident at station {station}, call {call:?}")
            }
            NoteAbout::Group { group } => format!("group {group}"),
            NoteAbout::Client { client, .. } => evening.name(Person::Client(client)).to_owned(),
            NoteAbout::Set { turn } => {
                let name = evening.name(Person::Client(turn.client));
                format!("{name}'s set {}{}", turn.round, letter(turn.leg))
            }
            NoteAbout::Station { station } => format!("station {station}"),
        };
        let erased = if note.erased.is_some() { ", erased" } else { "" };
        writeln!(out, "note {id} at {}: {about}{erased}", clock(note.written.when)).unwrap();
    }
}
