//! A floor file or programme that changed since the journal last saw it: taken, or refused with the list of
//! what is in use.

use std::sync::Arc;

use turnabout_protocol::command::Spotter;
use turnabout_protocol::ids::{CoachId, ExerciseId, GroupId, Key, StationId};
use turnabout_protocol::role::Actor;

use super::config::{Floor, GroupPlan, Programme, Sharing};
use super::event::Event;
use super::state::{ClientNow, GroupNow, State};
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
    /// A station where a second group works in is not shared any more.
    #[error("group {group} works in at station {station}: it must go on being shared until that is over")]
    Shared {
        /// The station.
        station: Key,
        /// Who works in.
        group: GroupId,
    },
    /// Safety arms that stand in for a spotter are gone, or not accepted any more.
    #[error("safety arms stand in for a spotter of group {group}: they must stay, and be accepted")]
    Arms {
        /// The group.
        group: GroupId,
    },
    /// A station from which somebody has called is gone.
    #[error("somebody calls from station {station}: it must stay until the call has been attended to")]
    Call {
        /// The station.
        station: Key,
    },
    /// A coach who stands at a bar or has gone to a call for help is gone.
    #[error("coach {coach} is at a bar or has gone to a call for help: remove nobody until that is over")]
    Busy {
        /// The coach.
        coach: Key,
    },
    /// An exercise that a group which has begun uses is gone or changed, or may no longer be done at the
    /// station which the group has reserved for it. Where else it may be done is free to change.
    #[error("group {group} has begun: the exercises it uses must stay as they are, and where it does them")]
    Exercise {
        /// The group.
        group: GroupId,
    },
    /// A coach who is responsible for a group, or is to take it over, is gone.
    #[error(
        "group {group} is coached by somebody who is not in the floor file any more, or is offered to one"
    )]
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
    stations(state, &floor, &mut in_use);
    people(state, &floor, &mut in_use);
    for (id, plan) in &state.programme.groups {
        let Some(now) = state.groups.get(id) else { continue };
        if ![plan.coach, now.coach].iter().chain(&offered(now)).all(|c| floor.coaches.contains_key(c)) {
            in_use.push(InUse::Coach { group: *id });
        }
        if loses_arms(state, &floor, *id, now) {
            in_use.push(InUse::Arms { group: *id });
        }
        if now.in_progress(plan) && !keeps_its_exercises(state, &floor, plan, now) {
            in_use.push(InUse::Exercise { group: *id });
        }
    }
    if in_use.is_empty() { Ok(Some(Event::FloorSet(Box::new(floor)))) } else { Err(in_use) }
}

/// Stations with a group at them, and those from which somebody has called.
fn stations(state: &State, floor: &Floor, in_use: &mut Vec<InUse>) {
    for (id, now) in &state.stations {
        let (old, new) = (state.floor.stations.get(id), floor.stations.get(id));
        let Some(station) = old.map(|old| old.key.clone()) else { continue };
        let changed = old.map(|s| (&s.key, &s.gear)) != new.map(|s| (&s.key, &s.gear));
        if let Some(group) = now.groups().next().filter(|_| changed) {
            in_use.push(InUse::Station { station, group });
        } else if let Some(group) = now.work_in.filter(|_| new.is_some_and(|s| s.sharing == Sharing::Never)) {
            in_use.push(InUse::Shared { station, group });
        } else if new.is_none() && state.calls.values().any(|call| call.station == *id) {
            in_use.push(InUse::Call { station });
        }
    }
}

/// Coaches at a bar or on the way to somebody who needs help.
fn people(state: &State, floor: &Floor, in_use: &mut Vec<InUse>) {
    let gone = state.floor.coaches.iter().filter(|(id, _)| !floor.coaches.contains_key(id));
    for (id, coach) in gone {
        let spotter = Spotter::Coach { coach: *id };
        let spots = state.spotted_by(spotter, state.recorded).is_some() || state.at_a_bar(spotter);
        if spots || state.on_call(Actor::Coach { coach: *id }).is_some() {
            in_use.push(InUse::Busy { coach: coach.key.clone() });
        }
    }
}

/// Who has to agree to a hand-over, and who would have the group.
fn offered(now: &GroupNow) -> Vec<CoachId> {
    now.offer.iter().flat_map(|offer| [offer.to, offer.asks]).collect()
}

/// Whether safety arms stand in for a spotter of a group and would be gone from one of its stations, or not be
/// accepted any more.
fn loses_arms(state: &State, floor: &Floor, id: GroupId, now: &GroupNow) -> bool {
    let under_way = |c: &ClientNow| c.current.is_some_and(|u| u.spotter == Some(Spotter::Arms));
    let coming = |c: &ClientNow| c.spotter.is_some_and(|spotter| spotter.who == Spotter::Arms);
    let relied_on = now.clients.values().any(|c| under_way(c) || coming(c));
    let has = |floor: &Floor, station: &StationId| floor.stations.get(station).is_some_and(|s| s.arms);
    let gone = |station: &StationId| has(&state.floor, station) && !has(floor, station);
    relied_on && (!floor.policy.arms_accepted || state.held_by(id).iter().any(gone))
}

/// Whether everything that a group trains stays what it is, and may go on being done where the group does it.
fn keeps_its_exercises(state: &State, floor: &Floor, plan: &GroupPlan, now: &GroupNow) -> bool {
    let prescribed = plan.blocks.iter().flat_map(|b| &b.legs).map(|leg| leg.exercise);
    let instead = now.clients.values().flat_map(|c| &c.legs).filter_map(|leg| leg.instead);
    let same = |e| same_elsewhere(state.floor.exercises.get(&e), floor.exercises.get(&e));
    let may = |floor: &Floor, (exercise, station): (ExerciseId, StationId)| {
        floor.exercises.get(&exercise).is_some_and(|e| e.stations.contains(&station))
    };
    // What a coach has had done elsewhere than the file said need not be in the new one either.
    let kept = |done: &(ExerciseId, StationId)| may(floor, *done) || !may(&state.floor, *done);
    prescribed.chain(instead).all(same) && done_where(plan, now).iter().all(kept)
}

/// Each exercise of a group with each station where it is done, or will be in the next block.
fn done_where(plan: &GroupPlan, now: &GroupNow) -> Vec<(ExerciseId, StationId)> {
    let legs = |ahead: u8| plan.blocks.get(usize::from(now.block + ahead)).map(|block| block.legs.as_slice());
    let mut done = Vec::new();
    for (ahead, claim) in [(0, &now.claim), (1, &now.ahead)] {
        let (Some(legs), Some(claim)) = (legs(ahead), claim) else { continue };
        done.extend(legs.iter().zip(&claim.stations).map(|(leg, station)| (leg.exercise, *station)));
    }
    let (Some(legs), Some(claim)) = (legs(0), &now.claim) else { return done };
    for client in now.clients.values() {
        for ((leg, station), own) in legs.iter().zip(&claim.stations).zip(&client.legs) {
            done.push((own.instead.unwrap_or(leg.exercise), own.elsewhere.unwrap_or(*station)));
        }
    }
    done
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
