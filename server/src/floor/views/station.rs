//! The face of one to four stations: who is on them now and next, and of nobody else a name.

use turnabout_protocol::ids::{ClientId, StationId, TurnId};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{AskEffort, NextPart, StationPart, StationView};

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
        state: part::station_state(state, now),
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
    let mut coming = coming(hand, part.station).into_iter();
    let shown = now.on.or_else(|| coming.next().map(|(_, _, turn)| turn));
    part.turn = shown.and_then(|turn| part::turn(hand, context, turn));
    part.next = coming
        .next()
        .map(|(_, ready, turn)| NextPart { client: part::client_name(context, turn.client), ready });
    part.ask_effort = ask_effort(hand, context, part.station);
    part.halt = part::halt(hand.group);
}

/// The sets that come next at a station, in the order in which they are to be done: the client who has done
/// fewer rounds first, then who is ready first.
fn coming(hand: &InHand<'_>, station: StationId) -> Vec<(u8, FloorMs, TurnId)> {
    let coming = |client: &ClientId| {
        let turn = hand.next(*client).filter(|turn| hand.station(*turn) == Some(station))?;
        Some((turn.round, hand.coming(*client)?.ready, turn))
    };
    let mut coming: Vec<_> = hand.plan.clients.iter().filter_map(coming).collect();
    // Stable: of two alike the one named first in the group.
    coming.sort_by_key(|(round, ready, _)| (*round, *ready));
    coming
}

/// The last set done here whose effort nobody has answered, until its client begins another.
fn ask_effort(hand: &InHand<'_>, context: &Context<'_>, station: StationId) -> Option<AskEffort> {
    let open = |(id, now): (&ClientId, &crate::floor::state::ClientNow)| {
        let place = now.sets.len().checked_sub(1)?;
        let turn = hand.turn(*id, place)?;
        let record = now.sets.get(place)?;
        let asked = now.current.is_none()
            && turn.round > 0
            && record.effort.is_none()
            && hand.station(turn) == Some(station);
        asked.then_some((record.ended, turn))
    };
    let (_, turn) = hand.group.clients.iter().filter_map(open).max_by_key(|(ended, _)| *ended)?;
    let exercise = hand.exercise(turn)?.name.clone();
    Some(AskEffort { turn, client: part::client_name(context, turn.client), exercise })
}
