//! What people may tap in a state, by what it is about.
//!
//! Proposing more than the core accepts is welcome: a tap that is refused leads nowhere and only costs time,
//! one that is accepted where it should not be leads to a flaw.

use turnabout_protocol::command::{Act, CallKind, Effort, Reason, Scope};
use turnabout_protocol::ids::{ClientId, CoachId, GroupId, StationId, TurnId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use turnabout_server::floor::admission::is_free;
use turnabout_server::floor::decide::{Speaker, Tap};
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::state::State;
use turnabout_server::training::block::Block;
use turnabout_server::training::exercise::Exercise;

use crate::floor::{BENCHES, COACHES, PRESS, ROWS};

/// Who taps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Who {
    Coach(CoachId),
    Kiosk(StationId),
}

/// One tap that somebody may make now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Ask {
    pub(crate) who: Who,
    pub(crate) act: Act,
}

impl Ask {
    /// The tap as it reaches the floor, at once.
    pub(crate) fn tap(&self, now: FloorMs) -> Tap {
        let speaker = match self.who {
            Who::Coach(coach) => Speaker { actor: Actor::Coach { coach }, stations: Vec::new() },
            Who::Kiosk(station) => Speaker { actor: Actor::Station { station }, stations: vec![station] },
        };
        Tap { speaker, at: now, act: self.act.clone() }
    }
}

/// A client with what there is to do.
#[derive(Clone, Copy)]
pub(crate) struct Doing<'s> {
    pub(crate) hand: InHand<'s>,
    pub(crate) client: ClientId,
    pub(crate) current: Option<TurnId>,
    pub(crate) next: Option<TurnId>,
    pub(crate) last: Option<TurnId>,
}

pub(crate) fn ask(asks: &mut Vec<Ask>, who: Who, act: Act) {
    asks.push(Ask { who, act });
}

/// The coach of all taps for which it does not matter which coach makes them.
pub(crate) const fn first_coach() -> Who {
    Who::Coach(COACHES[0])
}

