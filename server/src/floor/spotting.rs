//! Who may stand at a bar, and whether they are free to.

use turnabout_protocol::command::Spotter;
use turnabout_protocol::ids::{ClientId, CoachId, TurnId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;

use super::in_hand::InHand;
use super::state::{GroupNow, State};

/// Lift-off alone leaves the lifter without help at the end: only where at least so many repetitions are
/// prescribed to stay in reserve. Common practice, no source.
pub const LIFT_OFF_RESERVE: u8 = 3;

/// Whether somebody may spot a set now.
///
/// # Errors
/// What keeps them from it.
pub fn may_spot(
    state: &State,
    hand: &InHand<'_>,
    turn: TurnId,
    who: Spotter,
    now: FloorMs,
) -> Result<(), Refusal> {
    match who {
        Spotter::Coach { coach } => {
            if let Some(away) = state.coaches.get(&coach).and_then(|c| c.away) {
                return Err(Refusal::CoachAway { coach, until: away.until });
            }
            not_on_call(state, Actor::Coach { coach })?;
            not_at(state, who, turn, now)
        }
        Spotter::Assistant { coach } => {
            not_on_call(state, Actor::Assistant { coach })?;
            not_at(state, who, turn, now)
        }
        Spotter::Client { client } => a_client(state, hand, turn, client, now),
        Spotter::Arms => arms(state, hand, turn),
    }
}

/// The clients of a group who may spot a coming set of it now, in the group's order; of those who are stopped
/// alone none, for they are to do nothing.
pub fn partners<'h>(hand: &'h InHand<'_>, turn: TurnId) -> impl Iterator<Item = ClientId> + 'h {
    // A client is never named for the lift-off alone, so that time plays no part.
    let free = move |client: ClientId| a_client(hand.state, hand, turn, client, FloorMs::default()).is_ok();
    let stopped = |client: ClientId| hand.client(client).is_some_and(|c| c.halt.is_some());
    hand.plan.clients.iter().copied().filter(move |client| free(*client) && !stopped(*client))
}

/// A coach who spots nothing at the moment.
///
/// # Errors
/// The set that is being spotted.
pub fn free_of_bars(state: &State, coach: CoachId, now: FloorMs) -> Result<(), Refusal> {
    let turn = state.spotted_by(Spotter::Coach { coach }, now);
    turn.map_or(Ok(()), |turn| Err(Refusal::SpotterBusy { turn }))
}

/// Whether it is within a coach's hours; whoever has none is always there.
#[must_use]
pub fn on_shift(state: &State, coach: CoachId, now: FloorMs) -> bool {
    let shift = state.floor.coaches.get(&coach).and_then(|c| c.shift);
    let minute = state.clock.local(now).minute;
    shift.is_none_or(|shift| shift.from <= minute && minute < shift.to)
}

/// A client of a group who spots no bar.
///
/// # Errors
/// The set that the client spots.
pub fn spots_nobody(state: &State, client: ClientId, now: FloorMs) -> Result<(), Refusal> {
    let turn = state.spotted_by(Spotter::Client { client }, now);
    turn.map_or(Ok(()), |turn| Err(Refusal::ClientSpots { turn }))
}

/// The set that a client stands at and that has not begun.
#[must_use]
pub fn stands_at(group: &GroupNow, client: ClientId) -> Option<ClientId> {
    let at = |c: &super::state::ClientNow| c.spotter.is_some_and(|s| s.who == Spotter::Client { client });
    group.clients.iter().find(|(_, c)| at(c)).map(|(id, _)| *id)
}

fn not_on_call(state: &State, who: Actor) -> Result<(), Refusal> {
    state.on_call(who).map_or(Ok(()), |call| Err(Refusal::OnCall { call }))
}

fn not_at(state: &State, who: Spotter, turn: TurnId, now: FloorMs) -> Result<(), Refusal> {
    match state.spotted_by(who, now).filter(|other| *other != turn) {
        Some(turn) => Err(Refusal::SpotterBusy { turn }),
        None => Ok(()),
    }
}

fn a_client(
    state: &State,
    hand: &InHand<'_>,
    turn: TurnId,
    client: ClientId,
    now: FloorMs,
) -> Result<(), Refusal> {
    let spotter = hand.client(client).ok_or(Refusal::UnknownClient)?;
    let exercise = hand.exercise(turn).ok_or(Refusal::UnknownExercise)?.id;
    if client == turn.client || !spotter.spots.contains_key(&exercise) {
        return Err(Refusal::SpotterNotPassed { client });
    }
    if !spotter.is_here() {
        return Err(Refusal::ClientAbsent { client });
    }
    if spotter.current.is_some() {
        return Err(Refusal::SpotterLifts { client });
    }
    not_at(state, Spotter::Client { client }, turn, now)
}

fn arms(state: &State, hand: &InHand<'_>, turn: TurnId) -> Result<(), Refusal> {
    let has = hand.station_now(turn).is_some_and(|(station, _)| station.arms);
    if has && state.floor.policy.arms_accepted { Ok(()) } else { Err(Refusal::ArmsNotAccepted) }
}
