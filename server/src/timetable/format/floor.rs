//! Reads an instance: prices, stations, walks and coaches here, the groups in `group.rs`.

use serde_json::Value;
use turnabout_protocol::units::Secs;

use super::group::{self, Ground};
use super::mistake::{Mistakes, Notes, Path, of_the_text};
use super::node::{Fields, Node, every};
use super::problem::{Many, Problem};
use super::{FORMAT, limits, round, sums};
use crate::timetable::instance::{Coach, Instance, Price, Station, StationKind, Weights};

const FIELDS: [&str; 13] = [
    "format",
    "name",
    "now",
    "weights",
    "plate_s",
    "collar_s",
    "pin_s",
    "changeover_wait_max",
    "stations",
    "walk",
    "coach_walk",
    "coaches",
    "groups",
];

/// Words of the format for what is set at a station.
const KINDS: [&str; 3] = ["bar", "stack", "plain"];

/// Parses a text that is not too long.
pub(super) fn parse(text: &str) -> Result<Value, Mistakes> {
    if text.len() > limits::BYTES {
        return Err(of_the_text(Problem::TooLong { found: text.len() }));
    }
    serde_json::from_str(text).map_err(|error| of_the_text(Problem::NotJson(error.to_string())))
}

/// Reads an instance from JSON text.
///
/// # Errors
/// Everything that is wrong with it, each with its place: what the format forbids, what is beyond [`limits`], walks
/// that are longer than a way around, and rest windows that nothing fits in.
pub fn read_instance(text: &str) -> Result<Instance, Mistakes> {
    let value = parse(text)?;
    let mut notes = Notes::default();
    let read = instance(Node { value: &value, at: Path::Top }, &mut notes);
    notes.end(read)
}

fn instance(node: Node<'_>, notes: &mut Notes) -> Option<Instance> {
    let fields = node.object(&FIELDS, &[], notes)?;
    let format = fields.need("format").and_then(|node| format(&node, notes));
    let name = fields.need("name").and_then(|node| node.text(notes));
    let now = fields.need("now").and_then(|node| node.instant(notes));
    let weights = fields.need("weights").and_then(|node| weights(node, notes));
    let mut secs = |name| fields.need(name).and_then(|node| node.secs(notes));
    let (plate, collar, pin) = (secs("plate_s"), secs("collar_s"), secs("pin_s"));
    let wait = fields.need("changeover_wait_max").and_then(|node| node.secs_or_null(notes));
    let listed = fields.need("stations").and_then(|node| node.list(Many::Stations, notes));
    // How many there are is known even where one of them is wrong.
    let count = listed.map(<[Value]>::len);
    let stations = fields.need("stations").zip(listed).and_then(|(node, list)| {
        every(node.each(list).enumerate().map(|(id, node)| station(node, id, notes)))
    });
    let mut matrix = |name| fields.need(name).zip(count).and_then(|(node, count)| walks(node, count, notes));
    let (walk, coach_walk) = (matrix("walk"), matrix("coach_walk"));
    let listed = fields.need("coaches").and_then(|node| node.list(Many::Coaches, notes));
    let coaches = fields.need("coaches").zip(listed).and_then(|(node, list)| {
        let one = |(id, node)| coach(node, id, count.unwrap_or(limits::STATIONS), notes);
        every(node.each(list).enumerate().map(one))
    });
    let groups = fields.need("groups").and_then(|node| {
        let list = node.list(Many::Groups, notes)?;
        // Without them nothing that a group names could be looked at.
        let (stations, coaches) = (stations.as_ref()?, listed?.len());
        let kinds = stations.iter().map(|station| station.kind).collect();
        let mut ground = Ground::new(kinds, coaches);
        group::groups(&node, list, &mut ground, notes)
    });
    format?;
    let instance = Instance {
        name: name?,
        now: now?,
        weights: weights?,
        plate: plate?,
        collar: collar?,
        pin: pin?,
        changeover_wait_max: wait?,
        stations: stations?,
        walk: walk?,
        coach_walk: coach_walk?,
        coaches: coaches?,
        groups: groups?,
    };
    sums::check(&instance, notes);
    Some(instance)
}

fn format(node: &Node<'_>, notes: &mut Notes) -> Option<()> {
    let right = node.value.as_str() == Some(FORMAT);
    if !right {
        notes.add(node.at, Problem::Format { found: node.found() });
    }
    right.then_some(())
}

