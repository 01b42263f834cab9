//! A floor file or programme that changed since the journal last saw it: taken, or refused with the list of
//! what is in use.

use std::sync::Arc;

use turnabout_protocol::ids::{GroupId, Key};

use super::config::{Floor, GroupPlan, Programme};
use super::event::Event;
use super::state::{GroupNow, State};
use crate::training::exercise::Exercise;

/// Something in use that a changed file would take away or change.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum InUse {
    /// A station that a group has reserved is gone or has other gear.
    #[error("station {station} is reserved by group {group}: its gear and place in the file must stay")]
    Station {
        /// The station.
        station: Key,
        /// Who has it.
        group: GroupId,
    },
    /// An exercise that a group which has begun uses is gone or changed, or may no longer be done at the
    /// station which the group has reserved for it. Where else it may be done is free to change.
    #[error("group {group} has begun: the exercises it uses must stay as they are, and where it does them")]
    Exercise {
        /// The group.
        group: GroupId,
    },
    /// A coach who is responsible for a group is gone.
    #[error("group {group} is coached by somebody who is not in the floor file any more")]
    Coach {
        /// The group.
        group: GroupId,
    },
    /// A group that has begun is gone or changed.
    #[error("group {group} has begun: its part of the programme must stay as it is")]
    Group {
        /// The group.
        group: GroupId,
    },
}

/// Compares a floor file with the floor that the journal knows.
///
/// # Errors
/// Everything in use that it would take away.
pub fn set_floor(state: &State, floor: Floor) -> Result<Option<Event>, Vec<InUse>> {
    if state.sequence > 0 && floor == state.floor {
        return Ok(None);
    }
    let mut in_use = Vec::new();
    for (id, now) in &state.stations {
        let Some(group) = now.claim else { continue };
        let old = state.floor.stations.get(id);
        let new = floor.stations.get(id);
        if old.map(|s| (&s.key, &s.gear)) != new.map(|s| (&s.key, &s.gear)) {
            in_use.extend(old.map(|s| InUse::Station { station: s.key.clone(), group }));
        }
    }
    for (id, plan) in &state.programme.groups {
        if !floor.coaches.contains_key(&plan.coach) {
            in_use.push(InUse::Coach { group: *id });
        }
        let Some(now) = state.groups.get(id).filter(|now| now.in_progress(plan)) else { continue };
        let mut exercises = plan.blocks.iter().flat_map(|b| &b.legs).map(|leg| leg.exercise);
        let same = |e| same_elsewhere(state.floor.exercises.get(&e), floor.exercises.get(&e));
        if !exercises.all(same) || !keeps_its_stations(&floor, plan, now) {
            in_use.push(InUse::Exercise { group: *id });
        }
    }
    if in_use.is_empty() { Ok(Some(Event::FloorSet(Box::new(floor)))) } else { Err(in_use) }
}

/// Whether nothing of an exercise has changed but where it can be done and what is said about it: another
/// bench harms nobody, nor do better words.
fn same_elsewhere(old: Option<&Exercise>, new: Option<&Exercise>) -> bool {
    match (old, new) {
        (Some(old), Some(new)) => {
            let (stations, about) = (old.stations.clone(), Arc::clone(&old.about));
            *old == Exercise { stations, about, ..new.clone() }
        }
        (None, None) => true,
        (Some(_), None) | (None, Some(_)) => false,
    }
}

/// Whether a group may go on doing each exercise at the station that it has reserved for it.
fn keeps_its_stations(floor: &Floor, plan: &GroupPlan, now: &GroupNow) -> bool {
    let (Some(claim), Some(block)) = (&now.claim, now.block_of(plan)) else { return true };
    block.legs.iter().zip(&claim.stations).all(|(leg, station)| {
        floor.exercises.get(&leg.exercise).is_some_and(|exercise| exercise.stations.contains(station))
    })
}

/// Compares a programme with the one that the journal knows. A group that is in progress must stay as it is,
/// unless the programme is for another day: that is another evening, and everybody starts anew.
///
/// # Errors
/// Every group that has begun and would be taken away or changed.
pub fn set_programme(state: &State, programme: Programme) -> Result<Option<Event>, Vec<InUse>> {
    if programme == state.programme {
        return Ok(None);
    }
    let same_evening = programme.day == state.programme.day;
    let in_progress = |id| state.group(id).is_some_and(|(plan, now)| now.in_progress(plan));
    let changed = state.programme.groups.iter().filter(|(id, plan)| programme.groups.get(id) != Some(plan));
    let in_use: Vec<InUse> = changed
        .filter(|(id, _)| same_evening && in_progress(**id))
        .map(|(id, _)| InUse::Group { group: *id })
        .collect();
    if in_use.is_empty() { Ok(Some(Event::ProgrammeSet(Box::new(programme)))) } else { Err(in_use) }
}
