//! Who is at a bar, who is held, who is on the way to a call.

use turnabout_protocol::command::{CallKind, Spotter};
use turnabout_protocol::ids::{CallId, ClientId, GroupId, StationId, TurnId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::HaltKind;

use super::client;
use crate::floor::state::{AtBar, ClientNow, Halt, Stamp, State};

pub(super) fn spotter_named(state: &mut State, turn: TurnId, spotter: AtBar) {
    not_at_a_bar(state, spotter.who);
    if let Some(client) = client(state, turn.group, turn.client) {
        client.spotter = Some(spotter);
    }
}

/// Nobody is at two bars, and whoever is away is at none. Safety arms are where they are.
pub(super) fn not_at_a_bar(state: &mut State, who: Spotter) {
    if who == Spotter::Arms {
        return;
    }
    for client in state.groups.values_mut().flat_map(|g| g.clients.values_mut()) {
        client.spotter = client.spotter.filter(|other| other.who != who);
    }
}

pub(super) fn halted(state: &mut State, group: GroupId, halt: Option<(HaltKind, Stamp)>) {
    let Some(group) = state.groups.get_mut(&group) else { return };
    let was = group.halt;
    group.halt = halt.map(|(kind, since)| Halt { kind, since });
    for client in group.clients.values_mut() {
        racked(client, halt);
    }
    // Whoever was stopped alone is resumed alone, or with the group where nothing else held it.
    if group.halt.is_none() && was.is_none() {
        for client in group.clients.values_mut() {
            client.halt = None;
        }
    }
}

pub(super) fn client_halted(
    state: &mut State,
    (group, id): (GroupId, ClientId),
    halt: Option<(HaltKind, Stamp)>,
) {
    if let Some(client) = client(state, group, id) {
        client.halt = halt.map(|(kind, since)| Halt { kind, since });
        racked(client, halt);
    }
}

/// A pause lets a set under way go on; a stop ends it.
fn racked(client: &mut ClientNow, halt: Option<(HaltKind, Stamp)>) {
    if let (Some(current), Some((HaltKind::Stop, since))) = (client.current.as_mut(), halt) {
        current.stop(since.when);
    }
}

/// Somebody spoke at a station: the groups there are still there.
pub(super) fn heard_at(state: &mut State, station: StationId, now: FloorMs) {
    let Some(station) = state.stations.get(&station) else { return };
    for id in station.groups() {
        if let Some(group) = state.groups.get_mut(&id) {
            group.heard = now;
            group.warned = None;
        }
    }
}

/// Whoever goes to help leaves the bar they stood at.
pub(super) fn call_answered(state: &mut State, call: CallId, stamp: Stamp) {
    let Some(call) = state.calls.get_mut(&call) else { return };
    call.answered = Some(stamp);
    if call.kind != CallKind::HelpNow {
        return;
    }
    match stamp.by {
        Actor::Coach { coach } => not_at_a_bar(state, Spotter::Coach { coach }),
        Actor::Assistant { coach } => not_at_a_bar(state, Spotter::Assistant { coach }),
        Actor::Station { .. } | Actor::Board | Actor::Manager | Actor::Floor => {}
    }
}
