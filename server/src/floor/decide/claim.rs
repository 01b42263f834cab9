//! Taking the stations of a block, all or none, waiting for them, and giving them back.

use turnabout_protocol::command::{BarLeft, Reason};
use turnabout_protocol::ids::{GroupId, StationId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;

use super::target::{self, here};
use super::{Speaker, Verdict};
use crate::floor::admission;
use crate::floor::event::{Event, FirstLoads};
use crate::floor::first_loads;
use crate::floor::gear_now;
use crate::floor::in_hand::InHand;
use crate::floor::state::{ClientNow, GroupNow, State};
use crate::training::block::{Block, Leg};

/// Stations that somebody asks for.
#[derive(Clone, Copy)]
pub(super) struct Wanted<'a> {
    pub group: GroupId,
    pub block: u8,
    pub stations: &'a [StationId],
    pub revision: u32,
    pub despite: Option<Reason>,
}

pub(super) fn take(state: &State, wanted: Wanted<'_>, now: FloorMs) -> Result<Verdict, Refusal> {
    let Wanted { group: id, block, stations, revision, despite } = wanted;
    let group = target::group(state, id)?;
    let claims = [(group.block, &group.claim), (group.block.saturating_add(1), &group.ahead)];
    for (of, claim) in claims {
        if let Some(claim) = claim.as_ref().filter(|claim| of == block && claim.stations == stations) {
            return Ok(Verdict::Already(claim.taken));
        }
    }
    let prescribed = wants(state, id, block, revision)?;
    fits(state, id, prescribed, stations)?;
    admission::allows(state, id, prescribed, stations, now)?;
    admission::in_order(state, (id, prescribed), stations, despite, now)?;
    // The reason is kept only where it was needed.
    let despite = despite.filter(|_| admission::overtaken(state, id, prescribed, stations, now).is_some());
    let loads = first_loads(state, id, block, stations, now).ok_or(Refusal::NotWaiting)?;
    let stations = stations.to_vec();
    Ok(Verdict::Accepted(vec![Event::StationsTaken { group: id, block, stations, despite, loads }]))
}

/// Whether a group could take these stations for its block in hand now, without anybody saying why.
pub(in crate::floor) fn may_take(hand: &InHand<'_>, stations: &[StationId], now: FloorMs) -> bool {
    let (block, revision) = (hand.group.block, hand.group.revision);
    let wanted = Wanted { group: hand.id, block, stations, revision, despite: None };
    matches!(take(hand.state, wanted, now), Ok(Verdict::Accepted(_)))
}

/// The loads with which every exercise of a block begins at these stations; nothing where there is no such block,
/// or a station suits no more.
pub(in crate::floor) fn first_loads(
    state: &State,
    id: GroupId,
    block: u8,
    stations: &[StationId],
    now: FloorMs,
) -> Option<Vec<FirstLoads>> {
    let (plan, group) = state.group(id)?;
    let rounds = group.rounds_of(plan, block);
    first_loads::of_block(state, plan.blocks.get(usize::from(block))?, stations, rounds, now).ok()
}

pub(super) fn ask(state: &State, id: GroupId, block: u8, revision: u32) -> Result<Verdict, Refusal> {
    let group = target::group(state, id)?;
    let claims = [(group.block, &group.claim), (group.block.saturating_add(1), &group.ahead)];
    let got = claims.into_iter().find_map(|(of, claim)| claim.as_ref().filter(|_| of == block));
    let asked = state.line.iter().find(|ask| ask.group == id && ask.block == block);
    if let Some(stamp) = got.map(|claim| claim.taken).or(asked.map(|ask| ask.asked)) {
        return Ok(Verdict::Already(stamp));
    }
    wants(state, id, block, revision)?;
    Ok(Verdict::Accepted(vec![Event::StationsAsked { group: id, block }]))
}

pub(super) fn withdraw(state: &State, id: GroupId) -> Result<Verdict, Refusal> {
    target::group(state, id)?;
    if state.place_in_line(id).is_none() {
        return Err(Refusal::NotInLine);
    }
    Ok(Verdict::Accepted(vec![Event::AskWithdrawn { group: id }]))
}

/// The group that holds a station agrees that another works in.
pub(super) fn give_leave(state: &State, station: StationId, id: GroupId) -> Result<Verdict, Refusal> {
    let now = state.stations.get(&station).ok_or(Refusal::UnknownStation)?;
    target::group(state, id)?;
    if let Some(leave) = now.leave.filter(|leave| leave.group == id) {
        return Ok(Verdict::Already(leave.said));
    }
    match admission::may_hold(state, id, station) {
        Ok(()) if now.claim.is_none() => Err(Refusal::NotReserved),
        // No leave is needed, or there is none to give.
        Ok(()) | Err(Refusal::StationTaken { .. }) => Err(Refusal::NotShared { station }),
        Err(Refusal::LeaveNeeded { .. }) => {
            Ok(Verdict::Accepted(vec![Event::LeaveGiven { station, group: id }]))
        }
        Err(refusal) => Err(refusal),
    }
}

