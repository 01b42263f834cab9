//! The sets of the evening that a client has done, for a coach who corrects one of them.

use std::collections::BTreeSet;

use turnabout_protocol::ids::{ClientId, GroupId, TurnId};
use turnabout_protocol::units::MassUnit;
use turnabout_protocol::view::{SaidPart, SetName, SetPart, SetsPart};

use super::part;
use crate::floor::config::GroupPlan;
use crate::floor::in_hand::InHand;
use crate::floor::state::{GroupNow, PastBlock, SetOver, SetRecord, State};

/// What a client has done this evening, the latest first; nothing where the group has no such client. Sets left
/// out or missed are not among it: there is nothing to correct. Of a light set that was done more than once the
/// last is, as that is the one that a correction reaches.
#[must_use]
pub fn sets(state: &State, group: GroupId, client: ClientId) -> Option<SetsPart> {
    let (plan, now) = state.group(group)?;
    let mut done = done(state, group, client)?;
    done.reverse();
    let mut told = BTreeSet::new();
    done.retain(|(turn, _)| told.insert(*turn));
    let part = |(turn, record): (TurnId, &SetRecord)| set_part(state, (plan, now), turn, record);
    Some(SetsPart { sets: done.into_iter().map(part).collect() })
}

/// All of it as it is known to the floor, the earliest first: a light set that was done more than once as often.
pub(super) fn done(state: &State, group: GroupId, client: ClientId) -> Option<Vec<(TurnId, &SetRecord)>> {
    let (_, now) = state.group(group)?;
    let in_hand = in_hand(state, now, group, client)?;
    let past = now.past.iter().flat_map(|past| of_past(past, group, client));
    let mut sets: Vec<(TurnId, &SetRecord)> = past.chain(in_hand).collect();
    sets.sort_by_key(|(turn, record)| (record.ended, *turn));
    Some(sets)
}

/// The sets of the block in hand; nothing for an unknown client.
fn in_hand<'s>(
    state: &'s State,
    now: &'s GroupNow,
    group: GroupId,
    client: ClientId,
) -> Option<Vec<(TurnId, &'s SetRecord)>> {
    let done = now.clients.get(&client)?;
    let turns = |hand: InHand<'_>| both(&done.sets, &done.again, |place| hand.turn(client, place)).collect();
    Some(InHand::of(state, group).map(turns).unwrap_or_default())
}

fn of_past(past: &PastBlock, group: GroupId, client: ClientId) -> impl Iterator<Item = (TurnId, &SetRecord)> {
    let done = past.clients.get(&client).into_iter();
    done.flat_map(move |done| both(&done.sets, &done.again, move |place| past.turn(group, client, place)))
}

/// What was done in the order of the block, and light sets that were done beside it.
fn both<'s>(
    sets: &'s [SetOver],
    again: &'s [(TurnId, SetRecord)],
    turn: impl Fn(usize) -> Option<TurnId>,
) -> impl Iterator<Item = (TurnId, &'s SetRecord)> {
    let in_order = sets.iter().enumerate().filter_map(move |(place, set)| Some((turn(place)?, set.done()?)));
    in_order.chain(again.iter().map(|(turn, record)| (*turn, record)))
}

fn set_part(
    state: &State,
    (plan, group): (&GroupPlan, &GroupNow),
    turn: TurnId,
    record: &SetRecord,
) -> SetPart {
    let station = state.floor.stations.get(&record.station);
    SetPart {
        turn,
        set: set_name((plan, group), turn, record),
        exercise: part::exercise_name(state, record.exercise),
        station: station.map(|station| station.name.clone()),
        unit: station.map_or(MassUnit::Kg, |station| station.gear.unit()),
        ended: record.ended,
        said: now(record),
        first: first(record),
    }
}

/// Which set of how many; one that was made up for is the last of as many.
pub(super) fn set_name((plan, group): (&GroupPlan, &GroupNow), turn: TurnId, record: &SetRecord) -> SetName {
    match turn.round {
        0 if record.ramp => SetName::Ramp,
        0 => SetName::Technique,
        n => SetName::Working { n, of: group.rounds_of(plan, turn.block).max(n) },
    }
}

fn now(record: &SetRecord) -> SaidPart {
    let SetRecord { reps, load, effort, ending, .. } = record;
    let stamp = record.last_said();
    SaidPart {
        reps: reps.now(),
        load: load.now(),
        effort: effort.now(),
        ending: ending.now(),
        by: stamp.by,
        at: stamp.when,
    }
}

/// What was said first, where something of it has been corrected. An effort that was only said later was not.
fn first(record: &SetRecord) -> Option<SaidPart> {
    let SetRecord { reps, load, effort, ending, .. } = record;
    let said = [
        reps.first.map(|first| first.stamp),
        load.first.map(|first| first.stamp),
        effort.first.filter(|first| first.what.is_some()).map(|first| first.stamp),
        ending.first.map(|first| first.stamp),
    ];
    let stamp = said.into_iter().flatten().min_by_key(|stamp| stamp.when)?;
    Some(SaidPart {
        reps: reps.at_first(),
        load: load.at_first(),
        effort: effort.at_first(),
        ending: ending.at_first(),
        by: stamp.by,
        at: stamp.when,
    })
}
