//! People who have been told a start are held to it where it may not move.

use turnabout_protocol::ids::TurnId;
use turnabout_protocol::units::{FloorMs, Millis};

use super::Sight;
use crate::floor::outlook::{Outlook, TurnPlace, because};
use crate::floor::promises::{FIRM, MOVES_BY};
use crate::floor::state::{Promise, State};
use crate::timetable::decode::Decoder;
use crate::timetable::instance::At;
use crate::timetable::problem::Problem;

/// Holds those who would begin before what they have been told, by too little or too late to tell them: such a start
/// would be shown to nobody, and what is planned around it would not come true. Whether anybody was held.
///
/// Only whoever begins a round is held. Who is between two exercises goes on as soon as can be.
pub(super) fn hold(
    state: &State,
    outlook: &mut Outlook,
    (problem, decoder): (&Problem, &Decoder),
    now: FloorMs,
) -> bool {
    let mut any = false;
    for told in &state.promises {
        let Some(place) = outlook.who.place(told.turn).filter(|place| place.round == 0) else { continue };
        let to = outlook.who.second(told.start);
        let Some(start) = next_start(problem, decoder, place) else { continue };
        if !waits_for(told, outlook.who.instant(start), now) {
            continue;
        }
        let members = outlook.instance.groups.get_mut(place.group).map(|group| &mut group.members);
        let member = members.and_then(|members| members.get_mut(place.member));
        let Some(member) = member.filter(|member| member.under_way.is_none()) else { continue };
        let Some(round) = member.rounds.first_mut().filter(|round| round.not_before < Some(to)) else {
            continue;
        };
        round.not_before = Some(to);
        any = true;
    }
    any
}

/// When the first remaining turn of a member starts.
fn next_start(problem: &Problem, decoder: &Decoder, place: TurnPlace) -> Option<At> {
    let member = problem.members_of(place.group).nth(place.member)?;
    let person = problem.members.get(member).filter(|person| person.slots > 0)?;
    let slot = problem.slots.get(person.first_slot as usize)?;
    u32::try_from(decoder.start(slot.first_op)).ok().map(At)
}

/// Whether a start comes before what was told and cannot be told.
fn waits_for(told: &Promise, start: FloorMs, now: FloorMs) -> bool {
    let early = told.start.since(start);
    let firm = told.start.since(now) <= FIRM.millis();
    told.start > now && early.0 > 0 && (firm || early < MOVES_BY.millis())
}

/// By how much a sight moves what was told of a set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Moved {
    turn: TurnId,
    by: Millis,
}

impl Moved {
    /// Whether another sight moves the same no less.
    pub(super) fn is_among(&self, others: &[Self]) -> bool {
        others.iter().any(|other| other.turn == self.turn && other.by >= self.by)
    }
}

/// The sets of which a sight moves what was told, or takes it back.
pub(super) fn moved(state: &State, sight: &Sight, now: FloorMs) -> Vec<Moved> {
    let starts = because::Starts::of(&sight.outlook, &sight.plan.timetable);
    let next: Vec<(TurnId, At)> = starts.next().map(|(_, turn, start)| (turn, start)).collect();
    // What lies behind is nobody's to keep any more.
    let coming = state.promises.iter().filter(|told| told.start > now);
    let moved = coming.map(|told| {
        let planned = next.iter().find(|(turn, _)| *turn == told.turn);
        let by = |start: At| Millis(sight.outlook.who.instant(start).since(told.start).0.abs());
        Moved { turn: told.turn, by: planned.map_or(Millis(i64::MAX), |(_, start)| by(*start)) }
    });
    moved.filter(|moved| moved.by >= MOVES_BY.millis()).collect()
}
