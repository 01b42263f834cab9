//! What the floor's manager has decided about reserving stations.

use std::collections::BTreeSet;

use turnabout_protocol::ids::{CoachId, ExerciseId, GroupId, Key, StationId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::FloorMs;

use super::is_free;
use crate::floor::config::KeptForMembers;
use crate::floor::hours::Opening;
use crate::floor::in_hand::InHand;
use crate::floor::state::{ClientNow, GroupNow, State};
use crate::training::block::{Block, Leg};
use crate::training::exercise::Exercise;

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
    handles(state, id, &block.legs, None)
}

/// A group that would get so many stations more for a block.
#[derive(Clone, Copy)]
pub(super) struct Served<'s> {
    pub group: GroupId,
    pub block: &'s Block,
    pub more: usize,
}

/// Whether a group that is allowed stations now still were if another had been served before it.
pub(super) fn allows_after(state: &State, served: Served<'_>, then: Served<'_>) -> bool {
    let coach = |id| state.groups.get(&id).map(|group| group.coach);
    let Some(of) = coach(then.group) else { return true };
    let same = coach(served.group) == Some(of);
    let before = if same { served.more } else { 0 };
    let policy = &state.floor.policy;
    let clients = || clients_with_stations(state, of, &[served.group, then.group]);
    stations_a_coach(state, of, before + then.more).is_ok()
        && (!same || policy.clients_a_coach.is_none_or(|most| clients() <= usize::from(most)))
        && handles(state, then.group, &then.block.legs, Some(served)).is_ok()
}

/// Stations that rules for members keep from being reserved.
#[derive(Default)]
pub(super) struct Kept {
    /// None of these may be.
    pub all: BTreeSet<StationId>,
    /// Some of these may be.
    pub some: BTreeSet<StationId>,
}

/// What is kept for members now, with these stations reserved besides those that are.
pub(super) fn kept(state: &State, besides: &[StationId], now: FloorMs) -> Kept {
    let mut kept = Kept::default();
    for rule in rules(state, now) {
        let free = |id: &&StationId| is_free(state, **id) && !besides.contains(id);
        let all = rule.stations.iter().filter(free).count() <= usize::from(rule.keep);
        let (into, stations) = (if all { &mut kept.all } else { &mut kept.some }, &rule.stations);
        into.extend(stations);
    }
    kept
}

fn rules(state: &State, now: FloorMs) -> impl Iterator<Item = &KeptForMembers> {
    let rules = state.floor.policy.members.iter();
    rules.filter(move |rule| rule.hours.at(&state.clock, now) != Opening::Closed)
}

fn of_coach(state: &State, coach: CoachId) -> impl Iterator<Item = (&GroupId, &GroupNow)> {
    state.groups.iter().filter(move |(_, group)| group.coach == coach)
}

/// Whether a coach whose groups get so many stations more has no more than the floor allows.
///
/// # Errors
/// The most.
pub(in crate::floor) fn stations_a_coach(state: &State, coach: CoachId, more: usize) -> Result<(), Refusal> {
    let Some(most) = state.floor.policy.stations_a_coach else { return Ok(()) };
    let held: usize = of_coach(state, coach).map(|(id, _)| state.held_by(*id).len()).sum();
    if held + more > usize::from(most) { Err(Refusal::StationsACoach { most }) } else { Ok(()) }
}

/// Clients count who are there and whose group has stations, or is about to.
///
/// # Errors
/// The most.
pub(in crate::floor) fn clients_a_coach(state: &State, coach: CoachId, id: GroupId) -> Result<(), Refusal> {
    let Some(most) = state.floor.policy.clients_a_coach else { return Ok(()) };
    let clients = clients_with_stations(state, coach, &[id]);
    if clients > usize::from(most) { Err(Refusal::ClientsACoach { most }) } else { Ok(()) }
}

