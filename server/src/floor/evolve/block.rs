//! Stations taken, given back and waited for; a block begun and ended.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::BarLeft;
use turnabout_protocol::ids::{ClientId, ExerciseId, GroupId, StationId};
use turnabout_protocol::load::Load;

use super::{edited, give_up_unused, hold};
use crate::floor::event::LegLoads;
use crate::floor::gear_now;
use crate::floor::in_hand::InHand;
use crate::floor::state::{Ask, Claim, GroupNow, LegNow, PastBlock, PastClient, SetOver, Stamp, State};
use crate::loading::gear::Gear;
use crate::training::scale::Scale;

pub(super) fn asked(state: &mut State, group: GroupId, block: u8, asked: Stamp) {
    state.line.retain(|ask| ask.group != group);
    state.line.push(Ask { group, block, asked });
}

pub(super) fn taken(state: &mut State, id: GroupId, block: u8, claim: Claim) {
    state.line.retain(|ask| ask.group != id);
    for station in &claim.stations {
        hold(state, id, *station);
    }
    let Some(group) = state.groups.get_mut(&id) else { return };
    // Whoever was silent while there was nothing to do has something to do now.
    group.warned = None;
    let claim = Some(claim);
    if group.block == block {
        group.claim = claim;
        begin(state, id);
    } else {
        group.ahead = claim;
    }
    edited(state, id);
}

/// The group has the stations of the block in hand: what is particular to each exercise is known now. A
/// client who has done sets of it before, and lost the stations, goes on.
fn begin(state: &mut State, id: GroupId) {
    let Some(hand) = InHand::of(state, id) else { return };
    let legs: Vec<(ClientId, Vec<LegNow>)> =
        hand.group.clients.keys().map(|client| (*client, legs(&hand, *client))).collect();
    let Some(group) = state.groups.get_mut(&id) else { return };
    for (client, legs) in legs {
        if let Some(client) = group.clients.get_mut(&client) {
            client.legs = legs;
        }
    }
}

fn legs(hand: &InHand<'_>, client: ClientId) -> Vec<LegNow> {
    let stations = hand.group.claim.iter().flat_map(|claim| &claim.stations);
    let before = hand.client(client).map(|c| c.legs.as_slice()).unwrap_or_default();
    let gear = |station: &StationId, exercise| gear_now::as_planned(&hand.state.floor, *station, exercise);
    hand.block
        .legs
        .iter()
        .zip(stations)
        .enumerate()
        .map(|(place, (leg, station))| {
            let possible = |leg: &&LegNow| leg.instead.is_none_or(|other| hand.done_at(other, *station));
            if let Some(before) = before.get(place).filter(possible) {
                let exercise = before.instead.unwrap_or(leg.exercise);
                let gear = gear(station, exercise);
                let says = |gear: &Gear| says_something(hand, client, (before, exercise), (*station, gear));
                if gear.as_deref().is_none_or(says) {
                    return fitted(before.clone(), gear.as_deref());
                }
            }
            // Where another exercise was done instead that cannot be done here, a light set comes first again.
            let again = before.len() > place && hand.client(client).is_some_and(|c| c.sets.len() > place);
            if let Some(loads) = worked_out(hand, client, place) {
                return LegNow { again, ..LegNow::of(loads) };
            }
            let Some(set) = leg.sets.get(&client) else { return LegNow::new(Vec::new(), None) };
            let loads = (1..=hand.rounds()).map(|round| set.target(round)?.fixed()).collect();
            let loaded = set.rounds.iter().any(|target| target.load.is_some());
            let lightest = || gear(station, leg.exercise).and_then(|gear| gear.lightest());
            let technique_load = if loaded { set.technique.load.or_else(lightest) } else { None };
            LegNow { again, ..LegNow::new(loads, technique_load) }
        })
        .collect()
}

/// Whether the loads of an exercise say anything on this gear: masses only where it has masses, and pins only at the
/// stack where they were found.
fn says_something(
    hand: &InHand<'_>,
    client: ClientId,
    (leg, exercise): (&LegNow, ExerciseId),
    (station, gear): (StationId, &Gear),
) -> bool {
    let loads = || leg.loads.iter().flatten().chain(&leg.technique_load).chain(&leg.ramp);
    let mut sets = hand.client(client).into_iter().flat_map(|now| now.sets.iter().filter_map(SetOver::done));
    match gear.scale() {
        scale @ Scale::Loads(_) => loads().all(|load| scale.is_of(*load)),
        scale @ Scale::Pins(_) => {
            loads().all(|load| scale.is_of(*load))
                && sets.any(|set| (set.station, set.exercise) == (station, exercise))
        }
    }
}

