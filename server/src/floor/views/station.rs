//! The face of one to four stations: who is on them now and next, who of the same group can spot the coming set,
//! and of nobody else a name.

use turnabout_protocol::ids::{ClientId, StationId, TurnId};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{
    ClaimPart, LapsePart, Need, NextPart, PartnerPart, StationPart, StationView, TurnPart, TurnPhase,
};

use super::{Context, choice, part, proposal, station_more};
use crate::floor::in_hand::{Coming, InHand};
use crate::floor::next_load::Ladders;
use crate::floor::spotting;
use crate::floor::state::{ClientNow, State, StationNow};

pub(super) fn view(state: &State, context: &Context<'_>, stations: &[StationId]) -> Option<StationView> {
    let stations = stations.iter().map(|id| station(state, context, *id)).collect::<Option<_>>()?;
    Some(StationView {
        zone_offset: context.zone_offset,
        clock: part::clock(state),
        stations,
        help: part::help(state, context),
    })
}

fn station(state: &State, context: &Context<'_>, id: StationId) -> Option<StationPart> {
    let station = state.floor.stations.get(&id)?;
    let now = state.stations.get(&id)?;
    let hands: Vec<InHand<'_>> = now.groups().filter_map(|group| InHand::of(state, group)).collect();
    let claim = |hand: &InHand<'_>| ClaimPart { group: hand.id, block: hand.group.block };
    let holder = hands.iter().find(|hand| now.claim == Some(hand.id));
    let second = hands.iter().find(|hand| now.work_in == Some(hand.id));
    let mut part = StationPart {
        station: id,
        key: station.key.clone(),
        name: station.name.clone(),
        gear: station.gear.kind(),
        state: state.station_state(id, now),
        claim: holder.map(claim),
        arms: station.arms && state.floor.policy.arms_accepted,
        shared_with: second.map(claim),
        other_use: part::other_use(now),
        out: part::out(now),
        lapses: lapses(&hands),
        turn: None,
        partners: Vec::new(),
        next: None,
        free: station_more::free(state, context, id, now),
        coach: holder.map(|hand| part::coach_name(context, hand.group.coach)),
        leaving: station_more::leaving(&hands, context, id),
        jobs: None,
        finished: station_more::finished(&hands, context, id, now),
        ask_efforts: station_more::open_efforts(&hands, context, id),
        halt: None,
        plates: None,
        calls: state
            .calls
            .iter()
            .filter(|(_, call)| call.station == id)
            .map(|(call, made)| part::call(context, state, *call, made))
            .collect(),
    };
    turns(&mut part, state, &hands, context, now);
    // Nobody sees what is on a bar under a lifter.
    let to_come = part.turn.as_ref().is_some_and(|turn| matches!(turn.phase, TurnPhase::Coming { .. }));
    part.plates = if to_come { choice::station_plates(state, id, now) } else { None };
    Some(part)
}

/// Puts in whose turn it is and who is next, of all groups that take turns here.
fn turns(
    part: &mut StationPart,
    state: &State,
    hands: &[InHand<'_>],
    context: &Context<'_>,
    now: &StationNow,
) {
    let mut queue = merged(hands, part.station).into_iter();
    let shown = now.on.or_else(|| queue.next().map(|(turn, _)| turn));
    // Where everybody who could go is stopped, the display says whom that is about.
    let shown = shown.or_else(|| hands.iter().find_map(|hand| stopped(hand, part.station)));
    let hand = shown.and_then(|turn| hands.iter().find(|hand| hand.id == turn.group));
    part.turn = hand
        .zip(shown)
        .and_then(|(hand, turn)| Some(part::with_plates(hand, part::turn(hand, context, turn)?)));
    if let (Some(hand), Some(turn)) = (hand, part.turn.as_mut()) {
        turn.proposal = proposal::in_public(hand, turn.turn, &mut Ladders::default());
        turn.cues = part::cues(hand, turn.turn);
    }
    let partners = |(hand, turn): (&InHand<'_>, &TurnPart)| partners(hand, context, turn);
    part.jobs = hand.zip(part.turn.as_ref()).and_then(|(hand, turn)| station_more::jobs(hand, context, turn));
    part.partners = hand.zip(part.turn.as_ref()).map(partners).unwrap_or_default();
    part.next = queue.next().map(|(turn, coming)| NextPart {
        client: part::client_name(context, turn.client),
        ready: coming.go,
        promise: part::start(state, turn),
    });
    part.halt = match (hand, shown) {
        (Some(hand), Some(turn)) => part::halt_of(hand, turn.client),
        // Nobody has a set here: what holds the group that has the station.
        (None, _) | (_, None) => hands.first().and_then(|hand| part::halt(hand.group)),
    };
}

/// Who of the group can spot the set to come. A name goes out only while a spotter is still missing, and of those
/// alone whom the coach has passed: it is needed to say who stands at the bar, and for nothing else.
fn partners(hand: &InHand<'_>, context: &Context<'_>, turn: &TurnPart) -> Vec<PartnerPart> {
    let TurnPhase::Coming { needs, .. } = &turn.phase else { return Vec::new() };
    if !needs.contains(&Need::Spotter) {
        return Vec::new();
    }
    let part = |client| PartnerPart { client, name: part::client_name(context, client) };
    spotting::partners(hand, turn.turn).map(part).collect()
}

/// The sets that come next here, of a group and of one that works in: each group's in its own order, between
/// the groups whoever is ready first, at a tie the group that has the station.
fn merged(hands: &[InHand<'_>], station: StationId) -> Vec<(TurnId, Coming)> {
    let mut queues: Vec<_> = hands.iter().map(|hand| hand.queue(station).into_iter().peekable()).collect();
    let mut merged = Vec::new();
    loop {
        let ready: Vec<Option<FloorMs>> =
            queues.iter_mut().map(|queue| queue.peek().map(|(_, coming)| coming.ready)).collect();
        let first = ready.iter().enumerate().filter_map(|(n, ready)| Some(((*ready)?, n))).min();
        let next = first.and_then(|(_, n)| queues.get_mut(n)?.next());
        match next {
            Some(next) => merged.push(next),
            None => return merged,
        }
    }
}

/// The next set here of a client who is stopped alone.
fn stopped(hand: &InHand<'_>, station: StationId) -> Option<TurnId> {
    let alone = |(id, c): (&ClientId, &ClientNow)| {
        c.halt.filter(|_| c.is_here())?;
        hand.next(*id).filter(|turn| hand.station(*turn) == Some(station))
    };
    hand.group.clients.iter().find_map(alone)
}

/// The first of the groups here that will be given up.
fn lapses(hands: &[InHand<'_>]) -> Option<LapsePart> {
    let of = |hand: &InHand<'_>| Some(LapsePart { group: hand.id, at: hand.state.lapses_at(hand.id)? });
    hands.iter().filter_map(of).min_by_key(|lapse| lapse.at)
}