/// Clients of a coach who are there and whose group has stations, or would.
fn clients_with_stations(state: &State, coach: CoachId, would: &[GroupId]) -> usize {
    let here = |group: &GroupNow| group.clients.values().filter(|c: &&ClientNow| c.is_here()).count();
    let others = of_coach(state, coach).filter(|(id, group)| !would.contains(id) && group.claim.is_some());
    let others: usize = others.map(|(_, group)| here(group)).sum();
    others + would.iter().filter_map(|id| state.groups.get(id)).map(here).sum::<usize>()
}

fn kept_for_members(state: &State, more: &BTreeSet<StationId>, now: FloorMs) -> Result<(), Refusal> {
    for rule in rules(state, now) {
        let taken = more.iter().any(|id| rule.stations.contains(id) && is_free(state, *id));
        let left = rule.stations.iter().filter(|id| is_free(state, **id) && !more.contains(id)).count();
        if taken && left < usize::from(rule.keep) {
            return Err(Refusal::KeptForMembers { keep: rule.keep });
        }
    }
    Ok(())
}

/// Each group that has stations may need the handle of each of its cable exercises at any time.
fn handles(state: &State, id: GroupId, legs: &[Leg], served: Option<Served<'_>>) -> Result<(), Refusal> {
    let handle = |leg: &Leg| state.floor.exercises.get(&leg.exercise).and_then(|e| e.handle.as_ref());
    for wanted in legs.iter().filter_map(handle) {
        // A floor that does not count a kind of handle has enough of it.
        let Some(count) = state.floor.handles.get(wanted).copied() else { continue };
        let of = |legs: &[Leg]| legs.iter().filter(|leg| handle(leg) == Some(wanted)).count();
        let others = state.groups.keys().filter(|g| **g != id && served.is_none_or(|s| s.group != **g));
        let others: usize = others.map(|g| in_use(state, *g, wanted)).sum();
        let before = served.map_or(0, |served| of(&served.block.legs));
        if others + before + of(legs) > usize::from(count) {
            return Err(Refusal::NoHandle { count });
        }
    }
    Ok(())
}

/// How many of a handle a group that has stations may need: of each exercise one, or as many as its clients do
/// other exercises for it.
fn in_use(state: &State, id: GroupId, handle: &Key) -> usize {
    let Some(hand) = InHand::of(state, id).filter(|hand| hand.group.claim.is_some()) else { return 0 };
    let wants = |exercise: &ExerciseId| {
        state.floor.exercises.get(exercise).is_some_and(|e| e.handle.as_ref() == Some(handle))
    };
    let leg = |(place, leg): (usize, &Leg)| {
        let clients = hand.group.clients.values().filter_map(|c| c.legs.get(place));
        let mut exercises = clients.map(|now| now.instead.unwrap_or(leg.exercise));
        wants(&leg.exercise) || exercises.any(|exercise| wants(&exercise))
    };
    hand.block.legs.iter().enumerate().filter(|leg_at| leg(*leg_at)).count()
}

/// Whether a group that does another exercise at a place of its block finds the handle for it.
///
/// # Errors
/// The floor has no more of them.
pub(in crate::floor) fn handle_for(
    state: &State,
    id: GroupId,
    leg: u8,
    exercise: &Exercise,
) -> Result<(), Refusal> {
    let Some(handle) = exercise.handle.as_ref() else { return Ok(()) };
    let Some(count) = state.floor.handles.get(handle).copied() else { return Ok(()) };
    let used: usize = state.groups.keys().map(|group| in_use(state, *group, handle)).sum();
    let has = InHand::of(state, id).is_some_and(|hand| {
        hand.block.legs.get(usize::from(leg)).is_some_and(|leg| {
            let planned = state.floor.exercises.get(&leg.exercise);
            planned.is_some_and(|planned| planned.handle.as_ref() == Some(handle))
        })
    });
    if !has && used >= usize::from(count) { Err(Refusal::NoHandle { count }) } else { Ok(()) }
}
