//! Calls from a station.

use turnabout_protocol::command::{CallKind, Spotter};
use turnabout_protocol::ids::{CallId, StationId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;

use super::target::here;
use super::{Speaker, Verdict};
use crate::floor::event::Event;
use crate::floor::state::State;

/// Somebody asks for a coach. A second call of the same kind from the same station is the same call, so
/// there are never more open than two a station.
pub(super) fn call(
    state: &State,
    speaker: &Speaker,
    station: StationId,
    kind: CallKind,
) -> Result<Verdict, Refusal> {
    if !state.floor.stations.contains_key(&station) {
        return Err(Refusal::UnknownStation);
    }
    here(speaker, &[station])?;
    let open = state.calls.values().find(|call| call.station == station && call.kind == kind);
    if let Some(open) = open {
        return Ok(Verdict::Already(open.made));
    }
    let call = CallId(state.last_call + 1);
    Ok(Verdict::Accepted(vec![Event::CallMade { call, station, urgency: kind }]))
}

/// Somebody is on the way. Whoever holds a loaded bar stays there: the set is racked first.
pub(super) fn answer(
    state: &State,
    speaker: &Speaker,
    call: CallId,
    now: FloorMs,
) -> Result<Verdict, Refusal> {
    let open = state.calls.get(&call).ok_or(Refusal::UnknownCall)?;
    if let Some(answered) = open.answered {
        return Ok(Verdict::Already(answered));
    }
    let spots = match speaker.actor {
        Actor::Coach { coach } => state.spotted_by(Spotter::Coach { coach }, now),
        Actor::Assistant { coach } => state.spotted_by(Spotter::Assistant { coach }, now),
        Actor::Station { .. } | Actor::Board | Actor::Manager | Actor::Floor => None,
    };
    match spots {
        Some(turn) => Err(Refusal::SpotterBusy { turn }),
        None => Ok(Verdict::Accepted(vec![Event::CallAnswered { call }])),
    }
}

/// Somebody has taken care of it.
pub(super) fn attend(state: &State, call: CallId) -> Result<Verdict, Refusal> {
    if !state.calls.contains_key(&call) {
        return Err(Refusal::UnknownCall);
    }
    Ok(Verdict::Accepted(vec![Event::CallAttended { call }]))
}
