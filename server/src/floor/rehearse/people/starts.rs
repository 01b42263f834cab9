//! Who begins next at each station, and who is with them.

use std::collections::BTreeMap;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::{Act, Spotter};
use turnabout_protocol::ids::{CoachId, StationId, TurnId};
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::Need;

use super::{Goes, Hands, Moment, Want, cap, coach, kiosk};
use crate::floor::in_hand::InHand;
use crate::floor::promises;
use crate::floor::state::State;
use crate::training::exercise::Exercise;

/// By eye a bar is loaded so long before somebody can go.
const EARLY: Millis = Millis::secs(5);

/// A set that could begin.
struct Start<'h> {
    hand: &'h InHand<'h>,
    turn: TurnId,
    station: StationId,
    needs: Vec<Need>,
    /// Who goes first: whoever was told the earliest start, or by eye whoever is ready first.
    rank: (FloorMs, u8, usize),
    /// From when it can begin, as far as client and station go.
    from: FloorMs,
    /// Who stands by: spots it, or watches a light set.
    coach: Option<CoachId>,
}

/// Loads that are put on, and GO.
pub(super) fn wants(
    state: &State,
    groups: &[InHand<'_>],
    hands: &mut Hands,
    goes: Goes,
    wants: &mut Vec<Want>,
) {
    let planned = goes == Goes::Told;
    let mut first: BTreeMap<StationId, Start<'_>> = BTreeMap::new();
    for hand in groups {
        for (place, client) in hand.plan.clients.iter().enumerate() {
            let stands_back =
                matches!(goes, Goes::Capped(most) if cap::stands_back(groups, hand, *client, most));
            let start = start(hand, (place, *client), hands, planned);
            let Some(start) = start.filter(|_| !stands_back) else { continue };
            if first.get(&start.station).is_none_or(|other| start.rank < other.rank) {
                first.insert(start.station, start);
            }
        }
    }
    let mut by_coach: BTreeMap<CoachId, Want> = BTreeMap::new();
    for start in first.values().filter(|start| !start.needs.contains(&Need::StationFree)) {
        if start.needs.contains(&Need::ConfirmLoad) {
            wants.push(loads(start, hands, planned));
            continue;
        }
        let Some(go) = go(start, hands) else { continue };
        let Some(coach) = start.coach else {
            wants.push(go);
            continue;
        };
        // A coach goes to one bar at a time: to the one where somebody can go first.
        let is_first = by_coach.get(&coach).is_none_or(|other| go.from < other.from);
        if is_free(state, coach) && is_first {
            by_coach.insert(coach, go);
        }
    }
    wants.extend(by_coach.into_values());
}

/// A client's next set, where nothing keeps it but its load, its spotter and whoever is at the station.
fn start<'h>(
    hand: &'h InHand<'h>,
    (place, client): (usize, turnabout_protocol::ids::ClientId),
    hands: &Hands,
    planned: bool,
) -> Option<Start<'h>> {
    hand.client(client).filter(|now| now.is_here() && now.current.is_none())?;
    let turn = hand.next(client)?;
    let station = hand.station(turn)?;
    let needs = hand.needs(turn);
    let can_be_met = |need: &Need| matches!(need, Need::ConfirmLoad | Need::Spotter | Need::StationFree);
    if !needs.iter().all(can_be_met) {
        return None;
    }
    let told = promises::of(hand.state, turn);
    let ready = hand.coming(client)?.go_from.max(hands.client_at(hand.state, client, station));
    let (rank, from) = match (planned, told) {
        (true, told) => (told?.start, ready.max(told?.start)),
        (false, _) => (ready, ready),
    };
    let watched = turn.round == 0 && !hand.technique_passed(turn);
    let spotted = hand.exercise(turn).is_some_and(Exercise::spotted);
    let by = match told.and_then(|told| told.spotter) {
        Some(Spotter::Coach { coach }) if planned => coach,
        Some(_) | None => hand.group.coach,
    };
    let from = from.max(hands.station(station));
    let coach = (watched || spotted).then_some(by);
    Some(Start { hand, turn, station, needs, rank: (rank, turn.round, place), from, coach })
}

/// The load is put on as soon as the station is free; by eye, where nobody knows who comes next, shortly before.
fn loads(start: &Start<'_>, hands: &mut Hands, planned: bool) -> Want {
    let change = hands.change(start.hand, start.turn).millis();
    let free = hands.station(start.station);
    let from = if planned { free } else { free.max(start.from - change - EARLY) };
    let takes = change + hands.moment(Moment::Confirm, start.turn);
    Want { by: kiosk(start.station), act: Act::ConfirmLoad { turn: start.turn }, from, takes }
}

fn go(start: &Start<'_>, hands: &mut Hands) -> Option<Want> {
    let Start { hand, turn, station, .. } = *start;
    let mut from = start.from;
    // A pin is moved when its client is next; what is on a bar has been confirmed.
    if hand.state.floor.stations.get(&station)?.gear.kind() != GearKind::Bar {
        from = from.max(hands.station(station) + hands.change(hand, turn).millis());
    }
    if let Some(coach) = start.coach {
        from = from.max(hands.coach_at(hand.state, coach, station));
    }
    let spotted = start.needs.contains(&Need::Spotter);
    let by = start.coach.filter(|_| spotted).map_or_else(|| kiosk(station), coach);
    let takes = hands.moment(Moment::Go, turn);
    Some(Want { by, act: Act::Go { turn }, from, takes })
}

/// Whether a coach has nothing in hand: spots no bar and watches no light set.
fn is_free(state: &State, coach: CoachId) -> bool {
    !state.under_way().any(|set| super::super::hands::bound(state, set) == Some(coach))
}
