//! The taps that a coach is expected to make for a group, each complete with its target.

use turnabout_protocol::command::{Act, Spotter};
use turnabout_protocol::ids::{ClientId, CoachId, TurnId};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{ExpectedTap, Need};

use crate::floor::admission;
use crate::floor::in_hand::InHand;
use crate::floor::state::{ClientNow, Presence};

/// The taps that are expected, the most likely first. A display takes the first whose time has come.
///
/// A view says nothing that time alone changes, so the order cannot depend on the time: what is under way
/// comes before what is to come, and of that what is ready first.
pub(super) fn expected(hand: &InHand<'_>, me: CoachId) -> Vec<ExpectedTap> {
    let mut taps = Vec::new();
    let group = hand.id;
    if hand.group.halt.is_some() {
        taps.push(now(Act::Resume { group, client: None }));
    }
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
        under_way(hand, &mut taps);
        coming(hand, me, &mut taps);
    }
    late(hand, &mut taps);
    taps
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

fn is_expected(hand: &InHand<'_>, client: ClientId) -> bool {
    hand.client(client).is_some_and(|c| c.presence == Presence::Expected)
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
        admission::overtaken(state, group, stations, now).is_none()
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
    sets.sort_by_key(|(coming, turn)| (turn.round, coming.ready));
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
                | Need::Resume
                | Need::Arrival
                | Need::Briefing
                | Need::Coach
                | Need::OtherUse
                | Need::Service => continue,
            };
            taps.push(ExpectedTap { act, from: FloorMs::default(), client });
        }
    }
}
