//! What people are told of the next minute, and when that may change.
//!
//! A plan changes with every tap; what people have been told must not. A promise is made of a client's next set once it
//! is to start within [`AHEAD`]: where, by whom it is spotted, and about when. Once it is to start within [`FIRM`] it is
//! told to the second, and from then on it is never called earlier, and later only by [`MOVES_BY`] or more. It ends when
//! the set begins, is left out, or cannot be: then it is simply gone from the state, with the entry that made it so.
//!
//! Why not to the second a minute ahead: such a start hangs on one or two sets that are yet to be done, and sets take a
//! tenth more or less than expected. Every fifth start told so early moved, and to hold people to the others left
//! stations empty that had become free; see "what is told" in `tests/benches/README.md`.

use turnabout_protocol::command::Spotter;
use turnabout_protocol::ids::{ClientId, TurnId};
use turnabout_protocol::units::{FloorMs, Secs};

use super::event::Event;
use super::in_hand::InHand;
use super::outlook::{Outlook, because};
use super::state::{ClientNow, Promise, State};
use crate::timetable::answer::Timetable;
use crate::timetable::instance::{At, Turn};

/// Sets that start within this are promised.
pub const AHEAD: Secs = Secs(60);
/// A start that was told moves by this or more, or not at all: nobody acts on less.
pub const MOVES_BY: Secs = Secs(5);
/// Sets that start within this are told to the second.
pub const FIRM: Secs = Secs(15);

/// Whether what was told of a set may become another start at `now`. What was told about only may become any that is
/// [`MOVES_BY`] off, and the very one that is planned once that is to be told to the second.
#[must_use]
pub fn may_move(told: &Promise, to: FloorMs, now: FloorMs) -> bool {
    let by = to.since(told.start);
    if told.about {
        return to <= now + FIRM || by.0.abs() >= MOVES_BY.millis().0;
    }
    // Whoever waits for a set that lasts too long goes as soon as that is over, and needs no other number until then.
    let waits_there = told.start <= now && to <= now + FIRM;
    by >= MOVES_BY.millis() && !waits_there
}

/// What a timetable made of an outlook at `now` changes of what people have been told; nothing where nothing changes.
#[must_use]
pub fn revise(state: &State, outlook: &Outlook, timetable: &Timetable, now: FloorMs) -> Option<Event> {
    let starts = because::Starts::of(outlook, timetable);
    let planned: Vec<Promise> =
        starts.next().filter_map(|next| wanted((state, now), outlook, &starts, next)).collect();
    let told = |turn: TurnId| state.promises.iter().find(|promise| promise.turn == turn);
    let mut made = Vec::new();
    for promise in &planned {
        match told(promise.turn) {
            Some(told) => made.extend(kept(*told, *promise, now)),
            None if promise.start <= now + AHEAD => made.push(*promise),
            None => {}
        }
    }
    let gone = |told: &&Promise| !planned.iter().any(|promise| promise.turn == told.turn);
    let taken_back: Vec<TurnId> = state.promises.iter().filter(gone).map(|told| told.turn).collect();
    (!made.is_empty() || !taken_back.is_empty()).then_some(Event::Promised { made, taken_back })
}

/// What becomes of a promise: another one where its start may move, or place or spotter are others.
fn kept(told: Promise, planned: Promise, now: FloorMs) -> Option<Promise> {
    let promise = if may_move(&told, planned.start, now) {
        planned
    } else {
        // What keeps somebody whose start has come is news; until then the reason belongs to the start.
        let reason = if told.start <= now { planned.reason } else { told.reason };
        Promise { start: told.start, about: told.about, reason, ..planned }
    };
    (promise != told).then_some(promise)
}

/// What would be told of a client's next set now, if it can be.
fn wanted(
    (state, now): (&State, FloorMs),
    outlook: &Outlook,
    starts: &because::Starts<'_>,
    (place, turn, start): (super::outlook::TurnPlace, TurnId, At),
) -> Option<Promise> {
    let hand = InHand::of(state, turn.group)?;
    let station = hand.station(turn)?;
    let group = outlook.instance.groups.get(place.group)?;
    let round = group.members.get(place.member)?.rounds.get(place.round)?;
    let planned: &Turn = round.legs.get(place.leg)?.as_ref()?;
    let coach = || outlook.who.coaches().get(round.coach.unwrap_or(group.coach)).copied();
    let named = hand.client(turn.client)?.spotter.map(|at| at.who);
    let spots = planned.spot.and_then(|_| Some(Spotter::Coach { coach: coach()? }));
    let promise = Promise {
        turn,
        station,
        spotter: named.or(spots),
        start: outlook.who.instant(start),
        about: outlook.who.instant(start) > now + FIRM,
        reason: starts.reason(place, start),
    };
    stands(state, &promise).then_some(promise)
}

/// Whether a promise can be: its set is the client's next, at that station, and nothing holds group or client. That
/// somebody of the public is at the station moves it and does not end it.
#[must_use]
pub fn stands(state: &State, promise: &Promise) -> bool {
    let Some(hand) = InHand::of(state, promise.turn.group) else { return false };
    let free = |client: &ClientNow| client.is_here() && client.halt.is_none();
    let goes_on = hand.group.halt.is_none() && hand.client(promise.turn.client).is_some_and(free);
    let in_service = state.stations.get(&promise.station).is_some_and(|station| station.out.is_none());
    goes_on
        && in_service
        && hand.next(promise.turn.client) == Some(promise.turn)
        && hand.station(promise.turn) == Some(promise.station)
}

/// Takes promises into the state; of each client the newest.
pub(super) fn promised(state: &mut State, made: &[Promise], taken_back: &[TurnId]) {
    state.promises.retain(|told| !taken_back.contains(&told.turn));
    for promise in made {
        let client = |told: &Promise| (told.turn.group, told.turn.client);
        state.promises.retain(|told| client(told) != client(promise));
        state.promises.push(*promise);
    }
    state.promises.sort_by_key(|told| told.turn);
}

/// Promises that cannot be any more are gone.
pub(super) fn settle(state: &mut State) {
    if state.promises.is_empty() {
        return;
    }
    let mut promises = std::mem::take(&mut state.promises);
    promises.retain(|told| stands(state, told));
    state.promises = promises;
}

/// What has been told of a client's coming set.
#[must_use]
pub fn of(state: &State, turn: TurnId) -> Option<&Promise> {
    state.promises.iter().find(|promise| promise.turn == turn)
}

/// The first client for whom there is a promise that cannot be, or a second one.
pub(super) fn broken(state: &State) -> Option<ClientId> {
    let twice = |pair: &&[Promise]| {
        let of = |promise: &Promise| (promise.turn.group, promise.turn.client);
        of(&pair[0]) >= of(&pair[1])
    };
    let twice = state.promises.windows(2).find(twice).map(|pair| pair[1].turn.client);
    let cannot = || state.promises.iter().find(|promise| !stands(state, promise));
    twice.or_else(|| Some(cannot()?.turn.client))
}
