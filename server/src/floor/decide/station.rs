//! Stations that others use or nobody may, and how a station is set for a client.

use turnabout_protocol::command::Defect;
use turnabout_protocol::ids::{ClientId, StationId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::{FloorMs, Millis};

use super::target::here;
use super::{Speaker, Verdict};
use crate::floor::config::limits::MINUTES;
use crate::floor::event::Event;
use crate::floor::state::{State, StationNow};

/// Somebody of the public is on the station: whoever has reserved it waits, goes elsewhere, or rests.
pub(super) fn other_use(
    state: &State,
    speaker: &Speaker,
    station: StationId,
    minutes: u8,
    now: FloorMs,
) -> Result<Verdict, Refusal> {
    let station_now = find(state, station)?;
    here(speaker, &[station])?;
    if !(1..=MINUTES).contains(&minutes) {
        return Err(Refusal::MinutesRange { most: MINUTES });
    }
    if let Some(turn) = station_now.on {
        return Err(Refusal::StationBusy { station, turn });
    }
    if let Some(out) = station_now.out {
        return Err(Refusal::NotInService { station, defect: out.defect });
    }
    let until = now + Millis::secs(i64::from(minutes) * 60);
    Ok(Verdict::Accepted(vec![Event::OtherUseBegan { station, until }]))
}

pub(super) fn end_other_use(
    state: &State,
    speaker: &Speaker,
    station: StationId,
) -> Result<Verdict, Refusal> {
    let station_now = find(state, station)?;
    here(speaker, &[station])?;
    station_now.other_use.ok_or(Refusal::NoOtherUse)?;
    Ok(Verdict::Accepted(vec![Event::OtherUseEnded { station }]))
}

/// Nobody starts there any more. A set that is under way is ended as its client and spotter see fit.
pub(super) fn out_of_service(state: &State, station: StationId, defect: Defect) -> Result<Verdict, Refusal> {
    let station_now = find(state, station)?;
    if let Some(out) = station_now.out.filter(|out| out.defect == defect) {
        return Ok(Verdict::Already(out.said));
    }
    Ok(Verdict::Accepted(vec![Event::TakenOutOfService { station, defect }]))
}

pub(super) fn back_in_service(state: &State, station: StationId) -> Result<Verdict, Refusal> {
    let station_now = find(state, station)?;
    station_now.out.ok_or(Refusal::InService)?;
    // Whoever was on it when it broke racks first: the bar is confirmed anew after it was mended.
    if let Some(turn) = station_now.on {
        return Err(Refusal::StationBusy { station, turn });
    }
    Ok(Verdict::Accepted(vec![Event::PutBackInService { station }]))
}

/// How a station is set for a client, by the places of setting and value in the floor file's lists.
pub(super) fn set(
    state: &State,
    speaker: &Speaker,
    (station, client): (StationId, ClientId),
    setting: u8,
    value: u8,
) -> Result<Verdict, Refusal> {
    find(state, station)?;
    here(speaker, &[station])?;
    if !state.programme.clients.contains_key(&client) {
        return Err(Refusal::UnknownClient);
    }
    let settings = state.floor.stations.get(&station).map(|s| s.settings.as_slice()).unwrap_or_default();
    let values = settings.get(usize::from(setting)).map(|setting| setting.values.len());
    if values.is_none_or(|values| usize::from(value) >= values) {
        return Err(Refusal::UnknownSetting);
    }
    let value = Some(value);
    Ok(Verdict::Accepted(vec![Event::SettingKept { station, client, setting, value }]))
}

fn find(state: &State, station: StationId) -> Result<&StationNow, Refusal> {
    state.stations.get(&station).ok_or(Refusal::UnknownStation)
}
