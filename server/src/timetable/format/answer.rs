//! Reads a timetable of an instance.

use super::floor::parse;
use super::limits;
use super::mistake::{Mistakes, Notes, Path};
use super::node::{Node, every};
use super::problem::{Many, Problem};
use crate::timetable::answer::{Breach, RoundStarts, Timetable};
use crate::timetable::check;
use crate::timetable::instance::{At, Instance};

/// Rules are numbered up to this.
const RULES: usize = 7;

/// Reads a timetable of `instance` from JSON text. Whether it keeps the rules is for [`check::check`] to say.
///
/// # Errors
/// Everything that is wrong with it, each with its place: what the format forbids, what is beyond [`limits`], and all
/// by which it is none of this instance ([`check::Misfit`]).
pub fn read_timetable(text: &str, instance: &Instance) -> Result<Timetable, Mistakes> {
    let value = parse(text)?;
    let mut notes = Notes::default();
    let read = timetable(Node { value: &value, at: Path::Top }, &mut notes);
    if let Some(timetable) = &read {
        for misfit in check::misfits(instance, timetable) {
            notes.add(misfit.place(), Problem::Misfit(misfit));
        }
    }
    notes.end(read)
}

fn timetable(node: Node<'_>, notes: &mut Notes) -> Option<Timetable> {
    let fields = node.object(&["instance", "stations", "turns"], &["breaches"], notes)?;
    let instance = fields.need("instance").and_then(|node| node.text(notes));
    let stations = fields.need("stations").and_then(|node| stations(node, notes));
    let turns = fields.need("turns").and_then(|node| {
        let list = node.list(Many::Turns, notes)?;
        every(node.each(list).map(|turn| round_starts(turn, notes)))
    });
    let breaches = fields.may("breaches", |node| {
        let list = node.list(Many::Breaches, notes)?;
        every(node.each(list).map(|one| breach(one, notes)))
    });
    Some(Timetable {
        instance: instance?,
        stations: stations?,
        turns: turns?,
        breaches: breaches?.unwrap_or_default(),
    })
}

/// By group, member and leg.
fn stations(node: Node<'_>, notes: &mut Notes) -> Option<Vec<Vec<Vec<usize>>>> {
    let groups = node.list(Many::Groups, notes)?;
    every(node.each(groups).map(|group| {
        let members = group.list(Many::Members, notes)?;
        every(group.each(members).map(|member| {
            let legs = member.list(Many::Legs, notes)?;
            every(member.each(legs).map(|leg| position(leg, notes)))
        }))
    }))
}

fn position(node: Node<'_>, notes: &mut Notes) -> Option<usize> {
    usize::try_from(node.whole(0, notes)?).ok()
}

fn round_starts(node: Node<'_>, notes: &mut Notes) -> Option<RoundStarts> {
    let fields = node.object(&["group", "member", "round", "starts"], &[], notes)?;
    let mut named = |name| fields.need(name).and_then(|node| position(node, notes));
    let (group, member, round) = (named("group"), named("member"), named("round"));
    let starts = fields.need("starts").and_then(|node| {
        let list = node.list(Many::Legs, notes)?;
        every(node.each(list).map(|one| {
            if one.value.is_null() {
                return Some(None);
            }
            one.number(0, limits::HORIZON, true, notes).map(|start| Some(At(start)))
        }))
    });
    Some(RoundStarts { group: group?, member: member?, round: round?, starts: starts? })
}

fn breach(node: Node<'_>, notes: &mut Notes) -> Option<Breach> {
    let fields = node.object(&["rule", "group", "member", "round", "leg", "seconds"], &[], notes)?;
    let rule = fields.need("rule").and_then(|node| {
        let rule = node.position(1, RULES + 1, notes)?;
        u8::try_from(rule).ok()
    });
    let seconds = fields.need("seconds").and_then(|node| node.number(0, u32::MAX, false, notes));
    let mut named = |name| fields.need(name).and_then(|node| position(node, notes));
    let (group, member) = (named("group"), named("member"));
    let (round, leg) = (named("round"), named("leg"));
    Some(Breach { rule: rule?, group: group?, member: member?, round: round?, leg: leg?, seconds: seconds? })
}
