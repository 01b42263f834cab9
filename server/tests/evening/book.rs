//! What people do where nothing is written down: they go by the book. Without this a script of an evening would
//! be thousands of lines about nothing.

use turnabout_protocol::command::{Act, BarLeft, Effort, Spotter};
use turnabout_protocol::ids::{ClientId, StationId, TurnId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::Need;
use turnabout_server::floor::decide::Speaker;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::state::{GroupNow, State};

use crate::play::Fates;

/// From the end of a set to the tap that says so, and to the GO at the next station.
const TO_TAP: Millis = Millis::secs(2);
const TO_WALK: Millis = Millis::secs(8);
/// Changing plates.
const TO_LOAD: Millis = Millis::secs(15);
/// Wiping down.
const TO_WIPE: Millis = Millis::secs(45);

/// The next thing that somebody of a group does by the book at `now`.
pub(crate) fn next(state: &State, hand: &InHand<'_>, fates: &Fates, now: FloorMs) -> Option<(Speaker, Act)> {
    let group = hand.group;
    if group.clients.values().all(|c| !c.is_here()) {
        return None;
    }
    if let Some(claim) = &group.claim {
        let since = group.wipe_down;
        if since.is_some_and(|since| now.since(since) >= TO_WIPE) {
            let bar = Some(BarLeft::Stripped);
            let free = Act::FreeStations { group: hand.id, block: group.block, bar };
            return Some((kiosk(*claim.stations.first()?), free));
        }
        let clients = &hand.plan.clients;
        let under_way = || clients.iter().find_map(|client| under_way(hand, fates, *client, now));
        let passing = || clients.iter().find_map(|client| passing(hand, *client));
        let coming = || clients.iter().find_map(|client| coming(state, hand, *client, now));
        under_way().or_else(passing).or_else(coming)
    } else if state.place_in_line(hand.id).is_none() {
        let ask = Act::AskStations { group: hand.id, block: group.block, revision: group.revision };
        Some((coach(group), ask))
    } else {
        None
    }
}

fn coach(group: &GroupNow) -> Speaker {
    Speaker { actor: Actor::Coach { coach: group.coach }, stations: Vec::new() }
}

fn kiosk(station: StationId) -> Speaker {
    Speaker { actor: Actor::Station { station }, stations: vec![station] }
}

/// A set that has ended is said to be done, as it was written down or else as it should be.
fn under_way(hand: &InHand<'_>, fates: &Fates, client: ClientId, now: FloorMs) -> Option<(Speaker, Act)> {
    let current = hand.client(client)?.current.filter(|u| now.since(u.ends) >= TO_TAP)?;
    let turn = current.turn;
    let (reps, effort, ending) = fates.get(&turn).copied().unwrap_or_default();
    let usual = Effort::Rir { reps: 4_u8.saturating_sub(turn.round) };
    let effort = effort.or_else(|| (turn.round > 0).then_some(usual));
    Some((kiosk(current.station), Act::Done { turn, reps, effort, ending }))
}

/// The coach has seen the light set.
fn passing(hand: &InHand<'_>, client: ClientId) -> Option<(Speaker, Act)> {
    let next = hand.next(client).filter(|turn| turn.round > 0)?;
    let waits = hand.client(client)?.current.is_none() && !hand.technique_passed(next);
    let light = TurnId { round: 0, ..next };
    waits.then(|| (coach(hand.group), Act::PassTechnique { turn: light }))
}

/// What must be so for the coming set, and GO when it is time.
fn coming(state: &State, hand: &InHand<'_>, client: ClientId, now: FloorMs) -> Option<(Speaker, Act)> {
    let client_now = hand.client(client).filter(|c| c.is_here() && c.current.is_none())?;
    let turn = hand.next(client)?;
    let station = hand.station(turn)?;
    if hand.queue(station).first().is_none_or(|(first, _)| *first != turn) {
        return None;
    }
    let coming = hand.coming(client)?;
    let mut needs = hand.needs(turn);
    // Nobody loads a bar on which somebody else lies, of whichever group.
    if needs.contains(&Need::ConfirmLoad) && !needs.contains(&Need::StationFree) {
        // Where two groups take turns, whoever has just loaded goes first.
        let loaded = state.stations.get(&station).and_then(|s| s.confirmed);
        let theirs = loaded.is_some_and(|loaded| now.since(loaded.when) < TO_LOAD);
        let waits = now.since(coming.go_from) >= Millis::secs(-10) && !theirs;
        return waits.then(|| (kiosk(station), Act::ConfirmLoad { turn }));
    }
    let spots = Spotter::Coach { coach: hand.group.coach };
    let me = hand.group.coach;
    let spotted = needs.contains(&Need::Spotter);
    needs.retain(|need| *need != Need::Spotter);
    let walked = client_now.last_done().is_none_or(|(_, last)| now.since(last.ended) >= TO_WALK);
    let ready = now >= coming.go_from && now + hand.lead(turn) >= coming.ready && walked;
    if !needs.is_empty() || !ready {
        return None;
    }
    if !spotted {
        return Some((kiosk(station), Act::Go { turn }));
    }
    let away = state.coaches.get(&me).is_some_and(|c| c.away.is_some())
        || state.on_call(Actor::Coach { coach: me }).is_some();
    let free = !away && state.spotted_by(spots, now).is_none() && !is_waited_for(state, spots);
    free.then(|| (coach(hand.group), Act::Go { turn }))
}

/// Whether somebody who is next at a station has this spotter at the bar already.
fn is_waited_for(state: &State, spots: Spotter) -> bool {
    let hands = state.groups.keys().filter_map(|group| InHand::of(state, *group));
    hands.flat_map(|hand| hand.group.clients.iter().map(move |(id, client)| (hand, *id, client))).any(
        |(hand, id, client)| {
            let turn = hand.next(id).filter(|_| client.spotter.is_some_and(|at| at.who == spots));
            let station = turn.and_then(|turn| hand.station(turn));
            station.is_some_and(|at| hand.queue(at).first().map(|(first, _)| *first) == turn)
        },
    )
}
