//! What the floor does of itself when its time has come. There are no timer objects: the state says when.

use turnabout_protocol::ids::{ClientId, CoachId, GroupId, StationId, TurnId};
use turnabout_protocol::units::FloorMs;

use super::admission;
use super::decide;
use super::event::Event;
use super::in_hand::InHand;
use super::state::{ClientNow, GroupNow, Presence, State};

/// Something whose time has come.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Due {
    /// When it was due; not later than now.
    pub at: FloorMs,
    /// What happens then; never empty.
    pub events: Vec<Event>,
}

enum Kind {
    /// A set has come to its prescribed end.
    Assume(TurnId),
    /// Nobody of a group has anything left to do in its block.
    Finish(GroupId, u8),
    /// Nobody freed the stations after the last set.
    Free(GroupId, u8),
    /// A client who was late has done the light sets and goes on with the others.
    CatchUp(GroupId, ClientId, u8),
    /// The first on the wait list who can be served.
    Admit(GroupId, u8, Vec<StationId>),
    /// The public's use of a station was for about so long.
    EndOtherUse(StationId),
    /// A coach was to be away for about so long.
    CoachBack(CoachId),
    /// Nothing has been heard of a group for long.
    Warn(GroupId),
    /// And still nothing.
    Lapse(GroupId),
    /// Nobody of a group has come.
    NotComing(GroupId),
}

/// When the floor must look again; nothing where nothing will happen of itself.
#[must_use]
pub fn next_wake(state: &State) -> Option<FloorMs> {
    next(state).map(|(at, _)| at)
}

/// The first thing that is due at `now`. Call again with its events taken in until there is nothing.
#[must_use]
pub fn due(state: &State, now: FloorMs) -> Option<Due> {
    let (at, kind) = next(state).filter(|(at, _)| *at <= now)?;
    let events = match kind {
        Kind::Assume(turn) => vec![Event::TurnAssumed { turn }],
        Kind::Finish(group, block) => vec![Event::SetsFinished { group, block }],
        Kind::Free(group, block) => vec![Event::StationsFreed { group, block, bar: None }],
        Kind::CatchUp(group, client, until) => vec![Event::SetsMissed { group, client, until }],
        Kind::Admit(group, block, stations) => {
            let loads = decide::first_loads(state, group, block, &stations, now).unwrap_or_default();
            vec![Event::StationsTaken { group, block, stations, despite: None, loads }]
        }
        Kind::EndOtherUse(station) => vec![Event::OtherUseEnded { station }],
        Kind::CoachBack(coach) => vec![Event::CoachCameBack { coach }],
        Kind::Warn(group) => vec![Event::LapseWarned { group }],
        Kind::Lapse(group) => lapse(state, group),
        Kind::NotComing(group) => vec![Event::GroupNotComing { group }],
    };
    Some(Due { at, events })
}

/// A group is given up: what is under way is over as assumed, then its stations are free.
fn lapse(state: &State, id: GroupId) -> Vec<Event> {
    let under_way =
        state.groups.get(&id).into_iter().flat_map(|g| g.clients.values()).filter_map(|c| c.current);
    let over = under_way.map(|u| {
        let (reps, ending) = u.unsaid();
        Event::TurnDone { turn: u.turn, ended: u.ends, reps, effort: None, ending }
    });
    over.chain([Event::GroupLapsed { group: id }]).collect()
}

fn next(state: &State) -> Option<(FloorMs, Kind)> {
    let assume = state.under_way().filter(|u| !u.assumed).map(|u| (u.ends, Kind::Assume(u.turn)));
    let groups = state.groups.iter().flat_map(|(id, group)| of_group(state, *id, group));
    let other_use = state
        .stations
        .iter()
        .filter_map(|(id, now)| now.other_use.map(|other| (other.until, Kind::EndOtherUse(*id))));
    let back =
        state.coaches.iter().filter_map(|(id, now)| now.away.map(|away| (away.until, Kind::CoachBack(*id))));
    // Of several at the same instant the first in this order, and of one kind in the order of groups and
    // clients: replay does the same.
    assume.chain(groups).chain(other_use).chain(back).chain(admit(state)).min_by_key(|(at, _)| *at)
}

