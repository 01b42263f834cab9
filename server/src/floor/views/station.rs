//! The face of one to four stations: who is on them now and next, and of nobody else a name.

use turnabout_protocol::ids::{ClientId, StationId};
use turnabout_protocol::view::{AskEffort, ClaimPart, NextPart, StationPart, StationView};

use super::Context;
use super::part;
use crate::floor::in_hand::InHand;
use crate::floor::state::{State, StationNow};

pub(super) fn view(state: &State, context: &Context<'_>, stations: &[StationId]) -> Option<StationView> {
    let stations = stations.iter().map(|id| station(state, context, *id)).collect::<Option<_>>()?;
    Some(StationView { zone_offset: context.zone_offset, stations, help: part::help(state) })
}

fn station(state: &State, context: &Context<'_>, id: StationId) -> Option<StationPart> {
    let station = state.floor.stations.get(&id)?;
    let now = state.stations.get(&id)?;
    let hand = now.claim.and_then(|group| InHand::of(state, group));
    let mut part = StationPart {
        station: id,
        key: station.key.clone(),
        name: station.name.clone(),
        gear: station.gear.kind(),
        state: state.station_state(now),
        claim: None,
        turn: None,
        next: None,
        ask_effort: None,
        halt: None,
        calls: state
            .calls
            .iter()
            .filter(|(_, call)| call.station == id)
            .map(|(call, made)| part::call(state, *call, made))
            .collect(),
    };
    if let Some(hand) = hand {
        fill(&mut part, &hand, context, now);
    }
    Some(part)
}

/// Puts in what the group does that has the station.
fn fill(part: &mut StationPart, hand: &InHand<'_>, context: &Context<'_>, now: &StationNow) {
    part.claim = Some(ClaimPart { group: hand.id, block: hand.group.block });
    let mut queue = hand.queue(part.station).into_iter();
    let shown = now.on.or_else(|| queue.next().map(|(turn, _)| turn));
    part.turn = shown.and_then(|turn| part::turn(hand, context, turn));
    part.next = queue.next().map(|(turn, coming)| NextPart {
        client: part::client_name(context, turn.client),
        ready: coming.ready,
    });
    part.ask_effort = ask_effort(hand, context, part.station);
    part.halt = part::halt(hand.group);
}

/// The last set done here whose effort nobody has answered, until its client begins another.
fn ask_effort(hand: &InHand<'_>, context: &Context<'_>, station: StationId) -> Option<AskEffort> {
    let open = |(id, now): (&ClientId, &crate::floor::state::ClientNow)| {
        let (turn, record) = hand.last_done(*id)?;
        let asked = now.current.is_none()
            && turn.round > 0
            && record.said.effort.is_none()
            && hand.station(turn) == Some(station);
        asked.then_some((record.ended, turn))
    };
    let (_, turn) = hand.group.clients.iter().filter_map(open).max_by_key(|(ended, _)| *ended)?;
    let exercise = hand.exercise(turn)?.name.en.clone();
    Some(AskEffort { turn, client: part::client_name(context, turn.client), exercise })
}
