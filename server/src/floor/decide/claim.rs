//! Taking the stations of a block, all or none, and giving them back.

use turnabout_protocol::ids::{GroupId, StationId};
use turnabout_protocol::refusal::Refusal;

use super::target::{self, here};
use super::{Speaker, Verdict};
use crate::floor::event::Event;
use crate::floor::in_hand::InHand;
use crate::floor::state::State;
use crate::training::block::Leg;

pub(super) fn take(
    state: &State,
    id: GroupId,
    block: u8,
    stations: &[StationId],
    revision: u32,
) -> Result<Verdict, Refusal> {
    let group = target::group(state, id)?;
    let same = group.claim.as_ref().filter(|c| group.block == block && c.stations == stations);
    if let Some(claim) = same {
        return Ok(Verdict::Already(claim.taken));
    }
    let hand = InHand::of(state, id).ok_or(Refusal::NotWaiting)?;
    if group.claim.is_some() || group.block != block {
        return Err(Refusal::NotWaiting);
    }
    if group.revision != revision {
        return Err(Refusal::StaleRevision { revision: group.revision });
    }
    let legs = &hand.block.legs;
    if stations.len() != legs.len() {
        return Err(Refusal::StationCount { wanted: u8::try_from(legs.len()).unwrap_or(u8::MAX) });
    }
    for (leg, station) in legs.iter().zip(stations) {
        let now = state.stations.get(station).ok_or(Refusal::UnknownStation)?;
        if !suits(state, leg, *station) {
            return Err(Refusal::StationUnfit { station: *station });
        }
        if let Some(group) = now.claim {
            return Err(Refusal::StationTaken { station: *station, group });
        }
    }
    let stations = stations.to_vec();
    Ok(Verdict::Accepted(vec![Event::StationsTaken { group: id, block, stations }]))
}

/// Whether this exercise can be done there, by every client of the group with exactly the loads prescribed.
fn suits(state: &State, leg: &Leg, station: StationId) -> bool {
    let exercise = state.floor.exercises.get(&leg.exercise);
    let there = exercise.is_some_and(|exercise| exercise.stations.contains(&station));
    let gear = state.floor.stations.get(&station).map(|station| &station.gear);
    let loads =
        || leg.sets.values().flat_map(|set| [set.load, set.technique_load]).flatten().collect::<Vec<_>>();
    there && gear.is_some_and(|gear| gear.can_hold_all(&loads()))
}

/// Every station where this exercise can be done, by every client of the group with exactly the loads
/// prescribed; free or not, in order.
pub(in crate::floor) fn suited<'s>(state: &'s State, leg: &'s Leg) -> impl Iterator<Item = StationId> + 's {
    let exercise = state.floor.exercises.get(&leg.exercise);
    let stations = exercise.into_iter().flat_map(|exercise| &exercise.stations).copied();
    stations.filter(|station| suits(state, leg, *station))
}

pub(super) fn free(state: &State, speaker: &Speaker, id: GroupId, block: u8) -> Result<Verdict, Refusal> {
    let group = target::group(state, id)?;
    if block < group.block {
        return Err(Refusal::Over);
    }
    let claim = group.claim.as_ref().filter(|_| group.block == block).ok_or(Refusal::NotReserved)?;
    here(speaker, &claim.stations)?;
    if group.wipe_down.is_none() {
        return Err(Refusal::SetsLeft);
    }
    Ok(Verdict::Accepted(vec![Event::StationsFreed { group: id, block }]))
}
