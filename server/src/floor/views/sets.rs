//! The sets of the evening that a client has done, for a coach who corrects one of them.

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
    let done = done(state, group, client)?;
    let part = |(turn, record): (TurnId, &SetRecord)| set_part(state, (plan, now), turn, record);
    Some(SetsPart { sets: done.into_iter().rev().map(part).collect() })
}

/// The same as they are known to the floor, the earliest first.
pub(super) fn done(state: &State, group: GroupId, client: ClientId) -> Option<Vec<(TurnId, &SetRecord)>> {
    let (_, now) = state.group(group)?;
    let in_hand = in_hand(state, now, group, client)?;
    let past = now.past.iter().flat_map(|past| of_past(past, group, client));
    let record = |turn: TurnId| Some((turn, state.record(turn)?));
    let mut sets: Vec<(TurnId, &SetRecord)> = past.chain(in_hand).filter_map(record).collect();
    sets.sort_by_key(|(turn, record)| (record.ended, *turn));
    Some(sets)
}

/// The sets of the block in hand; nothing for an unknown client.
fn in_hand(state: &State, now: &GroupNow, group: GroupId, client: ClientId) -> Option<Vec<TurnId>> {
    let sets = &now.clients.get(&client)?.sets;
    let turns = |hand: InHand<'_>| {
        let turn = |(place, set): (usize, &SetOver)| set.done().and_then(|_| hand.turn(client, place));
        sets.iter().enumerate().filter_map(turn).collect()
    };
    Some(InHand::of(state, group).map(turns).unwrap_or_default())
}

fn of_past(past: &PastBlock, group: GroupId, client: ClientId) -> impl Iterator<Item = TurnId> {
    let sets = past.clients.get(&client).map(|client| client.sets.as_slice()).unwrap_or_default();
    let done = sets.iter().enumerate().filter(|(_, set)| set.done().is_some());
    done.filter_map(move |(place, _)| past.turn(group, client, place))
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
        set: set_name((plan, group), turn),
        exercise: part::exercise_name(state, record.exercise),
        station: station.map(|station| station.name.clone()),
        unit: station.map_or(MassUnit::Kg, |station| station.gear.unit()),
        ended: record.ended,
        said: now(record),
        first: first(record),
    }
}

/// Which set of how many; one that was made up for is the last of as many.
pub(super) fn set_name((plan, group): (&GroupPlan, &GroupNow), turn: TurnId) -> SetName {
    match turn.round {
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
