//! Pairs of a rack that several stations share: which of them are out, and where.
//!
//! A client takes a pair with GO at a station of the rack, and has it there between sets. It is back when the client
//! goes with another load there, has left, or when the group gives the station back or ends its block. Nobody says so
//! by a tap of its own; a pair that was really put back earlier is shown as taken until then.

use std::borrow::Cow;
use std::collections::BTreeSet;

use turnabout_protocol::card::UnbuiltPart;
use turnabout_protocol::ids::{Key, StationId};
use turnabout_protocol::load::Load;
use turnabout_protocol::units::Mass;

use super::config::Floor;
use super::state::{ClientNow, SetOver, State, StationNow};
use crate::loading::gear::{Dumbbells, Gear};

/// The dumbbells of a station, where it shares a rack with others.
fn shared(floor: &Floor, station: StationId) -> Option<(&Dumbbells, &Key)> {
    match &floor.stations.get(&station)?.gear {
        Gear::Dumbbells(dumbbells) => Some((dumbbells, dumbbells.rack.as_ref()?)),
        Gear::Bar(_) | Gear::Stack(_) | Gear::Numbered(_) | Gear::Belt(_) | Gear::Plain => None,
    }
}

/// The name of the rack that a station shares with others.
#[must_use]
pub fn rack_name(floor: &Floor, station: StationId) -> Option<&str> {
    let (_, rack) = shared(floor, station)?;
    Some(&floor.racks.get(rack)?.name)
}

/// The pairs that a station's own clients have taken. One pair of a mass does for all of them: a station has one set
/// at a time.
fn taken_at(state: &State, station: StationId) -> BTreeSet<Mass> {
    let groups = state.stations.get(&station).into_iter().flat_map(StationNow::groups);
    let clients = groups.filter_map(|id| state.groups.get(&id)).flat_map(|group| group.clients.values());
    clients.filter_map(|client| taken_by(client, station)).collect()
}

/// The load of a client's latest set of the block at a station, under way or done, as it was at GO.
fn taken_by(client: &ClientNow, station: StationId) -> Option<Mass> {
    if let Some(current) = client.current.filter(|current| current.station == station) {
        return current.load.and_then(Load::mass);
    }
    let beside = client.again.iter().map(|(_, record)| record);
    let done = client.sets.iter().filter_map(SetOver::done).chain(beside);
    let here = done.filter(|record| client.is_here() && record.station == station);
    here.max_by_key(|record| record.started)?.load.at_first()?.mass()
}

/// The other stations of a station's rack with the pairs that are there.
fn elsewhere(state: &State, station: StationId) -> Vec<(StationId, BTreeSet<Mass>)> {
    let Some((_, rack)) = shared(&state.floor, station) else { return Vec::new() };
    let others = state.floor.stations.keys().filter(|id| **id != station);
    let others = others.filter(|id| shared(&state.floor, **id).is_some_and(|(_, other)| other == rack));
    others.map(|id| (*id, taken_at(state, *id))).collect()
}

/// What a station can take from its rack now; nothing where it shares none. Its own pairs are its own, even where
/// somebody who took back a tap has made it look as if there were more of them than there are.
#[must_use]
pub fn free(state: &State, station: StationId) -> Option<Cow<'_, Dumbbells>> {
    let (dumbbells, _) = shared(&state.floor, station)?;
    let own = taken_at(state, station);
    let others = elsewhere(state, station).into_iter().flat_map(|(_, taken)| taken);
    let gone: Vec<Mass> = others.filter(|mass| !own.contains(mass)).collect();
    Some(if gone.is_empty() { Cow::Borrowed(dumbbells) } else { Cow::Owned(dumbbells.without(&gone)) })
}

/// Where the pairs of a load are, if a station cannot take one now because all of them are out.
#[must_use]
pub fn out(state: &State, station: StationId, load: Mass) -> Vec<StationId> {
    let Some(free) = free(state, station) else { return Vec::new() };
    if free.pairs.iter().any(|pairs| pairs.mass == load) {
        return Vec::new();
    }
    let holds = elsewhere(state, station).into_iter().filter(|(_, taken)| taken.contains(&load));
    holds.map(|(id, _)| id).collect()
}

/// The same for displays: the names of these stations and the nearest pairs that are free; nothing where one is free.
#[must_use]
pub fn unbuilt(state: &State, station: StationId, load: Mass) -> Option<UnbuiltPart> {
    let at = out(state, station, load);
    let free = free(state, station).filter(|_| !at.is_empty())?;
    let masses = || free.pairs.iter().map(|pairs| pairs.mass);
    let name = |id: StationId| state.floor.stations.get(&id).map(|station| station.name.clone());
    Some(UnbuiltPart {
        below: masses().rfind(|mass| *mass < load),
        above: masses().find(|mass| *mass > load),
        at: at.into_iter().filter_map(name).collect(),
    })
}
