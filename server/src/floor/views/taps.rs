//! The taps that a coach is expected to make for a group, each complete with its target.

use turnabout_protocol::command::{Act, Spotter};
use turnabout_protocol::ids::{ClientId, CoachId, StationId, TurnId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{ExpectedTap, Need};

use crate::floor::admission;
use crate::floor::decide;
use crate::floor::in_hand::InHand;
use crate::floor::promises;
use crate::floor::state::{Ask, ClientNow, Presence};

/// The taps that are expected, the most likely first. A display takes the first whose time has come.
///
/// A view says nothing that time alone changes, so the order cannot depend on the time: what is under way
/// comes before what is to come, and of that what is ready first.
pub(in crate::floor) fn expected(hand: &InHand<'_>, me: CoachId) -> Vec<ExpectedTap> {
    let mut taps = Vec::new();
    let group = hand.id;
    if hand.group.halt.is_some() {
        taps.push(now(Act::Resume { group, client: None }));
    }
    stopped_alone(hand, &mut taps);
    if hand.group.offer.is_some_and(|offer| offer.asks == me) {
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
        coming(hand, me, &mut taps);
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

fn coming(hand: &InHand<'_>, me: CoachId, taps: &mut Vec<ExpectedTap>) {
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
            let act = match need {
                Need::TechniquePass => Act::PassTechnique { turn: TurnId { round: 0, ..turn } },
                Need::ConfirmLoad if at_the_bar => Act::ConfirmLoad { turn },
                Need::Spotter if at_the_bar && free && !elsewhere => Act::Spot { turn, lift_off: false },
                Need::ConfirmLoad
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
            taps.push(ExpectedTap { act, from: FloorMs::default(), client });
        }
    }
}