/// The block for which a group wants stations: the one in hand, or the next once its last round has begun.
fn wants(state: &State, id: GroupId, block: u8, revision: u32) -> Result<&Block, Refusal> {
    let hand = InHand::of(state, id).ok_or(Refusal::NotWaiting)?;
    let group = hand.group;
    let in_hand = block == group.block && group.claim.is_none();
    let next = group.block.checked_add(1) == Some(block) && group.claim.is_some() && group.ahead.is_none();
    if !in_hand && !next || block >= group.blocks {
        return Err(Refusal::NotWaiting);
    }
    if !group.clients.values().any(ClientNow::is_here) {
        return Err(Refusal::NobodyHere);
    }
    if next && !in_last_round(&hand) {
        return Err(Refusal::TooEarlyToAsk);
    }
    if group.revision != revision {
        return Err(Refusal::StaleRevision { revision: group.revision });
    }
    hand.plan.blocks.get(usize::from(block)).ok_or(Refusal::NotWaiting)
}

/// Whether somebody has begun the last round, or nobody has anything left to do.
pub(in crate::floor) fn in_last_round(hand: &InHand<'_>) -> bool {
    let (legs, last) = (hand.block.legs.len(), hand.rounds());
    let begun = |c: &ClientNow| {
        c.sets.len() > legs * usize::from(last) || c.current.is_some_and(|u| u.turn.round >= last)
    };
    hand.group.wipe_down.is_some() || hand.group.clients.values().any(begun)
}

/// One station for each exercise, each suiting; an exercise done in place at that of the exercise before.
fn fits(state: &State, id: GroupId, block: &Block, stations: &[StationId]) -> Result<(), Refusal> {
    let legs = &block.legs;
    if stations.len() != legs.len() {
        return Err(Refusal::StationCount { wanted: u8::try_from(legs.len()).unwrap_or(u8::MAX) });
    }
    for (place, (leg, station)) in legs.iter().zip(stations).enumerate() {
        if !state.stations.contains_key(station) {
            return Err(Refusal::UnknownStation);
        }
        let moved = leg.in_place && place.checked_sub(1).and_then(|p| stations.get(p)) != Some(station);
        if moved || !suits(state, leg, *station) {
            return Err(Refusal::StationUnfit { station: *station });
        }
        admission::may_hold(state, id, *station)?;
    }
    Ok(())
}

/// Whether this exercise can be done there, by every client of the group with exactly the loads prescribed, or with
/// one that its rule leads to.
pub(super) fn suits(state: &State, leg: &Leg, station: StationId) -> bool {
    let exercise = state.floor.exercises.get(&leg.exercise);
    let there = exercise.is_some_and(|exercise| exercise.stations.contains(&station));
    let gear = gear_now::as_planned(&state.floor, station, leg.exercise);
    let loads =
        || leg.sets.values().flat_map(crate::training::block::Prescription::loads).collect::<Vec<_>>();
    let held = there && gear.is_some_and(|gear| gear.can_hold_all(&loads()));
    held && first_loads::has_all(state, leg, station, state.recorded)
}

/// Every station where this exercise can be done, by every client of the group with exactly the loads
/// prescribed; free or not, in order.
pub(in crate::floor) fn suited<'s>(state: &'s State, leg: &'s Leg) -> impl Iterator<Item = StationId> + 's {
    let exercise = state.floor.exercises.get(&leg.exercise);
    let stations = exercise.into_iter().flat_map(|exercise| &exercise.stations).copied();
    stations.filter(|station| suits(state, leg, *station))
}

pub(super) fn free(
    state: &State,
    speaker: &Speaker,
    id: GroupId,
    block: u8,
    bar: Option<BarLeft>,
) -> Result<Verdict, Refusal> {
    let group: &GroupNow = target::group(state, id)?;
    if block < group.block {
        return Err(Refusal::Over);
    }
    if group.ahead.is_some() && group.block.checked_add(1) == Some(block) {
        return free_ahead(speaker, id, block);
    }
    let claim = group.claim.as_ref().filter(|_| group.block == block).ok_or(Refusal::NotReserved)?;
    here(speaker, &claim.stations)?;
    if group.wipe_down.is_none() {
        return Err(Refusal::SetsLeft);
    }
    Ok(Verdict::Accepted(vec![Event::StationsFreed { group: id, block, bar }]))
}

/// Stations that a group has got ahead for its next block: nobody has used them for it yet, so there is nothing to
/// wipe down. That others go first now is the coach's decision, as asking for them was.
fn free_ahead(speaker: &Speaker, id: GroupId, block: u8) -> Result<Verdict, Refusal> {
    match speaker.actor {
        Actor::Coach { .. } => Ok(Verdict::Accepted(vec![Event::StationsGivenBack { group: id, block }])),
        Actor::Station { .. } | Actor::Assistant { .. } | Actor::Board | Actor::Manager | Actor::Floor => {
            Err(Refusal::RoleMayNot)
        }
    }
}
