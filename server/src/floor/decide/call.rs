//! Calls from a station.

use turnabout_protocol::command::CallKind;
use turnabout_protocol::ids::{CallId, StationId};
use turnabout_protocol::refusal::Refusal;

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

/// Somebody has taken care of it.
pub(super) fn attend(state: &State, call: CallId) -> Result<Verdict, Refusal> {
    if !state.calls.contains_key(&call) {
        return Err(Refusal::UnknownCall);
    }
    Ok(Verdict::Accepted(vec![Event::CallAttended { call }]))
}