pub(crate) fn each_group(
    state: &State,
    asks: &mut Vec<Ask>,
    mut of: impl FnMut(GroupId, InHand<'_>, &mut Vec<Ask>),
) {
    for id in state.groups.keys() {
        if let Some(hand) = InHand::of(state, *id) {
            of(*id, hand, asks);
        }
    }
}

pub(crate) fn each_waiting(
    state: &State,
    asks: &mut Vec<Ask>,
    mut of: impl FnMut(InHand<'_>, &mut Vec<Ask>),
) {
    each_group(state, asks, |_, hand, asks| {
        if hand.group.claim.is_none() {
            of(hand, asks);
        }
    });
}

pub(crate) fn each_client(state: &State, asks: &mut Vec<Ask>, mut of: impl FnMut(Doing<'_>, &mut Vec<Ask>)) {
    each_group(state, asks, |_, hand, asks| {
        for (client, now) in &hand.group.clients {
            let last = now.sets.len().checked_sub(1).and_then(|place| hand.turn(*client, place));
            let current = now.current.map(|u| u.turn);
            of(Doing { hand, client: *client, current, next: hand.next(*client), last }, asks);
        }
    });
}

/// A tap at the display of the station where a set is done.
pub(crate) fn at_station(
    doing: Doing<'_>,
    turn: Option<TurnId>,
    asks: &mut Vec<Ask>,
    act: impl Fn(TurnId) -> Act,
) {
    let Some(turn) = turn else { return };
    if let Some(station) = doing.hand.station(turn) {
        ask(asks, Who::Kiosk(station), act(turn));
    }
}

pub(crate) fn come(group: GroupId, hand: InHand<'_>, asks: &mut Vec<Ask>) {
    for (client, _) in hand.group.clients.iter().filter(|(_, now)| !now.is_here()) {
        ask(asks, first_coach(), Act::Arrive { group, clients: vec![*client] });
    }
}

/// Of stations that are free the first: the benches are alike, and so are the rows. And every one that is
/// not.
pub(crate) fn take(
    hand: InHand<'_>,
    (block, legs): (u8, &Block),
    despite: Option<Reason>,
    asks: &mut Vec<Ask>,
) {
    let mut takes = vec![Vec::new()];
    for leg in &legs.legs {
        let there = &hand.state.floor.exercises[&leg.exercise].stations;
        let free = |station: &&StationId| is_free(hand.state, **station);
        let taken = there.iter().filter(|station| !free(station));
        let stations: Vec<_> = taken.chain(there.iter().find(free)).copied().collect();
        let with = |station| takes.iter().map(move |some: &Vec<_>| [some.as_slice(), &[station]].concat());
        takes = stations.into_iter().flat_map(with).collect();
    }
    let (group, revision) = (hand.id, hand.group.revision);
    for stations in takes {
        ask(asks, first_coach(), Act::TakeStations { group, block, stations, revision, despite });
    }
}

pub(crate) fn take_now(hand: InHand<'_>, despite: Option<Reason>, asks: &mut Vec<Ask>) {
    take(hand, (hand.group.block, hand.block), despite, asks);
}

pub(crate) fn stand_in_line(hand: InHand<'_>, asks: &mut Vec<Ask>) {
    let (group, block, revision) = (hand.id, hand.group.block, hand.group.revision);
    ask(asks, first_coach(), Act::AskStations { group, block, revision });
}

pub(crate) fn withdraw(group: GroupId, _: InHand<'_>, asks: &mut Vec<Ask>) {
    ask(asks, first_coach(), Act::WithdrawAsk { group });
}

pub(crate) fn still_here(group: GroupId, _: InHand<'_>, asks: &mut Vec<Ask>) {
    ask(asks, first_coach(), Act::StillHere { group });
}

pub(crate) fn public(asks: &mut Vec<Ask>) {
    let station = ROWS[0];
    ask(asks, Who::Kiosk(station), Act::OtherUse { station, minutes: 1 });
    ask(asks, Who::Kiosk(station), Act::EndOtherUse { station });
}

pub(crate) const fn confirm(turn: TurnId) -> Act {
    Act::ConfirmLoad { turn }
}

pub(crate) const fn done(turn: TurnId) -> Act {
    Act::Done { turn, reps: None, effort: None, ending: None }
}

pub(crate) fn spot(doing: Doing<'_>, asks: &mut Vec<Ask>) {
    let Some(turn) = doing.next.filter(|turn| doing.hand.exercise(*turn).is_some_and(Exercise::spotted))
    else {
        return;
    };
    for coach in COACHES {
        ask(asks, Who::Coach(coach), Act::Spot { turn, lift_off: false });
    }
}

/// By anybody of the group, passed or not, after a coach has passed them.
pub(crate) fn spot_by(doing: Doing<'_>, asks: &mut Vec<Ask>) {
    ask(
        asks,
        first_coach(),
        Act::PassSpotter { group: doing.hand.id, client: doing.client, exercise: PRESS },
    );
    for client in doing.hand.group.clients.keys() {
        at_station(doing, doing.next, asks, |turn| Act::SpotBy { turn, client: *client });
    }
}

/// By the client; where a spotter is wanted, by each coach too, who spots then.
pub(crate) fn go(doing: Doing<'_>, asks: &mut Vec<Ask>) {
    at_station(doing, doing.next, asks, |turn| Act::Go { turn });
    let Some(turn) = doing.next.filter(|turn| doing.hand.exercise(*turn).is_some_and(Exercise::spotted))
    else {
        return;
    };
    for coach in COACHES {
        ask(asks, Who::Coach(coach), Act::Go { turn });
    }
}

/// Any technique set that is not passed, done or not.
pub(crate) fn pass(doing: Doing<'_>, asks: &mut Vec<Ask>) {
    let technique = (0..doing.hand.block.legs.len()).filter_map(|leg| doing.hand.turn(doing.client, leg));
    for turn in technique.filter(|turn| !doing.hand.technique_passed(*turn)) {
        ask(asks, first_coach(), Act::PassTechnique { turn });
    }
}

pub(crate) fn free(group: GroupId, hand: InHand<'_>, asks: &mut Vec<Ask>) {
    if let Some(station) = hand.group.claim.as_ref().and_then(|claim| claim.stations.first()) {
        ask(asks, Who::Kiosk(*station), Act::FreeStations { group, block: hand.group.block, bar: None });
    }
}

pub(crate) fn pause(group: GroupId, _: InHand<'_>, asks: &mut Vec<Ask>) {
    ask(asks, first_coach(), Act::Pause { group });
}

pub(crate) fn each_halted(state: &State, asks: &mut Vec<Ask>) {
    for (group, now) in &state.groups {
        let alone = now.clients.iter().filter(|(_, now)| now.halt.is_some()).map(|(client, _)| Some(*client));
        for client in now.halt.map(|_| None).into_iter().chain(alone) {
            ask(asks, first_coach(), Act::Resume { group: *group, client });
        }
    }
}

pub(crate) fn stop(state: &State, asks: &mut Vec<Ask>) {
    each_group(state, asks, |group, hand, asks| {
        ask(asks, first_coach(), Act::Stop { scope: Scope::Group { group } });
        // Of more than one; alone in a group is the same as the group.
        for client in hand.group.clients.keys().skip(1) {
            ask(asks, first_coach(), Act::Stop { scope: Scope::Client { group, client: *client } });
        }
    });
    ask(asks, first_coach(), Act::Stop { scope: Scope::Floor });
}

pub(crate) fn not_yet(doing: Doing<'_>, asks: &mut Vec<Ask>) {
    at_station(doing, doing.current, asks, |turn| Act::NotYet { turn });
    at_station(doing, doing.next, asks, |turn| Act::NotYet { turn });
}

pub(crate) fn lighter(doing: Doing<'_>, asks: &mut Vec<Ask>) {
    let revision = doing.hand.group.revision;
    at_station(doing, doing.next, asks, |turn| Act::Lighter { turn, revision });
}

/// One station calls: what one more would add has nothing to do with the rest of the floor.
pub(crate) fn calls(state: &State, asks: &mut Vec<Ask>) {
    let station = BENCHES[0];
    ask(asks, Who::Kiosk(station), Act::Call { station, call: CallKind::HelpNow });
    for call in state.calls.keys() {
        ask(asks, first_coach(), Act::Attend { call: *call });
    }
}

pub(crate) fn said(doing: Doing<'_>, asks: &mut Vec<Ask>) {
    at_station(doing, doing.last, asks, |turn| Act::Effort { turn, effort: Effort::Right });
    at_station(doing, doing.last, asks, |turn| Act::Reps { turn, reps: 0 });
}

/// Taps that a display with an old picture, or none, could send.
pub(crate) fn wrong(state: &State, asks: &mut Vec<Ask>) {
    each_waiting(state, asks, |hand, asks| {
        let (group, block, revision) = (hand.id, hand.group.block, hand.group.revision);
        let despite = None;
        for stations in [vec![BENCHES[0]], vec![BENCHES[0], BENCHES[0]], vec![ROWS[0], BENCHES[0]]] {
            if stations.len() != hand.block.legs.len() || stations.len() > 1 {
                ask(asks, first_coach(), Act::TakeStations { group, block, stations, revision, despite });
            }
        }
        let stations = BENCHES[..1].to_vec();
        ask(
            asks,
            first_coach(),
            Act::TakeStations { group, block, stations, revision: revision + 1, despite },
        );
    });
    each_client(state, asks, |doing, asks| {
        let now = doing.hand.group.clients[&doing.client].sets.len();
        for turn in [now + 1, now + 2].into_iter().filter_map(|place| doing.hand.turn(doing.client, place)) {
            ask(asks, first_coach(), Act::Go { turn });
            ask(asks, first_coach(), done(turn));
            ask(asks, first_coach(), Act::PassTechnique { turn });
        }
        // At a display that does not serve the set.
        let elsewhere =
            BENCHES.into_iter().find(|s| doing.next.and_then(|t| doing.hand.station(t)) != Some(*s));
        if let (Some(turn), Some(station)) = (doing.next, elsewhere) {
            ask(asks, Who::Kiosk(station), Act::Go { turn });
        }
    });
    each_group(state, asks, |group, hand, asks| {
        ask(asks, first_coach(), Act::FreeStations { group, block: hand.group.block + 1, bar: None });
        ask(asks, Who::Kiosk(BENCHES[0]), Act::Pause { group });
    });
}
