//! Who is there, and how a session goes on or ends.

use turnabout_protocol::command::{ScreeningDecision, Spotter};
use turnabout_protocol::ids::{ClientId, GroupId};

use super::people::not_at_a_bar;
use super::{block, client, edited, give_up_unused, sets};
use crate::floor::in_hand::InHand;
use crate::floor::state::{Presence, Stamp, State};

pub(super) fn arrived(state: &mut State, id: GroupId, clients: &[ClientId], stamp: Stamp) {
    let behind: Vec<ClientId> = InHand::of(state, id)
        .map(|hand| clients.iter().copied().filter(|client| hand.is_behind_others(*client)).collect())
        .unwrap_or_default();
    let Some(group) = state.groups.get_mut(&id) else { return };
    group.no_show = false;
    for id in clients {
        if let Some(client) = group.clients.get_mut(id) {
            client.presence = Presence::Here(stamp);
            client.late = behind.contains(id);
        }
    }
    reopen(state, id);
}

pub(super) fn screened(
    state: &mut State,
    group: GroupId,
    id: ClientId,
    decision: ScreeningDecision,
    stamp: Stamp,
) {
    let Some(now) = client(state, group, id) else { return };
    now.before.screening = Some((decision, stamp));
    match decision {
        ScreeningDecision::Train => {}
        ScreeningDecision::Refer | ScreeningDecision::NotToday => left(state, group, id, stamp),
    }
}

pub(super) fn left(state: &mut State, group: GroupId, id: ClientId, stamp: Stamp) {
    not_at_a_bar(state, Spotter::Client { client: id });
    if let Some(client) = client(state, group, id) {
        client.presence = Presence::Left(stamp);
        // Whoever was stopped stays so until a coach says otherwise, also after coming back.
        client.put_off = None;
        client.spotter = None;
    }
}

/// A block has another number of working rounds: as planned again, or not.
pub(super) fn rounds_set(state: &mut State, id: GroupId, block: u8, rounds: u8) {
    let planned = state.programme.groups.get(&id).and_then(|plan| plan.blocks.get(usize::from(block)));
    let as_planned = planned.is_some_and(|planned| planned.rounds == rounds);
    if let Some(group) = state.groups.get_mut(&id) {
        if as_planned {
            group.rounds.remove(&block);
        } else {
            group.rounds.insert(block, rounds);
        }
    }
    goes_on(state, id);
}

/// There are other sets to do than before. Those of an exercise that is left out are over at once.
pub(super) fn goes_on(state: &mut State, id: GroupId) {
    let clients: Vec<ClientId> =
        state.groups.get(&id).into_iter().flat_map(|group| group.clients.keys().copied()).collect();
    for client in clients {
        sets::settle(state, id, client);
    }
    reopen(state, id);
    edited(state, id);
}

/// Where there are sets to do again the block is not over.
fn reopen(state: &mut State, id: GroupId) {
    let open = InHand::of(state, id).is_some_and(|hand| hand.has_sets_left());
    if let Some(group) = state.groups.get_mut(&id).filter(|_| open) {
        group.wipe_down = None;
    }
}

pub(super) fn block_dropped(state: &mut State, id: GroupId, block: u8) {
    if let Some(group) = state.groups.get_mut(&id) {
        group.blocks = group.blocks.min(block);
        if group.block.saturating_add(1) == block {
            group.ahead = None;
        }
    }
    state.line.retain(|ask| ask.group != id || ask.block != block);
    give_up_unused(state, id);
    edited(state, id);
}

pub(super) fn ended(state: &mut State, id: GroupId) {
    if let Some(group) = state.groups.get_mut(&id) {
        block::close(group);
        group.blocks = group.block;
        group.ahead = None;
        group.offer = None;
        block::let_go(group);
    }
    state.line.retain(|ask| ask.group != id);
    give_up_unused(state, id);
    edited(state, id);
}

/// Nobody has answered: the stations are free. What was done is kept, and whoever comes back goes on.
pub(super) fn lapsed(state: &mut State, id: GroupId, stamp: Stamp) {
    if let Some(group) = state.groups.get_mut(&id) {
        group.claim = None;
        group.ahead = None;
        group.warned = None;
        group.wipe_down = None;
        group.halt = None;
        for client in group.clients.values_mut().filter(|c| c.is_here()) {
            client.presence = Presence::Left(stamp);
            client.spotter = None;
        }
    }
    state.line.retain(|ask| ask.group != id);
    give_up_unused(state, id);
    edited(state, id);
}
