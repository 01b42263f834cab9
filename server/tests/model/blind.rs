//! Floors on which what a check looks at is not so: to decide as if the check had been left out.

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{GroupId, StationId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use turnabout_server::floor::decide::Tap;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::state::{Leave, SetOver, Stamp, State};

const LONG_AGO: Stamp = Stamp { by: Actor::Floor, when: FloorMs(0) };

pub(crate) fn nobody_spots(state: &State) -> State {
    let mut state = state.clone();
    for client in state.groups.values_mut().flat_map(|group| group.clients.values_mut()) {
        if let Some(set) = &mut client.current {
            set.spotter = None;
        }
    }
    state
}

pub(crate) fn nobody_lifts(state: &State) -> State {
    let mut state = state.clone();
    for client in state.groups.values_mut().flat_map(|group| group.clients.values_mut()) {
        client.current = None;
    }
    state
}

pub(crate) fn all_in_service(state: &State) -> State {
    let mut state = state.clone();
    for station in state.stations.values_mut() {
        station.out = None;
    }
    state
}

pub(crate) fn nobody_on(state: &State) -> State {
    let mut state = state.clone();
    for station in state.stations.values_mut() {
        station.on = None;
    }
    state
}

pub(crate) fn long_rested(state: &State) -> State {
    let mut state = state.clone();
    for client in state.groups.values_mut().flat_map(|group| group.clients.values_mut()) {
        for record in client.sets.iter_mut().filter_map(SetOver::done_mut) {
            record.ended = FloorMs(0);
        }
    }
    state
}

pub(crate) fn all_loaded(state: &State, tap: &Tap) -> State {
    let mut state = state.clone();
    let Act::Go { turn } = tap.act else { return state };
    let load = InHand::of(&state, turn.group).and_then(|hand| hand.load(turn));
    for station in state.stations.values_mut() {
        station.load = load;
        station.confirmed = Some(LONG_AGO);
    }
    state
}

/// Whoever was to be there for the lift-off alone is free at once.
pub(crate) fn all_lifted_off(state: &State) -> State {
    let mut state = state.clone();
    for client in state.groups.values_mut().flat_map(|group| group.clients.values_mut()) {
        if let Some(set) = client.current.as_mut().filter(|set| set.lift_off) {
            set.starts = FloorMs(0);
        }
    }
    state
}

/// Everybody keeps much in reserve.
pub(crate) fn all_in_reserve(state: &State) -> State {
    let mut state = state.clone();
    let blocks = state.programme.groups.values_mut().flat_map(|plan| &mut plan.blocks);
    for set in blocks.flat_map(|block| &mut block.legs).flat_map(|leg| leg.sets.values_mut()) {
        set.reserve = Some(10);
    }
    state
}

pub(crate) fn nobody_waits(state: &State) -> State {
    State { line: Vec::new(), ..state.clone() }
}

pub(crate) fn nobody_works_in(state: &State) -> State {
    let mut state = state.clone();
    for station in state.stations.values_mut() {
        station.work_in = None;
    }
    state
}

pub(crate) fn nobody_has(state: &State, station: StationId) -> State {
    let mut state = state.clone();
    if let Some(now) = state.stations.get_mut(&station) {
        now.claim = None;
    }
    state
}

pub(crate) fn all_give_leave(state: &State, group: GroupId) -> State {
    let mut state = state.clone();
    for station in state.stations.values_mut() {
        station.leave = Some(Leave { group, said: LONG_AGO });
    }
    state
}

pub(crate) fn nobody_is_away(state: &State) -> State {
    let mut state = state.clone();
    for coach in state.coaches.values_mut() {
        coach.away = None;
    }
    state
}
