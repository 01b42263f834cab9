//! The load that is proposed for a client's next working set of an exercise, from what is known of the one before.
//!
//! Nothing of it is kept but what the coach made of it: an answer that is put right, or a plate that goes missing,
//! makes it another at once.

use std::collections::BTreeMap;

use turnabout_protocol::ids::{ClientId, ExerciseId, StationId, TurnId};
use turnabout_protocol::load::Load;
use turnabout_protocol::next::{Change, CoachSaid, NextReason, Proposal, Rule, SetTo};

use super::gear_now;
use super::in_hand::InHand;
use super::state::{SetOver, SetRecord};
use crate::loading::gear::Ladder;
use crate::training::next::Set;
use crate::training::rule::find;
use crate::training::scale::Footing;
use crate::training::settle::Before;

/// The loads of the stations that are asked about, each worked out once.
#[derive(Clone, Debug, Default)]
pub struct Ladders(BTreeMap<(StationId, ExerciseId), Option<Ladder>>);

impl Ladders {
    /// What can be set for a set at its station tonight; nothing where it has none.
    pub fn of(&mut self, hand: &InHand<'_>, turn: TurnId) -> Option<&Ladder> {
        let (station, exercise) = (hand.station(turn)?, hand.exercise(turn)?.id);
        let ladder = || gear_now::there(hand.state, station, exercise).map(|gear| Ladder::of(&gear));
        self.0.entry((station, exercise)).or_insert_with(ladder).as_ref()
    }
}

/// A load that is proposed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NextLoad {
    /// For which set.
    pub turn: TurnId,
    /// What, and why.
    pub proposal: Proposal,
    /// What the coach made of it.
    pub said: Option<CoachSaid>,
}

/// What is proposed for a client's next working set of an exercise; nothing where there is none to come, it has no
/// load, or nothing speaks for another one.
#[must_use]
pub fn of_leg(hand: &InHand<'_>, client: ClientId, leg: u8, ladders: &mut Ladders) -> Option<NextLoad> {
    let turn = next_of_leg(hand, client, leg)?;
    let now = hand.leg_now(turn)?;
    let planned = hand.load(turn)?;
    let ladder = ladders.of(hand, turn)?;
    let settled = now.settled.filter(|settled| settled.round == turn.round).map(|settled| settled.settled);
    // What was settled stands, until its plates go missing or an answer that is put right says that the set before was
    // too hard.
    let too_hard = || {
        let now = after(hand, turn, last_done(hand, turn)?, planned, ladder)?;
        (now.change == Change::Easier).then_some(now)
    };
    if let Some(settled) = settled.filter(|_| ladder.holds(planned)) {
        let unknown_then = too_hard().filter(|_| settled.proposed.change != Change::Easier);
        return Some(match unknown_then {
            Some(proposal) => NextLoad { turn, proposal, said: None },
            None => NextLoad { turn, proposal: settled.proposed, said: settled.said },
        });
    }
    let proposal = match last_done(hand, turn).filter(|_| settled.is_none()) {
        // What comes after the set under way is for that one to say, and never for the one before it.
        _ if is_under_way(hand, turn) => None,
        Some(record) => after(hand, turn, record, planned, ladder),
        None => now.first.filter(|first| first.set.load() == planned && ladder.holds(planned)),
    };
    let proposal = proposal.or_else(|| not_there(hand, turn, planned, ladder))?;
    Some(NextLoad { turn, proposal, said: None })
}

/// What was set for a set before anything was said of the proposal for it.
#[must_use]
pub fn before(hand: &InHand<'_>, turn: TurnId) -> Option<Before> {
    let set = SetTo::from(hand.load(turn)?);
    let settled = hand.leg_now(turn)?.settled.filter(|settled| settled.round == turn.round);
    // More repetitions were for the proposal that was settled.
    Some(Before { set, work: settled.map_or(hand.work(turn), |settled| Some(settled.before))? })
}

/// The first working set of an exercise that has not begun.
fn next_of_leg(hand: &InHand<'_>, client: ClientId, leg: u8) -> Option<TurnId> {
    let now = hand.client(client)?;
    let begun = now.sets.len() + usize::from(now.current.is_some_and(|u| !hand.is_again(u.turn)));
    let block = hand.group.block;
    let mut rounds =
        (1..=hand.rounds_for(client)).map(|round| TurnId { group: hand.id, client, block, round, leg });
    let turn = rounds.find(|turn| hand.place(*turn).is_some_and(|place| place >= begun))?;
    hand.leg_now(turn).filter(|leg| leg.dropped.is_none()).map(|_| turn)
}

