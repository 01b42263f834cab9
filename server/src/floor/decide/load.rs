//! Confirming a load, and making it lighter.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::TurnId;
use turnabout_protocol::refusal::Refusal;

use super::start::not_begun;
use super::target;
use super::{Speaker, Verdict};
use crate::floor::event::Event;
use crate::floor::state::State;

/// Load as on the card, the same on both sides, collars on.
pub(super) fn confirm(state: &State, speaker: &Speaker, turn: TurnId) -> Result<Verdict, Refusal> {
    let target = target::turn(state, speaker, turn)?;
    not_begun(&target, turn)?;
    let card = target.hand.card(turn).filter(|card| card.gear == GearKind::Bar);
    let card = card.ok_or(Refusal::NothingToConfirm)?;
    let now = state.stations.get(&target.station).ok_or(Refusal::UnknownStation)?;
    let station = target.station;
    // Whoever uses or mends it may still change what is on it.
    if let Some(out) = now.out {
        return Err(Refusal::NotInService { station, defect: out.defect });
    }
    if let Some(other) = now.other_use {
        return Err(Refusal::InOtherUse { station, until: other.until });
    }
    // Nobody changes plates under a lifter.
    if let Some(on) = now.on {
        return Err(Refusal::StationBusy { station, turn: on });
    }
    if let Some(confirmed) = now.confirmed.filter(|_| card.confirmed) {
        return Ok(Verdict::Already(confirmed));
    }
    let event = Event::LoadConfirmed { turn, station, load: card.total };
    Ok(Verdict::Accepted(vec![event]))
}

/// One step lighter from this set on. Always the client's right.
pub(super) fn lighter(
    state: &State,
    speaker: &Speaker,
    turn: TurnId,
    revision: u32,
) -> Result<Verdict, Refusal> {
    let target = target::turn(state, speaker, turn)?;
    not_begun(&target, turn)?;
    if target.hand.group.revision != revision {
        return Err(Refusal::StaleRevision { revision: target.hand.group.revision });
    }
    let load = target.hand.load(turn).ok_or(Refusal::NoLoad)?;
    let (station, _) = target.hand.station_now(turn).ok_or(Refusal::UnknownStation)?;
    let load = station.gear.lighter_than(load).ok_or(Refusal::AtLightest { load })?;
    Ok(Verdict::Accepted(vec![Event::LoadLightened { turn, load }]))
}
