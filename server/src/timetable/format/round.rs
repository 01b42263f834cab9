//! Reads the remaining rounds of a member, their turns and the loads.

use serde_json::Value;
use turnabout_protocol::units::Secs;

use super::group::Ground;
use super::limits;
use super::mistake::{Notes, Path};
use super::node::{Fields, Node, every};
use super::problem::{Many, Problem};
use crate::timetable::instance::{At, Load, Round, Spot, StationKind, Turn};

/// What a group says for all its members.
pub(super) struct Around<'g> {
    pub(super) eligible: &'g [Vec<usize>],
    pub(super) rest_min: Secs,
    pub(super) rest_max: Option<Secs>,
}

/// The stations where the turns of each leg may be.
#[derive(Clone, Copy)]
enum Where<'m> {
    Fixed(&'m [usize]),
    Any(&'m [Vec<usize>]),
}

impl<'m> Where<'m> {
    fn leg(self, leg: usize) -> &'m [usize] {
        match self {
            Self::Fixed(stations) => std::slice::from_ref(&stations[leg]),
            Self::Any(eligible) => &eligible[leg],
        }
    }
}

/// The rounds of one member, of whose first one so many legs are done.
pub(super) fn rounds(
    node: &Node<'_>,
    done: usize,
    fixed: Option<&[usize]>,
    around: &Around<'_>,
    ground: &mut Ground,
    notes: &mut Notes,
) -> Option<Vec<Round>> {
    let list = node.list(Many::Rounds, notes)?;
    let places = fixed.map_or(Where::Any(around.eligible), Where::Fixed);
    let mut before = None;
    every(node.each(list).enumerate().map(|(position, node)| {
        let done = if position == 0 { done } else { 0 };
        let round = round(node, done, places, around, ground, &mut before, notes)?;
        ground.turns += round.legs.iter().skip(done).flatten().count();
        Some(round)
    }))
}

fn round(
    node: Node<'_>,
    done: usize,
    places: Where<'_>,
    around: &Around<'_>,
    ground: &Ground,
    before: &mut Option<u32>,
    notes: &mut Notes,
) -> Option<Round> {
    const MAY: [&str; 5] = ["coach", "rest_min", "rest_max", "not_before", "told"];
    let fields = node.object(&["round", "legs"], &MAY, notes)?;
    let number = fields.need("round").and_then(|node| {
        let found = node.whole(0, notes)?;
        if let Some(before) = before.replace(found).filter(|before| *before >= found) {
            notes.add(node.at, Problem::Ascending { before, found });
            return None;
        }
        Some(found)
    });
    let coach = fields.may("coach", |node| node.position(0, ground.coaches, notes));
    let rest_min = fields.may("rest_min", |node| node.secs(notes));
    let rest_max = fields.may("rest_max", |node| node.secs_or_null(notes));
    if let (Some(least), Some(most)) = (rest_min, rest_max) {
        rests(&fields.at, (least, most), around, notes);
    }
    let not_before = fields.may("not_before", |node| node.instant(notes));
    let legs = fields.need("legs").and_then(|node| legs(node, done, places, around, ground, notes));
    let told = told(&fields, done, legs.as_deref(), around.eligible.len(), notes);
    Some(Round {
        number: number?,
        coach: coach?,
        rest_min: rest_min?,
        rest_max: rest_max?,
        not_before: not_before?,
        told: told?,
        legs: legs?,
    })
}

/// A round's own rests, with the group's where it says only one.
fn rests(at: &Path<'_>, own: (Option<Secs>, Option<Option<Secs>>), around: &Around<'_>, notes: &mut Notes) {
    let (least, most) = own;
    // What the group says of itself is noted there.
    if least.is_none() && most.is_none() {
        return;
    }
    let name = if most.is_some() { "rest_max" } else { "rest_min" };
    let least = least.unwrap_or(around.rest_min);
    if let Some(most) = most.unwrap_or(around.rest_max).filter(|most| *most < least) {
        notes.add(Path::Field(at, name), Problem::RestWindow { least: least.0, most: most.0 });
    }
}