/// Whether an earlier working set of the same exercise is under way.
fn is_under_way(hand: &InHand<'_>, turn: TurnId) -> bool {
    let current = hand.client(turn.client).and_then(|client| client.current);
    current.is_some_and(|current| current.turn.leg == turn.leg && current.turn.round > 0)
}

/// The last working set of the same exercise in the block, if it was done at the same station: elsewhere it says
/// nothing.
fn last_done<'s>(hand: &InHand<'s>, turn: TurnId) -> Option<&'s SetRecord> {
    let sets = &hand.client(turn.client)?.sets;
    let earlier = (1..turn.round).rev().map(|round| TurnId { round, ..turn });
    let done = |turn: TurnId| sets.get(hand.place(turn)?).and_then(SetOver::done);
    let record = earlier.into_iter().find_map(done)?;
    let exercise = hand.exercise(turn)?.id;
    (record.exercise == exercise && Some(record.station) == hand.station(turn)).then_some(record)
}

/// What a set that was done says of the next.
fn after(
    hand: &InHand<'_>,
    turn: TurnId,
    record: &SetRecord,
    planned: Load,
    ladder: &Ladder,
) -> Option<Proposal> {
    let load = record.load.now()?;
    let exercise = hand.exercise(turn)?.id;
    let one_rm = hand.state.programme.clients.get(&turn.client)?.max.get(&exercise).copied();
    let footing = Footing { scale: ladder.scale(), policy: &hand.state.floor.policy.loads, one_rm };
    let set = set(hand, turn, record)?;
    let found = if finds_out(hand, turn, &footing) {
        footing.find_on(load, &set).map(|found| match found {
            find::Found::Onward(proposal) | find::Found::Here(proposal) => proposal,
        })
    } else {
        footing.after(load, &set)
    };
    // A maximal attempt, or nothing easy enough: then the coach says.
    let proposal = found.ok()?;
    let work = hand.work(turn)?;
    if load == planned {
        // Repetitions that change from round to round change as planned.
        let as_planned = work != record.work && proposal.change == Change::MoreReps;
        let change = if as_planned { Change::Same } else { proposal.change };
        let work = if work == record.work { proposal.work } else { work };
        return Some(Proposal { work, change, ..proposal });
    }
    // Where the plan changes the load, it does; but what was too hard is never followed by as much.
    let easier = proposal.change == Change::Easier && ladder.scale().harder(planned, proposal.set.load());
    easier.then_some(Proposal { work, ..proposal })
}

/// Nothing of a set that was stopped, as long as nobody has said how many repetitions there were.
fn set(hand: &InHand<'_>, turn: TurnId, record: &SetRecord) -> Option<Set> {
    Some(Set {
        work: record.work,
        reserve: hand.prescribed(turn).and_then(|prescribed| prescribed.reserve),
        reps: record.reps.now()?,
        ending: record.ending.now(),
        effort: record.effort.now(),
    })
}

/// Whether the client is still on the way to a load that was never known here.
fn finds_out(hand: &InHand<'_>, turn: TurnId, footing: &Footing<'_>) -> bool {
    let began = hand.leg_now(turn).and_then(|leg| leg.first).is_some_and(|first| first.rule == Rule::FindIt);
    let Some(now) = hand.client(turn.client).filter(|_| began) else { return false };
    let earlier = (1..turn.round).map(|round| TurnId { round, ..turn });
    let mut records = earlier.filter_map(|turn| now.sets.get(hand.place(turn)?).and_then(SetOver::done));
    let last = records.next_back();
    // One that says nothing neither ends the way nor goes along it.
    let onward = |record: &SetRecord| {
        let Some(set) = set(hand, turn, record) else { return true };
        let found = record.load.now().map(|load| footing.find_on(load, &set));
        matches!(found, Some(Ok(find::Found::Onward(_))))
    };
    last.is_some() && records.all(onward)
}

/// A load that the plates that are there do not make: the nearest that is no harder.
fn not_there(hand: &InHand<'_>, turn: TurnId, planned: Load, ladder: &Ladder) -> Option<Proposal> {
    if ladder.holds(planned) {
        return None;
    }
    let (set, work) = (SetTo::from(ladder.scale().at_hardest(planned)?), hand.work(turn)?);
    let reason = NextReason::NotOnGear { load: planned };
    Some(Proposal { set, work, change: Change::Easier, reason, rule: Rule::Plan })
}
