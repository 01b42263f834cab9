//! The taps that a coach is expected to make for a group, each complete with its target.

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{ClientId, CoachId, TurnId};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{ExpectedTap, Need};

use super::first_fit::first_fit;
use crate::floor::in_hand::InHand;

/// The taps that are expected, the most likely first. A display takes the first whose time has come.
///
/// A view says nothing that time alone changes, so the order cannot depend on the time: what is under way
/// comes before what is to come, and of that what is ready first.
pub(super) fn expected(hand: &InHand<'_>, me: CoachId) -> Vec<ExpectedTap> {
    let mut taps = Vec::new();
    let group = hand.id;
    if hand.group.halt.is_some() {
        taps.push(now(Act::Resume { group }));
    }
    if hand.group.claim.is_none() {
        let stations = first_fit(hand);
        let (block, revision) = (hand.group.block, hand.group.revision);
        taps.extend(stations.map(|stations| now(Act::TakeStations { group, block, stations, revision })));
        return taps;
    }
    if hand.group.wipe_down.is_some() {
        taps.push(now(Act::FreeStations { group, block: hand.group.block }));
        return taps;
    }
    under_way(hand, &mut taps);
    coming(hand, me, &mut taps);
    taps
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
        let done = Act::Done { turn: u.turn, reps: None, effort: None };
        taps.push(ExpectedTap { act: done, from: u.starts, client });
    }
}

fn coming(hand: &InHand<'_>, me: CoachId, taps: &mut Vec<ExpectedTap>) {
    let ready = |client: &ClientId| Some((hand.coming(*client)?, hand.next(*client)?));
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
        let free = hand.state.spotted_by(me).is_none();
        let elsewhere = hand.state.at_a_bar(me);
        if needs.iter().all(|need| *need == Need::Spotter && free) {
            taps.push(ExpectedTap { act: Act::Go { turn }, from: coming.go_from, client });
        }
        for need in &needs {
            let act = match need {
                Need::TechniquePass => Act::PassTechnique { turn: TurnId { round: 0, ..turn } },
                Need::ConfirmLoad if at_the_bar => Act::ConfirmLoad { turn },
                Need::Spotter if at_the_bar && free && !elsewhere => Act::Spot { turn },
                Need::ConfirmLoad
                | Need::Spotter
                | Need::Stations
                | Need::StationFree
                | Need::Racked
                | Need::Resume => continue,
            };
            taps.push(ExpectedTap { act, from: FloorMs::default(), client });
        }
    }
}
