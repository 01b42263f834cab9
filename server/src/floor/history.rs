//! What a client did last time at a station, from the journal or, before that began, from the programme.

use std::collections::BTreeMap;

use turnabout_protocol::command::Ending;
use turnabout_protocol::ids::{ClientId, ExerciseId, StationId};
use turnabout_protocol::load::Load;
use turnabout_protocol::units::FloorMs;

use super::in_hand::InHand;
use super::local_time::days_from_civil;
use super::state::{ClockMapping, GroupNow, SetOver, SetRecord, State, Visit, Visited, Visits};
use crate::training::session::{History, LastSet};

/// Keeps what the clients of a group did before the group itself is forgotten: of each exercise at each station
/// the last working set of the evening. A set that the gear ended, or a stop, says nothing about the
/// client and is left out.
pub(super) fn keep(visits: &mut Visits, clock: &ClockMapping, group: &GroupNow, legs_in_hand: usize) {
    let mut sets = done(group, legs_in_hand);
    sets.sort_by_key(|(_, set)| set.ended);
    for (client, set) in sets {
        let Some(visit) = visit(clock, set) else { continue };
        let exercises = visits.entry(client).or_default().entry(set.station).or_default();
        let visited = exercises.get(&set.exercise).map_or(Visited::once(visit), |before| before.and(visit));
        exercises.insert(set.exercise, visited);
    }
}

/// Every working set that a group has done this evening.
fn done(group: &GroupNow, legs_in_hand: usize) -> Vec<(ClientId, &SetRecord)> {
    let mut sets = Vec::new();
    for past in &group.past {
        for (client, past_client) in &past.clients {
            sets.extend(working(&past_client.sets, usize::from(past.legs)).map(|set| (*client, set)));
        }
    }
    for (client, now) in &group.clients {
        sets.extend(working(&now.sets, legs_in_hand).map(|set| (*client, set)));
    }
    sets
}

/// The sets of a block that were done after the light ones.
fn working(sets: &[SetOver], legs: usize) -> impl Iterator<Item = &SetRecord> {
    sets.iter().skip(legs).filter_map(SetOver::done)
}

fn visit(clock: &ClockMapping, set: &SetRecord) -> Option<Visit> {
    Some(Visit { day: clock.local(set.ended).day, set: last_set(set)? })
}

/// What a set says of the client; nothing of one that the gear or a stop ended, or that had no load.
pub(super) fn last_set(set: &SetRecord) -> Option<LastSet> {
    let (reps, ending) = (set.reps.now()?, set.ending.now());
    if matches!(ending, Ending::EquipmentFault | Ending::Stopped) {
        return None;
    }
    Some(LastSet { load: set.load.now()?, goal: set.work, reps: ending.alone(reps), ending })
}

/// What a client did of an exercise at a station the last two times before this evening; nothing where that is
/// not known.
#[must_use]
pub fn last_times(
    state: &State,
    client: ClientId,
    station: StationId,
    exercise: ExerciseId,
    now: FloorMs,
) -> Option<History> {
    let kept = state.visits.get(&client).and_then(|kept| kept.get(&station)?.get(&exercise));
    let kept = kept.into_iter().flat_map(|visited| std::iter::once(visited.last).chain(visited.before));
    let earlier = state.programme.clients.get(&client).into_iter().flat_map(|client| &client.earlier);
    let earlier = earlier.filter(|row| row.station == station && row.exercise == exercise);
    let earlier = earlier.map(|row| Visit { day: row.day, set: row.set });
    // What the journal knows of a day goes before what was written down of it.
    let mut days: BTreeMap<i64, Visit> = BTreeMap::new();
    for visit in kept.chain(earlier) {
        days.entry(days_from_civil(visit.day)).or_insert(visit);
    }
    let today = days_from_civil(state.clock.local(now).day);
    let mut latest = days.range(..=today).rev();
    let (day, last) = latest.next()?;
    let days = u16::try_from(today - day).unwrap_or(u16::MAX);
    Some(History { last: last.set, before: latest.next().map(|(_, visit)| visit.set), days })
}

/// The load that a client did last at a station with an exercise: this evening, or the last time before.
#[must_use]
pub fn last_load(
    state: &State,
    client: ClientId,
    station: StationId,
    exercise: ExerciseId,
    now: FloorMs,
) -> Option<Load> {
    let groups = state.groups.iter().filter(|(_, group)| group.clients.contains_key(&client));
    let sets = groups.flat_map(|(id, group)| done(group, legs_in_hand(state, *id)));
    let there = sets.filter(|(who, set)| (*who, set.station, set.exercise) == (client, station, exercise));
    let loads = there.filter_map(|(_, set)| Some((set.ended, visit(&state.clock, set)?.set.load)));
    let tonight = loads.max_by_key(|(ended, _)| *ended).map(|(_, load)| load);
    tonight.or_else(|| Some(last_times(state, client, station, exercise, now)?.last.load))
}

/// How many exercises the block has that a group has in hand.
pub(super) fn legs_in_hand(state: &State, group: turnabout_protocol::ids::GroupId) -> usize {
    InHand::of(state, group).map_or(0, |hand| hand.block.legs.len())
}