fn weights(node: Node<'_>, notes: &mut Notes) -> Option<Weights> {
    const FIELDS: [&str; 9] =
        ["overrun", "changeover_wait", "flow", "makespan", "handling", "late", "door", "tardy", "told"];
    let fields = node.object(&FIELDS, &[], notes)?;
    let overrun = fields.need("overrun").and_then(|node| price(node, notes));
    let door = fields.need("door").and_then(|node| price(node, notes));
    let free_start = fields.may("x_free_start", |node| node.flag(notes));
    let mut whole = |name| fields.need(name).and_then(|node| node.whole(0, notes));
    let (changeover_wait, flow, makespan) = (whole("changeover_wait"), whole("flow"), whole("makespan"));
    let (handling, late) = (whole("handling"), whole("late"));
    let (tardy, told) = (whole("tardy"), whole("told"));
    Some(Weights {
        overrun: overrun?,
        changeover_wait: changeover_wait?,
        flow: flow?,
        makespan: makespan?,
        handling: handling?,
        late: late?,
        door: door?,
        tardy: tardy?,
        told: told?,
        free_start: free_start?.unwrap_or(false),
    })
}

fn price(node: Node<'_>, notes: &mut Notes) -> Option<Price> {
    let list = node.list(Many::Steps, notes)?;
    let mut before = None;
    every(node.each(list).map(|step| {
        let (found, each) = step.pair(notes)?;
        if let Some(before) = before.replace(found).filter(|before| *before >= found) {
            notes.add(Path::Item(&step.at, 0), Problem::Ascending { before, found });
            return None;
        }
        Some((Secs(found), each))
    }))
}

fn kind(node: &Node<'_>, notes: &mut Notes) -> Option<StationKind> {
    match node.value.as_str() {
        Some("bar") => Some(StationKind::Bar),
        Some("stack") => Some(StationKind::Stack),
        Some("plain") => Some(StationKind::Plain),
        Some(_) | None => {
            notes.add(node.at, Problem::Word { allowed: &KINDS, found: node.found() });
            None
        }
    }
}

fn station(node: Node<'_>, id: usize, notes: &mut Notes) -> Option<Station> {
    let fields = node.object(&["id", "kind", "free_at", "load"], &["busy", "work_in"], notes)?;
    let id_is_right = fields.id(id, notes);
    let kind = fields.need("kind").and_then(|node| kind(&node, notes));
    let free_at = fields.need("free_at").and_then(|node| node.instant(notes));
    let load = fields.need("load").and_then(|node| {
        let load = round::load(&node, notes)?;
        round::fits(&node, load.as_ref(), id, kind?, notes).then_some(load)
    });
    let busy = busy(&fields, notes);
    let work_in = fields.may("work_in", |node| node.flag(notes));
    id_is_right?;
    Some(Station {
        kind: kind?,
        free_at: free_at?,
        load: load?,
        busy: busy?,
        work_in: work_in?.unwrap_or(true),
    })
}

fn coach(node: Node<'_>, id: usize, stations: usize, notes: &mut Notes) -> Option<Coach> {
    let fields = node.object(&["id", "free_at", "at"], &["busy"], notes)?;
    let id_is_right = fields.id(id, notes);
    let free_at = fields.need("free_at").and_then(|node| node.instant(notes));
    let at = fields.need("at").and_then(|node| node.position_or_null(stations, notes));
    let busy = busy(&fields, notes);
    id_is_right?;
    Some(Coach { free_at: free_at?, at: at?, busy: busy? })
}

fn busy(fields: &Fields<'_>, notes: &mut Notes) -> Option<Vec<crate::timetable::instance::Window>> {
    Some(fields.may("busy", |node| node.windows(notes))?.unwrap_or_default())
}

/// A square of walks, none longer than a way around over a third station.
fn walks(node: Node<'_>, count: usize, notes: &mut Notes) -> Option<Vec<Vec<Secs>>> {
    let rows = node.list_of(count, notes)?;
    let walks = every(node.each(rows).map(|row| {
        let list = row.list_of(count, notes)?;
        every(row.each(list).map(|one| one.secs(notes)))
    }))?;
    let mut short = true;
    for (from, row) in walks.iter().enumerate() {
        for (to, direct) in row.iter().enumerate().filter(|(to, _)| *to != from) {
            let around = |over: usize| row[over].0 + walks[over][to].0;
            let best =
                (0..count).filter(|over| *over != from && *over != to).min_by_key(|over| around(*over));
            if let Some(over) = best.filter(|over| around(*over) < direct.0) {
                let at = Path::Item(&node.at, from);
                let problem = Problem::Detour { direct: direct.0, over, around: around(over) };
                notes.add(Path::Item(&at, to), problem);
                short = false;
            }
        }
    }
    short.then_some(walks)
}
