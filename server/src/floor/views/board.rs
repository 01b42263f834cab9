//! Every group at a glance, for a wall.

use turnabout_protocol::ids::ClientId;
use turnabout_protocol::view::{BoardGroup, BoardView, ClientPart};

use super::{Context, happened, part, ribbon};
use crate::floor::in_hand::InHand;
use crate::floor::state::{GroupNow, State};

pub(super) fn view(state: &State, context: &Context<'_>) -> BoardView {
    let groups = state
        .programme
        .groups
        .iter()
        .filter_map(|(id, plan)| {
            let now = state.groups.get(id)?;
            let hand = InHand::of(state, *id);
            let client = |client: &ClientId| client_part(context, (state, now), hand.as_ref(), *client);
            Some(BoardGroup {
                group: *id,
                stage: now.stage(plan),
                coach: part::coach_name(context, now.coach),
                place: part::place(state, *id),
                clients: plan.clients.iter().map(client).collect(),
                halt: part::halt(now),
            })
        })
        .collect();
    BoardView {
        zone_offset: context.zone_offset,
        clock: part::clock(state),
        closes: part::closes(state),
        floor: state.floor.name.clone(),
        groups,
        stations: part::station_lines(state),
        happened: happened::happened(state, context),
        help: part::help(state, context),
    }
}

fn client_part(
    context: &Context<'_>,
    (state, group): (&State, &GroupNow),
    hand: Option<&InHand<'_>>,
    id: ClientId,
) -> ClientPart {
    let mut turn = hand.and_then(|hand| part::turn_of(hand, context, id));
    let shown = state.programme.clients.get(&id).is_some_and(|client| client.show_load);
    if let Some(turn) = turn.as_mut().filter(|_| !shown) {
        turn.load = None;
    }
    ClientPart {
        client: id,
        name: part::client_name(context, id),
        attendance: part::attendance(group, id),
        halt: group.clients.get(&id).and_then(|client| part::halt_part(client.halt)),
        in_place_of: hand.and_then(|hand| part::in_place_of(hand, turn.as_ref()?.turn)),
        turn,
        ribbon: hand.map(|hand| ribbon::of_client(hand, context, id)).unwrap_or_default(),
    }
}
