//! Stations as the planner sees them: when they are free, what is on them, and how far it is.

use turnabout_protocol::ids::StationId;
use turnabout_protocol::units::{FloorMs, Secs};

use super::axis::{Axis, HORIZON, merged};
use super::coaches::CALL;
use super::cuts::{Cuts, kind};
use super::ground::Ground;
use super::group::works_in;
use super::handling;
use super::length;
use crate::floor::config::Floor;
use crate::floor::in_hand::InHand;
use crate::floor::state::{ClientNow, SetOver, State};
use crate::timetable::instance::{Station, StationKind, Window};

/// Centimetres that somebody walks in a second, between machines and people. Common practice, no source.
const WALK_CM: u32 = 100;

/// How long it takes from one station to another, in a straight line; a second more than nothing is a whole one.
pub(in crate::floor) fn walk(floor: &Floor, from: StationId, to: StationId) -> Secs {
    let at = |id| floor.stations.get(&id).map(|station| station.at_cm);
    let Some((from, to)) = at(from).zip(at(to)) else { return Secs(0) };
    let along = |axis: usize| u64::from(from[axis].abs_diff(to[axis]));
    let squared = |axis| along(axis).saturating_mul(along(axis));
    let cm = squared(0).saturating_add(squared(1)).isqrt();
    // A floor that is a day's walk long is a slip in its file.
    Secs(u32::try_from(cm.div_ceil(u64::from(WALK_CM))).unwrap_or(u32::MAX).min(3_600))
}

/// The same between all of these.
pub(super) fn walks(floor: &Floor, stations: &[StationId]) -> Vec<Vec<Secs>> {
    let from = |from: &StationId| stations.iter().map(|to| walk(floor, *from, *to)).collect();
    stations.iter().map(from).collect()
}

/// The stations, by position.
pub(super) fn stations(ground: Ground<'_>, stations: &[StationId], cuts: &mut Cuts) -> Vec<Station> {
    let Ground { state, now, axis, .. } = ground;
    let made = |id: &StationId| {
        let gear = state.floor.stations.get(id).map(|station| &station.gear);
        Station {
            kind: gear.map_or(StationKind::Plain, kind),
            free_at: axis.up(usable_at(ground, *id, cuts)),
            load: cuts.on(state, *id),
            busy: busy(state, *id, now, axis),
            work_in: works_in(state, *id),
        }
    };
    stations.iter().map(made).collect()
}

/// When the set that occupies a station can be over, and when it has been wiped down, where it is to be.
fn free_at(ground: Ground<'_>, id: StationId) -> FloorMs {
    let Ground { state, now, .. } = ground;
    let Some(station) = state.stations.get(&id) else { return now };
    let occupied = station.on.and_then(|turn| length::left(ground, turn));
    let wiped = |group| {
        let group = state.groups.get(&group).filter(|group| group.uses_now(id))?;
        Some(group.wipe_down? + state.floor.settings.wipe_down)
    };
    let wiped = station.groups().filter_map(wiped);
    wiped.chain(occupied).fold(now, FloorMs::max)
}

/// The positions of stations whose set should have been racked by now.
pub(super) fn overdue(ground: Ground<'_>, stations: &[StationId]) -> Vec<usize> {
    let Ground { state, now, .. } = ground;
    let is_overdue = |id: &StationId| {
        let on = state.stations.get(id).and_then(|station| station.on);
        let mut under_way = state.under_way().filter(|set| Some(set.turn) == on);
        under_way.any(|set| length::racked(ground, set) <= now)
    };
    (0..).zip(stations).filter(|(_, id)| is_overdue(id)).map(|(place, _)| place).collect()
}

/// From when the next load can be set at a station: when it is free, or since hands have been at it.
fn usable_at(ground: Ground<'_>, id: StationId, cuts: &mut Cuts) -> FloorMs {
    let Ground { state, now, .. } = ground;
    let free = free_at(ground, id);
    if free > now { free } else { loading_since(state, id, now, cuts).unwrap_or(free) }
}

/// Since when the load of the set that is told next at a free station is being changed, where that has begun: hands do it
/// in the last seconds before what was told, and say so when it is done. Were it counted from now until then, the
/// start would move on with every look.
fn loading_since(state: &State, id: StationId, now: FloorMs, cuts: &mut Cuts) -> Option<FloorMs> {
    let told = state.promises.iter().filter(|told| told.station == id).min_by_key(|told| told.start)?;
    let hand = InHand::of(state, told.turn.group)?;
    let takes = handling::change(&hand, told.turn, cuts);
    let begins = (told.start - takes.millis()).max(free_since(&hand, id));
    (takes.0 > 0 && begins < now).then_some(begins)
}

/// Since when nobody is at a free station of a group, as far as the sets that are known tell.
fn free_since(hand: &InHand<'_>, id: StationId) -> FloorMs {
    let taken = hand.group.claim.as_ref().map_or(hand.state.recorded, |claim| claim.taken.when);
    let clients = hand.state.groups.values().flat_map(|group| group.clients.values());
    let in_order = |client: &ClientNow| {
        let beside = client.again.iter().map(|(_, record)| record);
        let done = client.sets.iter().filter_map(SetOver::done).chain(beside);
        done.filter(|record| record.station == id).map(|record| record.done.when).max()
    };
    clients.filter_map(in_order).fold(taken, FloorMs::max)
}

/// When a station cannot be used: for an unknown time where it is out of service, or kept by a group for its next
/// block alone; [`CALL`] where somebody needs help there.
fn busy(state: &State, id: StationId, now: FloorMs, axis: Axis) -> Vec<Window> {
    let mut windows = Vec::new();
    if is_barred(state, id) {
        windows.extend(axis.window(now, now + HORIZON));
    }
    if let Some(other) = state.stations.get(&id).and_then(|station| station.other_use) {
        windows.extend(axis.window(now, other.until.max(now)));
    }
    if state.help_at(&[id]) {
        windows.extend(axis.window(now, now + CALL));
    }
    merged(windows)
}

/// Whether a station cannot be had for an unknown time: it is out of service, or all groups that have it keep it for
/// their next block.
pub(super) fn is_barred(state: &State, id: StationId) -> bool {
    let Some(station) = state.stations.get(&id) else { return true };
    let in_hand = |group| state.groups.get(&group).is_some_and(|group| group.uses_now(id));
    let mut groups = station.groups().peekable();
    let kept = groups.peek().is_some() && !groups.any(in_hand);
    station.out.is_some() || kept
}
