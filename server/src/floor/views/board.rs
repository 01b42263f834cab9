//! Every group at a glance, for a wall.

use turnabout_protocol::ids::ClientId;
use turnabout_protocol::view::{BoardGroup, BoardView, ClientPart};

use super::Context;
use super::part;
use crate::floor::in_hand::InHand;
use crate::floor::state::State;

pub(super) fn view(state: &State, context: &Context<'_>) -> BoardView {
    let groups = state
        .programme
        .groups
        .iter()
        .filter_map(|(id, plan)| {
            let now = state.groups.get(id)?;
            let hand = InHand::of(state, *id);
            let client = |id: &ClientId| client(state, context, hand.as_ref(), *id);
            Some(BoardGroup {
                group: *id,
                stage: now.stage(plan),
                clients: plan.clients.iter().map(client).collect(),
                halt: part::halt(now),
            })
        })
        .collect();
    BoardView {
        zone_offset: context.zone_offset,
        floor: state.floor.name.clone(),
        groups,
        stations: part::station_lines(state),
        help: part::help(state),
    }
}

fn client(state: &State, context: &Context<'_>, hand: Option<&InHand<'_>>, id: ClientId) -> ClientPart {
    let mut turn = hand.and_then(|hand| part::turn_of(hand, context, id));
    let shown = state.programme.clients.get(&id).is_some_and(|client| client.show_load);
    if let Some(turn) = turn.as_mut().filter(|_| !shown) {
        turn.load = None;
    }
    ClientPart { client: id, name: part::client_name(context, id), turn }
}