fn legs(
    node: Node<'_>,
    done: usize,
    places: Where<'_>,
    around: &Around<'_>,
    ground: &Ground,
    notes: &mut Notes,
) -> Option<Vec<Option<Turn>>> {
    let list = node.list_of(around.eligible.len(), notes)?;
    if list.iter().skip(done).all(Value::is_null) {
        notes.add(node.at, Problem::NothingLeft);
    }
    every(node.each(list).enumerate().map(|(leg, one)| {
        if one.value.is_null() {
            if leg + 1 == done {
                notes.add(one.at, Problem::DoneLegSkipped);
            }
            return Some(None);
        }
        turn(one, places.leg(leg), ground, notes).map(Some)
    }))
}

/// What was told of the start of each leg; nobody can be told of one that is done or skipped.
fn told(
    fields: &Fields<'_>,
    done: usize,
    turns: Option<&[Option<Turn>]>,
    legs: usize,
    notes: &mut Notes,
) -> Option<Vec<Option<At>>> {
    let told = fields.may("told", |node| {
        let list = node.list_of(legs, notes)?;
        every(node.each(list).enumerate().map(|(leg, one)| {
            let told = one.instant_or_null(notes)?;
            let skipped = turns.is_some_and(|turns| turns[leg].is_none());
            if told.is_some() && (leg < done || skipped) {
                notes.add(one.at, Problem::ToldForNothing);
                return None;
            }
            Some(told)
        }))
    })?;
    Some(told.unwrap_or_else(|| vec![None; legs]))
}

fn turn(node: Node<'_>, places: &[usize], ground: &Ground, notes: &mut Notes) -> Option<Turn> {
    let fields = node.object(&["dur", "load", "spot"], &[], notes)?;
    let length = fields.need("dur").and_then(|node| node.whole(1, notes));
    let load = fields.need("load").and_then(|node| {
        let load = load(&node, notes)?;
        // One mistake is enough to find all the stations that it is about.
        let fit = |station: &usize| fits(&node, load.as_ref(), *station, ground.kinds[*station], notes);
        places.iter().all(fit).then_some(load)
    });
    let spot = fields.need("spot").and_then(|node| spot(node, length?, notes));
    Some(Turn { length: Secs(length?), load: load?, spot: spot? })
}

fn spot(node: Node<'_>, length: u32, notes: &mut Notes) -> Option<Option<Spot>> {
    let read = match node.value {
        Value::Bool(false) => Some(None),
        Value::Bool(true) => Some(Some(Spot { from: Secs(0), to: Secs(length) })),
        Value::Array(list) => {
            let part = |value: &Value| value.as_u64().and_then(|secs| u32::try_from(secs).ok());
            match list.as_slice() {
                [from, to] => part(from)
                    .zip(part(to))
                    .filter(|(from, to)| from < to && *to <= length)
                    .map(|(from, to)| Some(Spot { from: Secs(from), to: Secs(to) })),
                [..] => None,
            }
        }
        Value::Null | Value::Number(_) | Value::String(_) | Value::Object(_) => None,
    };
    if read.is_none() {
        notes.add(node.at, Problem::Spot { length, found: node.found() });
    }
    read
}

/// The plates of one side, the label of a stack, or null.
pub(super) fn load(node: &Node<'_>, notes: &mut Notes) -> Option<Option<Load>> {
    match node.value {
        Value::Null => Some(None),
        Value::Array(_) => {
            let list = node.list(Many::Plates, notes)?;
            let plates = every(node.each(list).map(|one| one.number(1, limits::GRAMS, false, notes)))?;
            Some(Some(Load::Plates(plates)))
        }
        Value::Number(number) if number.is_u64() => {
            Some(Some(Load::Label(node.number(0, limits::GRAMS, false, notes)?)))
        }
        Value::Number(_) | Value::Bool(_) | Value::String(_) | Value::Object(_) => {
            notes.add(node.at, Problem::Load { found: node.found() });
            None
        }
    }
}

/// Whether the load can be set at a station of this kind; noted where it cannot. At a plain one anything goes.
pub(super) fn fits(
    node: &Node<'_>,
    load: Option<&Load>,
    station: usize,
    is: StationKind,
    notes: &mut Notes,
) -> bool {
    let fits = match (is, load) {
        (_, None)
        | (StationKind::Plain, Some(_))
        | (StationKind::Bar, Some(Load::Plates(_)))
        | (StationKind::Stack, Some(Load::Label(_))) => true,
        (StationKind::Bar, Some(Load::Label(_))) | (StationKind::Stack, Some(Load::Plates(_))) => false,
    };
    if !fits {
        notes.add(node.at, Problem::LoadOfOtherKind { station, is, found: node.found() });
    }
    fits
}