fn of_group(state: &State, id: GroupId, group: &GroupNow) -> impl Iterator<Item = (FloorMs, Kind)> {
    let hand = InHand::of(state, id);
    let finish =
        hand.filter(|hand| group.claim.is_some() && group.wipe_down.is_none() && !hand.has_sets_left());
    let finish = finish.map(|_| (state.recorded, Kind::Finish(id, group.block)));
    let free = group.wipe_down.filter(|_| !state.help_at(&state.held_by(id)));
    let free = free.map(|since| (since + state.floor.settings.wipe_down, Kind::Free(id, group.block)));
    let catch_up = hand
        .and_then(|hand| catch_up(&hand))
        .map(|(client, until)| (state.recorded, Kind::CatchUp(id, client, until)));
    finish.into_iter().chain(free).chain(catch_up).chain(silence(state, id, group))
}

/// A late client who has done the light sets while the others are further on.
fn catch_up(hand: &InHand<'_>) -> Option<(ClientId, u8)> {
    let legs = hand.block.legs.len();
    let done = |c: &ClientNow| c.is_here() && c.late && c.current.is_none() && c.sets.len() >= legs;
    let (client, _) = hand.group.clients.iter().find(|(_, c)| done(c))?;
    Some((*client, hand.round_of_others(*client).unwrap_or(1)))
}

/// Nothing is heard of a group that holds stations or waits for them, or nobody of it comes: its coach is
/// warned, and after that it is given up. Where somebody needs help at its stations nothing is given up.
fn silence(state: &State, id: GroupId, group: &GroupNow) -> Option<(FloorMs, Kind)> {
    let settings = &state.floor.settings;
    let hand = InHand::of(state, id)?;
    let waits = state.place_in_line(id).is_some();
    if group.clients.values().all(|c| c.presence == Presence::Expected) && group.claim.is_none() && !waits {
        return late(state, id, group);
    }
    if (group.claim.is_none() && !waits) || group.wipe_down.is_some() {
        return None;
    }
    if state.help_at(&state.held_by(id)) {
        return None;
    }
    if let Some(warned) = group.warned {
        return Some((warned + settings.lapse, Kind::Lapse(id)));
    }
    Some((quiet_since(&hand) + settings.idle, Kind::Warn(id)))
}

/// Since when nobody of a group need have said anything: a rest is no silence, nor is a set.
pub(super) fn quiet_since(hand: &InHand<'_>) -> FloorMs {
    let group = hand.group;
    let busy = group.clients.iter().filter_map(|(client, c)| {
        c.current.map(|u| u.ends).or_else(|| hand.coming(*client).map(|coming| coming.ready))
    });
    let busy = busy.max().filter(|_| group.claim.is_some());
    busy.map_or(group.heard, |busy| busy.max(group.heard))
}

/// Nobody of a group has come by its planned start. Whoever was there and has left did come.
fn late(state: &State, id: GroupId, group: &GroupNow) -> Option<(FloorMs, Kind)> {
    let settings = &state.floor.settings;
    if group.clients.values().any(|c| matches!(c.presence, Presence::Left(_))) {
        return None;
    }
    let starts = state.starts_at(id).filter(|_| !group.no_show)?;
    match group.warned {
        Some(warned) => Some((warned + settings.no_show, Kind::NotComing(id))),
        None => Some((starts + settings.late + group.down, Kind::Warn(id))),
    }
}

/// Stations are given out as soon as they can be, and looked at again whenever an hour begins or ends at
/// which other stations are kept for members.
fn admit(state: &State) -> Option<(FloorMs, Kind)> {
    if state.line.is_empty() {
        return None;
    }
    state.hours_from(state.recorded).find_map(|at| {
        admission::next(state, at).map(|(group, block, stations)| (at, Kind::Admit(group, block, stations)))
    })
}
