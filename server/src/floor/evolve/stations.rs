//! Another station for an exercise, how stations are set for clients, and plates that are not there.

use turnabout_protocol::ids::{ClientId, GroupId, StationId};

use super::{edited, give_up_unused, hold};
use crate::floor::event::LegLoads;
use crate::floor::gear_now;
use crate::floor::in_hand::InHand;
use crate::floor::state::{Missing, State};

pub(super) fn swapped(
    state: &mut State,
    id: GroupId,
    leg: u8,
    (from, to): (StationId, StationId),
    loads: &[LegLoads],
) {
    let moves = |hand: &InHand<'_>, client| {
        hand.next(client).is_some_and(|next| next.leg == leg && hand.station(next) == Some(from))
    };
    let moved: Vec<ClientId> = InHand::of(state, id)
        .map(|hand| hand.group.clients.keys().copied().filter(|client| moves(&hand, *client)).collect())
        .unwrap_or_default();
    hold(state, id, to);
    let Some(group) = state.groups.get_mut(&id) else { return };
    let place = usize::from(leg);
    if let Some(station) = group.claim.as_mut().and_then(|claim| claim.stations.get_mut(place)) {
        *station = to;
    }
    for (client, now) in &mut group.clients {
        if moved.contains(client) {
            // Whoever stood at the bar, and the arms that were set, are at the station before.
            now.spotter = None;
        }
        let Some(leg) = now.legs.get_mut(place) else { continue };
        match leg.elsewhere {
            Some(other) if other == to => leg.elsewhere = None,
            Some(_) => continue,
            None => {}
        }
        // It was settled for the gear before, and loads compare at the same station only.
        leg.settled = None;
        if let Some(loads) = loads.iter().find(|loads| loads.client == *client) {
            leg.take(loads);
        }
    }
    give_up_unused(state, id);
    edited(state, id);
}

pub(super) fn setting_kept(
    state: &mut State,
    (station, client): (StationId, ClientId),
    setting: u8,
    value: Option<u8>,
) {
    let kept = state.settings.entry(client).or_default().entry(station).or_default();
    match value {
        Some(value) => kept.insert(setting, value),
        None => kept.remove(&setting),
    };
    if let Some(kept) = state.settings.get_mut(&client) {
        kept.retain(|_, settings| !settings.is_empty());
    }
    state.settings.retain(|_, kept| !kept.is_empty());
    // Whoever says how it is set for a client has just set it so; after that was a mistake nobody knows.
    if let Some(now) = state.stations.get_mut(&station) {
        match value {
            Some(value) => now.set_to.insert(setting, value),
            None => now.set_to.remove(&setting),
        };
    }
}

/// Plates are missing at a station, or of the tree that it shares; a count of zero: all of them are back.
pub(super) fn plates_missing(state: &mut State, station: StationId, said: Missing) {
    let tree = gear_now::tree(&state.floor, station).cloned();
    let missing = match tree {
        Some(tree) => state.trees.entry(tree).or_default(),
        None => match state.stations.get_mut(&station) {
            Some(now) => &mut now.missing,
            None => return,
        },
    };
    missing.retain(|missing| missing.plate != said.plate);
    if said.count > 0 {
        missing.push(said);
        missing.sort_by_key(|missing| std::cmp::Reverse(missing.plate));
    }
}