/// The loads that were worked out when the stations were taken. Rows from before they were kept have none.
fn worked_out<'s>(hand: &InHand<'s>, client: ClientId, place: usize) -> Option<&'s LegLoads> {
    let loads = &hand.group.claim.as_ref()?.loads;
    let of = loads.iter().find(|of| usize::from(of.leg) == place && of.loads.client == client);
    of.map(|of| &of.loads)
}

/// The same on other gear: what cannot be put on there is the next lighter load that can.
fn fitted(mut leg: LegNow, gear: Option<&Gear>) -> LegNow {
    leg.elsewhere = None;
    let Some(gear) = gear else { return leg };
    let fit = |load: Load| gear.no_harder_than(load);
    leg.loads = leg.loads.into_iter().map(|load| load.and_then(fit)).collect();
    leg.technique_load = leg.technique_load.and_then(fit);
    leg.ramp = leg.ramp.and_then(fit);
    leg
}

pub(super) fn given_back(state: &mut State, id: GroupId, block: u8) {
    let Some(group) = state.groups.get_mut(&id) else { return };
    if group.block == block {
        group.claim = None;
        group.wipe_down = None;
        for client in group.clients.values_mut().filter(|c| c.sets.is_empty()) {
            client.legs.clear();
        }
    } else {
        group.ahead = None;
    }
    give_up_unused(state, id);
    edited(state, id);
}

pub(super) fn freed(state: &mut State, id: GroupId, bar: Option<BarLeft>) {
    if bar == Some(BarLeft::Stripped) {
        strip(state, id);
    }
    let Some(group) = state.groups.get_mut(&id) else { return };
    close(group);
    group.claim = group.ahead.take();
    let goes_on = group.claim.is_some();
    let done = group.block >= group.blocks;
    if done {
        let_go(group);
    }
    let block = group.block;
    if goes_on {
        begin(state, id);
    }
    give_up_unused(state, id);
    unconfirm(state, id);
    state.line.retain(|ask| ask.group != id || (!done && ask.block >= block));
    edited(state, id);
}

/// Whoever is finished is held back by nothing, and need not be resumed.
pub(super) fn let_go(group: &mut GroupNow) {
    group.halt = None;
    for client in group.clients.values_mut() {
        client.halt = None;
    }
}

/// What is on the bars may stay, but whoever lifts it in the next block confirms it anew.
fn unconfirm(state: &mut State, id: GroupId) {
    for station in state.stations.values_mut().filter(|s| s.is_for(id)) {
        station.unconfirm();
    }
}

/// Not the bar that a group which works in is lifting just now.
fn strip(state: &mut State, id: GroupId) {
    let Some(claim) = state.groups.get(&id).and_then(|g| g.claim.as_ref()) else { return };
    for station in &claim.stations {
        let gear = state.floor.stations.get(station).map(|s| &s.gear).filter(|g| g.kind() == GearKind::Bar);
        let now = state.stations.get_mut(station).filter(|now| now.on.is_none());
        if let (Some(gear), Some(now)) = (gear, now) {
            (now.load, now.plates) = (gear.unloaded().map(Load::Mass), Some(gear_now::stripped()));
            now.unconfirm();
        }
    }
}

/// Puts what was done in the block in hand with the past, and goes on to the next.
pub(super) fn close(group: &mut GroupNow) {
    let legs = group.clients.values().map(|c| c.legs.len()).max().unwrap_or_default();
    let clients = group.clients.iter_mut().map(|(id, client)| {
        let past =
            PastClient { sets: std::mem::take(&mut client.sets), again: std::mem::take(&mut client.again) };
        client.next_block();
        (*id, past)
    });
    let clients = clients.collect();
    let legs = u8::try_from(legs).unwrap_or(u8::MAX);
    group.past.push(PastBlock { block: group.block, legs, clients });
    group.block = group.block.saturating_add(1);
    group.claim = None;
    group.wipe_down = None;
}
