//! Another floor file, another programme, and time that passed while the server was down.

use turnabout_protocol::ids::{ClientId, GroupId, Key};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::After;

use super::client;
use crate::floor::config::{Floor, Programme};
use crate::floor::due;
use crate::floor::history;
use crate::floor::in_hand::InHand;
use crate::floor::pace;
use crate::floor::state::{GroupNow, ProgrammeSource, Stamp, State, StationNow};

pub(super) fn floor_set(state: &mut State, floor: &Floor) {
    state.stations.retain(|id, _| floor.stations.contains_key(id));
    for id in floor.stations.keys() {
        state.stations.entry(*id).or_default();
    }
    state.coaches.retain(|id, _| floor.coaches.contains_key(id));
    for id in floor.coaches.keys() {
        state.coaches.entry(*id).or_default();
    }
    forget_changed_settings(state, floor);
    forget_changed_plates(state, floor);
    state.calls.retain(|_, call| floor.stations.contains_key(&call.station));
    state.floor = floor.clone();
}

/// A kept setting is the place of a value in a list: where the list is another, it says nothing any more.
fn forget_changed_settings(state: &mut State, floor: &Floor) {
    let settings = |floor: &Floor, id| floor.stations.get(id).map(|s| s.settings.clone());
    let changed: Vec<_> = state
        .floor
        .stations
        .keys()
        .filter(|id| settings(&state.floor, id) != settings(floor, id))
        .copied()
        .collect();
    for kept in state.settings.values_mut() {
        kept.retain(|station, _| !changed.contains(station));
    }
    for (_, now) in state.stations.iter_mut().filter(|(id, _)| changed.contains(id)) {
        now.set_to.clear();
    }
}

/// Of other gear nobody has said yet which plates are on it, or missing; of a tree with other plates neither.
fn forget_changed_plates(state: &mut State, floor: &Floor) {
    for (id, now) in &mut state.stations {
        let gear = |floor: &Floor| floor.stations.get(id).map(|station| station.gear.clone());
        if gear(&state.floor) != gear(floor) {
            now.plates = None;
            now.missing.clear();
        }
    }
    let hangs = |floor: &Floor, key: &Key| floor.trees.get(key).map(|tree| (tree.unit, tree.plates.clone()));
    let before = &state.floor;
    state.trees.retain(|key, _| hangs(before, key) == hangs(floor, key));
}

pub(super) fn programme_set(state: &mut State, programme: &Programme, stamp: Stamp) {
    if programme.day != state.programme.day {
        another_evening(state);
    }
    let kept = |id: &GroupId| programme.groups.contains_key(id);
    let gone: Vec<GroupId> = state.groups.keys().copied().filter(|id| !kept(id)).collect();
    for id in gone {
        forget(state, id);
    }
    for (id, plan) in &programme.groups {
        if state.programme.groups.get(id) != Some(plan) || !state.groups.contains_key(id) {
            // Only the plan of a group that is not in progress can change: `changes` sees to that.
            let before = forget(state, *id);
            state.groups.insert(*id, GroupNow::new(plan, state.recorded));
            let whole = state.programme.groups.get(id).map(|before| before.clients.as_slice());
            if whole == Some(&plan.clients) {
                still_there(state.groups.get_mut(id), before);
            }
        }
    }
    state.line.retain(|ask| programme.groups.contains_key(&ask.group));
    let before = std::mem::replace(&mut state.programme, programme.clone());
    let file = state.source.file.take();
    // The floor itself sets what a file says; whatever a coach enters leaves in mind what the file said.
    let file = (stamp.by != Actor::Floor).then(|| file.unwrap_or_else(|| Box::new(before)));
    state.source = ProgrammeSource { revision: state.sequence, set: Some(stamp), file };
}

/// Who has come for a group that has not begun is still there when its plan changes.
fn still_there(now: Option<&mut GroupNow>, before: Option<GroupNow>) {
    let (Some(now), Some(before)) = (now, before) else { return };
    for (id, client) in before.clients {
        if let Some(now) = now.clients.get_mut(&id).filter(|_| before.block == 0) {
            now.presence = client.presence;
            now.before = client.before;
        }
    }
}

/// A group is gone. What its clients did is kept for the next time they come.
fn forget(state: &mut State, id: GroupId) -> Option<GroupNow> {
    let legs = history::legs_in_hand(state, id);
    let group = state.groups.remove(&id)?;
    history::keep(&mut state.visits, &state.clock, &group, legs);
    if let Some(plan) = state.programme.groups.get(&id) {
        pace::keep(&mut state.paces, plan, &group);
    }
    Some(group)
}

/// Nobody is left from the evening before. What is on the bars may be, but nobody has confirmed it today, and
/// what is broken still is.
fn another_evening(state: &mut State) {
    state.began = state.recorded;
    let groups: Vec<GroupId> = state.groups.keys().copied().collect();
    for group in groups {
        forget(state, group);
    }
    state.line.clear();
    state.calls.clear();
    state.notes.clear();
    state.news.clear();
    for coach in state.coaches.values_mut() {
        coach.away = None;
    }
    for station in state.stations.values_mut() {
        let StationNow { load, plates, missing, out, set_to, .. } = std::mem::take(station);
        *station = StationNow { load, plates, missing, out, set_to, ..StationNow::default() };
    }
}

/// The clock went on while nobody could tap: what people were to do in time moves by that, rest does not.
pub(super) fn resumed(state: &mut State, down: Millis) {
    let in_changeover: Vec<(GroupId, ClientId)> = state
        .groups
        .keys()
        .filter_map(|id| InHand::of(state, *id))
        .flat_map(|hand| hand.group.clients.keys().map(move |client| (hand, *client)))
        .filter(|(hand, client)| {
            hand.coming(*client).is_some_and(|coming| matches!(coming.after, After::Changeover { .. }))
        })
        .map(|(hand, client)| (hand.id, client))
        .collect();
    for (group, id) in in_changeover {
        if let Some(client) = client(state, group, id) {
            client.down = client.down + down;
        }
    }
    let stopped = state.recorded - down;
    let silent: Vec<(GroupId, FloorMs, Millis)> = state
        .groups
        .iter()
        .map(|(id, group)| {
            let quiet = InHand::of(state, *id).map_or(group.heard, |hand| due::quiet_since(&hand));
            // A group is waited for from its planned start: only what was lost of that is added.
            let starts = state.starts_at(*id).unwrap_or(stopped);
            let late = state.recorded.since(starts.max(stopped)).max(Millis::default());
            (*id, quiet.min(stopped) + down, late)
        })
        .collect();
    for (id, quiet, late) in silent {
        let Some(group) = state.groups.get_mut(&id) else { continue };
        group.wipe_down = group.wipe_down.map(|since| since + down);
        group.warned = group.warned.map(|since| since + down);
        group.heard = quiet;
        group.down = group.down + late;
    }
}
