//! From a programme and its names to the document that a page shows and sends back.

use serde_json::{Map, Value, json};
use turnabout_protocol::command::Ending;
use turnabout_protocol::ids::{ClientId, CoachId, ExerciseId, GroupId, StationId};
use turnabout_protocol::load::Load;
use turnabout_protocol::units::{Mass, MassUnit, Stamped};
use turnabout_protocol::work::Work;

use super::write_blocks;
use crate::floor::config::{
    Client, Day, Earlier, Floor, GroupPlan, Names, Person, Programme, Screening, ScreeningResult,
};
use crate::setup::words::Iso;
use crate::setup::written::Written;

/// A table of the document.
pub(super) type Table = Map<String, Value>;

/// The document of a programme. What is as usual is left out, as people leave it out; a client without a name, whose
/// name was erased, has none here either.
#[must_use]
pub fn document_of(programme: &Programme, names: &Names, floor: &Floor) -> Value {
    let mut document = Table::new();
    put(&mut document, "date", programme.day.map(day));
    let clients = programme.clients.iter().map(|(id, who)| client(*id, who, names, floor));
    document.insert("client".to_owned(), clients.collect());
    let groups = programme.groups.iter().map(|(id, plan)| group(*id, plan, floor));
    document.insert("group".to_owned(), groups.collect());
    Value::Object(document)
}

/// A field, if there is anything to say.
pub(super) fn put(table: &mut Table, name: &str, value: Option<impl Into<Value>>) {
    if let Some(value) = value {
        table.insert(name.to_owned(), value.into());
    }
}

fn client(id: ClientId, client: &Client, names: &Names, floor: &Floor) -> Value {
    let Client { show_load, regular, screening, unit, max, earlier } = client;
    let mut table = Table::new();
    put(&mut table, "number", Some(id.0));
    put(&mut table, "name", names.get(&Person::Client(id)).cloned());
    put(&mut table, "show_load", (!show_load).then_some(false));
    put(&mut table, "regular", regular.then_some(true));
    put(&mut table, "screening", screening.map(self::screening));
    put(&mut table, "unit", unit.map(MassUnit::symbol));
    let known = max.iter().map(|(exercise, mass)| (exercise_key(floor, *exercise), mass_text(*mass).into()));
    put(&mut table, "max", Some(known.collect::<Table>()).filter(|known| !known.is_empty()));
    let earlier: Vec<Value> = earlier.iter().map(|set| self::earlier(set, floor)).collect();
    put(&mut table, "earlier", Some(earlier).filter(|sets| !sets.is_empty()));
    Value::Object(table)
}

fn screening(Screening { on, result }: Screening) -> Value {
    let result = match result {
        ScreeningResult::Cleared => "cleared",
        ScreeningResult::FollowUpNeeded => "follow-up-needed",
    };
    json!({ "on": day(on), "result": result })
}

fn earlier(Earlier { station, exercise, day: on, set }: &Earlier, floor: &Floor) -> Value {
    let mut table = Table::new();
    put(&mut table, "station", Some(station_key(floor, *station)));
    put(&mut table, "exercise", Some(exercise_key(floor, *exercise)));
    put(&mut table, "on", Some(day(*on)));
    put(&mut table, "load", Some(load_text(set.load)));
    put(&mut table, "goal", Some(work(set.goal)));
    // Of a hold nobody counts repetitions.
    let counts = matches!(set.goal, Work::Reps { .. });
    put(&mut table, "reps", counts.then_some(set.reps));
    let (ending, helped) = match set.ending {
        Ending::Complete => (None, None),
        Ending::Short => (Some("short"), None),
        Ending::Helped { reps } => (Some("helped"), Some(reps)),
        Ending::Failed => (Some("failed"), None),
        Ending::FormBroken => (Some("form-broken"), None),
        Ending::EquipmentFault => (Some("equipment-fault"), None),
        Ending::Stopped => (Some("stopped"), None),
    };
    put(&mut table, "ending", ending);
    put(&mut table, "helped", helped);
    Value::Object(table)
}

fn group(id: GroupId, plan: &GroupPlan, floor: &Floor) -> Value {
    let GroupPlan { coach, clients, blocks, starts, ends } = plan;
    let mut table = Table::new();
    put(&mut table, "number", Some(id.0));
    put(&mut table, "coach", Some(coach_key(floor, *coach)));
    put(&mut table, "clients", Some(clients.iter().map(|client| client.0).collect::<Vec<_>>()));
    put(&mut table, "starts", starts.map(|minute| minute.to_string()));
    put(&mut table, "ends", ends.map(|minute| minute.to_string()));
    let blocks: Vec<Value> = blocks.iter().map(|block| write_blocks::block(block, clients, floor)).collect();
    put(&mut table, "block", Some(blocks));
    Value::Object(table)
}

/// What a set asks for, as files write it.
pub(super) fn work(work: Work) -> Value {
    match work {
        Work::Reps { least, most } if least == most => most.into(),
        Work::Reps { least, most } => format!("{least}-{most}").into(),
        Work::Hold { secs } => format!("{} s", secs.0).into(),
    }
}

/// A load that is said outright, as files write it.
pub(super) fn load_text(load: Load) -> String {
    match load {
        Load::Mass(mass) => mass_text(mass),
        Load::Pin { pin } => Written::Pin(pin).to_string(),
    }
}

/// A mass in the unit in which it is a short decimal number: nobody keeps in which it was written.
fn mass_text(mass: Mass) -> String {
    [MassUnit::Kg, MassUnit::Lb].into_iter().find_map(|unit| exactly(mass, unit)).unwrap_or_else(|| {
        // Nothing that was read is neither; it is rounded as on displays.
        Stamped { mass, unit: MassUnit::Kg }.to_string()
    })
}

/// A mass in ten-thousandths of a unit, which is as fine as masses are read, if it is a whole number of them.
fn exactly(mass: Mass, unit: MassUnit) -> Option<String> {
    let part = unit.nanograms() / 10_000;
    let (parts, rest) = (mass.nanograms() / part, mass.nanograms() % part);
    let decimals = format!("{:04}", parts % 10_000);
    let number = format!("{}.{decimals}", parts / 10_000);
    let number = number.trim_end_matches('0').trim_end_matches('.');
    (rest == 0).then(|| format!("{number} {}", unit.symbol()))
}

/// A day of the calendar, year first.
fn day(day: Day) -> String {
    Iso(day).to_string()
}

/// The key of an exercise, which the floor has: an evening is only ever read beside its floor.
pub(super) fn exercise_key(floor: &Floor, id: ExerciseId) -> String {
    floor.exercises.get(&id).map_or_else(|| id.to_string(), |exercise| exercise.key.to_string())
}

fn station_key(floor: &Floor, id: StationId) -> String {
    floor.stations.get(&id).map_or_else(|| id.to_string(), |station| station.key.to_string())
}

fn coach_key(floor: &Floor, id: CoachId) -> String {
    floor.coaches.get(&id).map_or_else(|| id.to_string(), |coach| coach.key.to_string())
}
