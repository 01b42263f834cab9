//! What the floor's manager has decided about reserving stations.

use std::collections::BTreeSet;

use turnabout_protocol::ids::{CoachId, GroupId, Key, StationId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::FloorMs;

use super::is_free;
use crate::floor::hours::{Hours, Opening};
use crate::floor::in_hand::InHand;
use crate::floor::state::{ClientNow, GroupNow, State};
use crate::training::block::{Block, Leg};

/// Whether a group may have these stations for a block now.
///
/// # Errors
/// The first rule that stands against it.
pub fn allows(
    state: &State,
    id: GroupId,
    block: &Block,
    stations: &[StationId],
    now: FloorMs,
) -> Result<(), Refusal> {
    let group = state.groups.get(&id).ok_or(Refusal::UnknownGroup)?;
    if state.floor.hours.at(&state.clock, now) == Opening::Closed {
        return Err(Refusal::Closed);
    }
    let held = state.held_by(id);
    let more: BTreeSet<StationId> = stations.iter().copied().filter(|s| !held.contains(s)).collect();
    stations_a_coach(state, group.coach, more.len())?;
    clients_a_coach(state, group.coach, id)?;
    kept_for_members(state, &more, now)?;
    handles(state, id, &block.legs)
}

fn of_coach(state: &State, coach: CoachId) -> impl Iterator<Item = (&GroupId, &GroupNow)> {
    state.groups.iter().filter(move |(_, group)| group.coach == coach)
}

fn stations_a_coach(state: &State, coach: CoachId, more: usize) -> Result<(), Refusal> {
    let Some(most) = state.floor.policy.stations_a_coach else { return Ok(()) };
    let held: usize = of_coach(state, coach).map(|(id, _)| state.held_by(*id).len()).sum();
    if held + more > usize::from(most) { Err(Refusal::StationsACoach { most }) } else { Ok(()) }
}

/// Clients count who are there and whose group has stations, or is about to.
pub(in crate::floor) fn clients_a_coach(state: &State, coach: CoachId, id: GroupId) -> Result<(), Refusal> {
    let Some(most) = state.floor.policy.clients_a_coach else { return Ok(()) };
    let here = |group: &GroupNow| group.clients.values().filter(|c: &&ClientNow| c.is_here()).count();
    let others = of_coach(state, coach).filter(|(other, group)| **other != id && group.claim.is_some());
    let others: usize = others.map(|(_, group)| here(group)).sum();
    let own = state.groups.get(&id).map_or(0, here);
    if others + own > usize::from(most) { Err(Refusal::ClientsACoach { most }) } else { Ok(()) }
}

fn kept_for_members(state: &State, more: &BTreeSet<StationId>, now: FloorMs) -> Result<(), Refusal> {
    let now_kept = |hours: &Hours| hours.at(&state.clock, now) != Opening::Closed;
    for rule in state.floor.policy.members.iter().filter(|rule| now_kept(&rule.hours)) {
        let taken = more.iter().any(|id| rule.stations.contains(id) && is_free(state, *id));
        let left = rule.stations.iter().filter(|id| is_free(state, **id) && !more.contains(id)).count();
        if taken && left < usize::from(rule.keep) {
            return Err(Refusal::KeptForMembers { keep: rule.keep });
        }
    }
    Ok(())
}

/// Each group that has stations may need the handle of each of its cable exercises at any time.
fn handles(state: &State, id: GroupId, legs: &[Leg]) -> Result<(), Refusal> {
    let wanted = |leg: &Leg| state.floor.exercises.get(&leg.exercise).and_then(|e| e.handle.as_ref());
    for handle in legs.iter().filter_map(wanted) {
        // A floor that does not count a kind of handle has enough of it.
        let Some(count) = state.floor.handles.get(handle).copied() else { continue };
        let own = legs.iter().filter(|leg| wanted(leg) == Some(handle)).count();
        let others: usize =
            state.groups.keys().filter(|g| **g != id).map(|g| in_use(state, *g, handle)).sum();
        if others + own > usize::from(count) {
            return Err(Refusal::NoHandle { count });
        }
    }
    Ok(())
}

fn in_use(state: &State, id: GroupId, handle: &Key) -> usize {
    let Some(hand) = InHand::of(state, id).filter(|hand| hand.group.claim.is_some()) else { return 0 };
    let wanted = |leg: &&Leg| {
        state.floor.exercises.get(&leg.exercise).is_some_and(|e| e.handle.as_ref() == Some(handle))
    };
    hand.block.legs.iter().filter(wanted).count()
}
