//! The taps that a coach is expected to make for a group, each complete with its target.

use turnabout_protocol::command::{Act, Spotter};
use turnabout_protocol::ids::{ClientId, CoachId, StationId, TurnId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::{FloorMs, Mass};
use turnabout_protocol::view::{CoachClient, ExpectedTap, Need};

use super::card;
use crate::floor::admission;
use crate::floor::decide;
use crate::floor::in_hand::{Coming, InHand};
use crate::floor::promises;
use crate::floor::state::{Ask, ClientNow, Presence, SetOver};

/// The taps that are expected, the most likely first. A display takes the first whose time has come.
///
/// A view says nothing that time alone changes, so the order cannot depend on the time: what is under way
/// comes before what is to come, and of that what is ready first.
///
/// `clients` are those of the group as the page shows them: what their loads are made of has been worked out for it.
/// None where nobody asks for that; then every load is taken to be one that can be put on.
pub(in crate::floor) fn expected(
    hand: &InHand<'_>,
    me: CoachId,
    clients: &[CoachClient],
) -> Vec<ExpectedTap> {
    let mut taps = Vec::new();
    let group = hand.id;
    if hand.group.halt.is_some() {
        taps.push(now(Act::Resume { group, client: None }));
    }
    stopped_alone(hand, &mut taps);
    // Nobody takes a group over from under a bar.
    if hand.group.offer.is_some_and(|offer| offer.asks == me) && hand.group.spotted_under_way().is_none() {
        taps.push(now(Act::AcceptGroup { group, from: hand.group.coach }));
    }
    if hand.group.warned.is_some() && hand.group.clients.values().any(ClientNow::is_here) {
        taps.push(now(Act::StillHere { group }));
    }
    before(hand, &mut taps);
    if hand.group.claim.is_none() {
        stations(hand, &mut taps);
    } else if hand.group.wipe_down.is_some() {
        taps.push(now(Act::FreeStations { group, block: hand.group.block, bar: None }));
    } else {
        elsewhere(hand, &mut taps);
        under_way(hand, &mut taps);
        unpassed(hand, &mut taps);
        coming(hand, me, clients, &mut taps);
    }
    next_block(hand, &mut taps);
    late(hand, &mut taps);
    others(hand, me, &mut taps);
    taps
}

/// Clients who are stopped while the others go on.
fn stopped_alone(hand: &InHand<'_>, taps: &mut Vec<ExpectedTap>) {
    let stopped = hand.group.clients.iter().filter(|(_, c)| c.halt.is_some() && hand.group.halt.is_none());
    taps.extend(stopped.map(|(id, _)| {
        let act = Act::Resume { group: hand.id, client: Some(*id) };
        ExpectedTap { act, from: FloorMs::default(), client: Some(*id) }
    }));
}

/// Another station for an exercise whose own must not be used, where there is one.
fn elsewhere(hand: &InHand<'_>, taps: &mut Vec<ExpectedTap>) {
    let (group, revision) = (hand.id, hand.group.revision);
    let Some(claim) = &hand.group.claim else { return };
    for ((leg, at), place) in hand.block.legs.iter().zip(&claim.stations).zip(0_u8..) {
        let Some(now) = hand.state.stations.get(at) else { continue };
        let mine = now.on.is_some_and(|on| on.group == group);
        if now.out.is_none() || leg.in_place || mine {
            continue;
        }
        let can = |to: &StationId| to != at && admission::may_hold(hand.state, group, *to).is_ok();
        let to = decide::suited(hand.state, leg).find(can);
        taps.extend(to.map(|to| self::now(Act::SwapStation { group, leg: place, to, revision })));
    }
}

/// The stations of the next block are asked for while the last round of this one is done.
fn next_block(hand: &InHand<'_>, taps: &mut Vec<ExpectedTap>) {
    let (group, revision) = (hand.id, hand.group.revision);
    let next = hand.group.block.checked_add(1).filter(|next| *next < hand.group.blocks);
    let open = hand.group.claim.is_some() && hand.group.ahead.is_none();
    if let Some(block) = next.filter(|_| open && decide::in_last_round(hand)) {
        let asked = hand.state.line.iter().any(|ask| ask.group == group && ask.block == block);
        let here = hand.group.clients.values().any(ClientNow::is_here);
        if !asked && here {
            taps.push(now(Act::AskStations { group, block, revision }));
        }
    }
}

/// What others wait for at this group's stations, and what is still to be decided.
fn others(hand: &InHand<'_>, me: CoachId, taps: &mut Vec<ExpectedTap>) {
    for station in hand.state.held_by(hand.id) {
        let Some(at) = hand.state.stations.get(&station) else { continue };
        if let Some(other) = at.other_use {
            // It ends by itself then; who sees that it is over says so before.
            taps.push(ExpectedTap { from: other.until, ..now(Act::EndOtherUse { station }) });
        }
        let asks = |ask: &&Ask| {
            let refused = admission::may_hold(hand.state, ask.group, station);
            matches!(refused, Err(Refusal::LeaveNeeded { .. }))
                && at.leave.is_none()
                && suits(hand, ask, station)
        };
        if at.claim == Some(hand.id)
            && let Some(ask) = hand.state.line.iter().find(asks)
        {
            taps.push(now(Act::GiveLeave { station, group: ask.group }));
        }
    }
    if hand.group.offer.is_some_and(|offer| offer.asks == me) {
        taps.push(now(Act::DeclineGroup { group: hand.id }));
    }
}

/// Whether a group that waits has a use for a station.
fn suits(hand: &InHand<'_>, ask: &Ask, station: StationId) -> bool {
    let plan = hand.state.programme.groups.get(&ask.group);
    let block = plan.and_then(|plan| plan.blocks.get(usize::from(ask.block)));
    block.is_some_and(|block| {
        block.legs.iter().any(|leg| decide::suited(hand.state, leg).any(|suited| suited == station))
    })
}

/// What comes before the first set of those who are there; the first to come come together.
fn before(hand: &InHand<'_>, taps: &mut Vec<ExpectedTap>) {
    let group = hand.id;
    let here = |id: &ClientId| hand.client(*id).is_some_and(ClientNow::is_here);
    let clients = hand.plan.clients.clone();
    if !clients.iter().any(here) {
        let clients: Vec<ClientId> = clients.into_iter().filter(|id| is_expected(hand, *id)).collect();
        if !clients.is_empty() {
            taps.push(now(Act::Arrive { group, clients }));
        }
        return;
    }
    let unbriefed = |id: &ClientId| hand.client(*id).is_some_and(|c| c.before.briefed.is_none());
    let clients: Vec<ClientId> = clients.into_iter().filter(|id| here(id) && unbriefed(id)).collect();
    if !clients.is_empty() {
        taps.push(now(Act::Brief { group, clients, skipped: false }));
    }
}

/// Not yet come, and not with another group either.
fn is_expected(hand: &InHand<'_>, client: ClientId) -> bool {
    hand.client(client).is_some_and(|c| c.presence == Presence::Expected)
        && hand.state.trains_with(client).is_none()
}

/// Whoever has not come, while the others have.
fn late(hand: &InHand<'_>, taps: &mut Vec<ExpectedTap>) {
    let here = |id: &ClientId| hand.client(*id).is_some_and(ClientNow::is_here);
    if !hand.plan.clients.iter().any(here) {
        return;
    }
    for client in hand.plan.clients.iter().copied().filter(|id| is_expected(hand, *id)) {
        let act = Act::Arrive { group: hand.id, clients: vec![client] };
        taps.push(ExpectedTap { act, from: FloorMs::default(), client: Some(client) });
    }
}

/// The stations for a group that has none: those it could have now, or a place in the wait list.
fn stations(hand: &InHand<'_>, taps: &mut Vec<ExpectedTap>) {
    let (group, block, revision) = (hand.id, hand.group.block, hand.group.revision);
    if !hand.group.clients.values().any(ClientNow::is_here) {
        return;
    }
    let proposal = admission::proposal(hand.state, group);
    let in_turn = proposal.filter(|stations| {
        let (state, now) = (hand.state, hand.state.recorded);
        admission::overtaken(state, group, hand.block, stations, now).is_none()
            && admission::allows(state, group, hand.block, stations, now).is_ok()
    });
    match in_turn {
        Some(stations) => {
            taps.push(now(Act::TakeStations { group, block, stations, revision, despite: None }));
        }
        None if hand.state.place_in_line(group).is_none() => {
            taps.push(now(Act::AskStations { group, block, revision }));
        }
        None => {}
    }
}

fn now(act: Act) -> ExpectedTap {
    ExpectedTap { act, from: FloorMs::default(), client: None }
}

fn under_way(hand: &InHand<'_>, taps: &mut Vec<ExpectedTap>) {
    let mut sets: Vec<_> = hand.group.clients.values().filter_map(|c| c.current).collect();
    sets.sort_by_key(|u| (u.ends, u.turn));
    for u in sets {
        let client = Some(u.turn.client);
        if u.turn.round == 0 && !hand.technique_passed(u.turn) {
            taps.push(ExpectedTap { act: Act::PassTechnique { turn: u.turn }, from: u.starts, client });
        }
        let done = Act::Done { turn: u.turn, reps: None, effort: None, ending: None };
        taps.push(ExpectedTap { act: done, from: u.starts, client });
    }
}

/// Light sets that were done and that no coach has passed, from their ends on: what comes next for the client may need
/// nothing of them yet, and by then the coach remembers less of what was seen.
fn unpassed(hand: &InHand<'_>, taps: &mut Vec<ExpectedTap>) {
    for id in hand.group.clients.iter().filter(|(_, client)| client.is_here()).map(|(id, _)| id) {
        for leg in 0..hand.legs() {
            let turn = TurnId { group: hand.id, client: *id, block: hand.group.block, round: 0, leg };
            let from = light_done(hand, turn).filter(|_| !hand.technique_passed(turn));
            taps.extend(from.map(|from| ExpectedTap {
                act: Act::PassTechnique { turn },
                from,
                client: Some(*id),
            }));
        }
    }
}

/// When a light set ended; nothing while it is to be done, for the first time or once more, or left out.
fn light_done(hand: &InHand<'_>, turn: TurnId) -> Option<FloorMs> {
    let client = hand.client(turn.client)?;
    let under_way = client.current.is_some_and(|set| set.turn == turn);
    let open = hand.leg_now(turn).is_some_and(|leg| leg.again || leg.dropped.is_some());
    if under_way || open {
        return None;
    }
    let beside = client.again.iter().rev().find(|(again, _)| *again == turn).map(|(_, record)| record);
    let in_order = || client.sets.get(hand.place(turn)?)?.done();
    Some(beside.or_else(in_order)?.ended)
}

/// Whether somebody else waits at the station of a set with the load on, for nothing but a spotter, and could go no
/// later: nobody is asked to strip that bar. What is left over from a set that was done there waits for nobody.
fn is_loaded_for_another(hand: &InHand<'_>, turn: TurnId, go: FloorMs) -> bool {
    let at = hand.station(turn).and_then(|id| Some((id, hand.state.stations.get(&id)?)));
    let Some((station, now)) = at else { return false };
    let Some(confirmed) = now.confirmed.map(|stamp| stamp.when) else { return false };
    let hands: Vec<InHand<'_>> = now.groups().filter_map(|id| InHand::of(hand.state, id)).collect();
    let mut records = hands.iter().flat_map(|hand| hand.group.clients.values()).flat_map(|client| {
        let beside = client.again.iter().map(|(_, record)| record);
        client.sets.iter().filter_map(SetOver::done).chain(beside)
    });
    if records.any(|record| record.station == station && record.started >= confirmed) {
        return false;
    }
    hands.iter().any(|hand| {
        let waits = |(other, coming): (TurnId, Coming)| {
            other != turn
                && coming.go <= go
                && hand.card(other).is_some_and(|card| card.confirmed)
                && hand.needs(other).iter().all(|need| *need == Need::Spotter)
        };
        hand.queue(station).into_iter().any(waits)
    })
}

/// What is done about the load of the set that is next at its bar: it is confirmed, or, where the plates that are free do
/// not make it, one that they make is set, the lighter one first. A confirmation would be refused then.
fn load(hand: &InHand<'_>, turn: TurnId, clients: &[CoachClient]) -> Vec<Act> {
    let revision = hand.group.revision;
    let shown = clients.iter().filter_map(|client| client.turn.as_ref()).find(|part| part.turn == turn);
    let unbuilt = match shown {
        Some(part) => part.load.as_ref().and_then(|load| load.unbuilt.clone()),
        None if clients.is_empty() => None,
        // Another set of the client is under way, and that is what the page shows.
        None => hand.card(turn).and_then(|mut load| {
            card::fill(hand, turn, hand.station(turn), &mut load);
            load.unbuilt
        }),
    };
    let set = |load: Mass| Act::SetLoad { turn, load: load.into(), sure: false, revision };
    match unbuilt {
        Some(unbuilt) => unbuilt.below.into_iter().chain(unbuilt.above).map(set).collect(),
        None => vec![Act::ConfirmLoad { turn }],
    }
}

fn coming(hand: &InHand<'_>, me: CoachId, clients: &[CoachClient], taps: &mut Vec<ExpectedTap>) {
    let ready = |client: &ClientId| {
        hand.client(*client).filter(|c| c.is_here())?;
        Some((hand.coming(*client)?, hand.next(*client)?))
    };
    let mut sets: Vec<_> = hand.plan.clients.iter().filter_map(ready).collect();
    // As the run sheet has them: what has been told in order of its start, then round by round.
    let told = |turn: TurnId| promises::of(hand.state, turn).map(|told| told.start);
    sets.sort_by_key(|(coming, turn)| {
        let told = told(*turn);
        (told.is_none(), told, turn.round, coming.ready)
    });
    for (coming, turn) in sets {
        let client = Some(turn.client);
        let needs = hand.needs(turn);
        // The plates and the coach are at the bar for the one who lifts next, not for the one after.
        let queue = hand.station(turn).map(|station| hand.queue(station)).unwrap_or_default();
        let first = queue.first().is_some_and(|(first, _)| *first == turn);
        let at_the_bar = first && !needs.contains(&Need::StationFree) && !needs.contains(&Need::Racked);
        // The coach who says GO at the bar spots, so a missing spotter is no hindrance for a free coach.
        let who = Spotter::Coach { coach: me };
        let free = hand.state.spotted_by(who, FloorMs::default()).is_none();
        let elsewhere = hand.state.at_a_bar(who);
        if needs.iter().all(|need| *need == Need::Spotter && free) {
            taps.push(ExpectedTap { act: Act::Go { turn }, from: coming.go_from, client });
        }
        for need in &needs {
            let light = TurnId { round: 0, ..turn };
            let acts = match need {
                // Of one that was done it is expected already.
                Need::TechniquePass if light_done(hand, light).is_none() => {
                    vec![Act::PassTechnique { turn: light }]
                }
                // Nobody looks at plates who spots at another bar.
                Need::ConfirmLoad if at_the_bar && free && !is_loaded_for_another(hand, turn, coming.go) => {
                    load(hand, turn, clients)
                }
                Need::Spotter if at_the_bar && free && !elsewhere => {
                    vec![Act::Spot { turn, lift_off: false }]
                }
                Need::ConfirmLoad
                | Need::TechniquePass
                | Need::Spotter
                | Need::Stations
                | Need::StationFree
                | Need::Racked
                | Need::Pair
                | Need::Resume
                | Need::Arrival
                | Need::Briefing
                | Need::Coach
                | Need::OtherUse
                | Need::Service
                | Need::Help => continue,
            };
            let always = FloorMs::default();
            taps.extend(acts.into_iter().map(|act| ExpectedTap { act, from: always, client }));
        }
    }
}
