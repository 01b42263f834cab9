//! What a coach can choose from for a group: other stations, other exercises; how stations can be set.

use std::collections::BTreeSet;

use turnabout_protocol::ids::{CoachId, ExerciseId, GroupId, StationId, TurnId};
use turnabout_protocol::view::{
    BarChoice, CoachGroup, ExerciseChoice, ExerciseName, LegChoices, PlaceChoice, PlateChoice, SettingChoice,
    StationPlates, StationSettings,
};

use super::part;
use crate::floor::admission;
use crate::floor::decide;
use crate::floor::gear_now::{self, Rack};
use crate::floor::in_hand::InHand;
use crate::floor::state::{State, StationNow};
use crate::loading::gear::{Gear, OneBar};
use crate::training::exercise::Exercise;
use crate::training::movement::Movement;

/// Other exercises named for one: more are not read on a phone between two sets.
const MOST_EXERCISES: usize = 8;
/// Places named for another exercise.
const MOST_PLACES: usize = 4;

/// For each exercise of the block in hand what could be done otherwise now; nothing without stations.
pub(super) fn choices(hand: &InHand<'_>) -> Vec<LegChoices> {
    let Some(claim) = &hand.group.claim else { return Vec::new() };
    let legs = hand.block.legs.iter().zip(&claim.stations).zip(0_u8..);
    legs.map(|((leg, at), place)| {
        let other = |station: &StationId| station != at && can_have(hand, *station);
        let swaps = decide::suited(hand.state, leg).filter(other);
        LegChoices {
            leg: place,
            stations: if leg.in_place { Vec::new() } else { swaps.collect() },
            exercises: exercises(hand, place, *at),
        }
    })
    .collect()
}

fn can_have(hand: &InHand<'_>, station: StationId) -> bool {
    admission::may_hold(hand.state, hand.id, station).is_ok()
}

/// Other exercises of the movement that is planned, where there is somewhere to do them: at the usual station,
/// or at another that can be had.
fn exercises(hand: &InHand<'_>, leg: u8, usual: StationId) -> Vec<ExerciseChoice> {
    let planned = hand.block.legs.get(usize::from(leg));
    let Some(planned) = planned.and_then(|leg| hand.state.floor.exercises.get(&leg.exercise)) else {
        return Vec::new();
    };
    if planned.movement == Movement::Other {
        return Vec::new();
    }
    let all = hand.state.floor.exercises.values();
    let same = all.filter(|other| other.movement == planned.movement && !done_by_all(hand, leg, other));
    let choice = |other: &Exercise| {
        let mut places: Vec<StationId> =
            other.stations.iter().copied().filter(|at| can_have(hand, *at)).collect();
        // Where one stands already comes first.
        places.sort_by_key(|at| (*at != usual, *at));
        places.truncate(MOST_PLACES);
        (!places.is_empty()).then_some(ExerciseChoice { exercise: other.id, places })
    };
    same.filter_map(choice).take(MOST_EXERCISES).collect()
}

/// Whether every client does this exercise already.
fn done_by_all(hand: &InHand<'_>, leg: u8, exercise: &Exercise) -> bool {
    hand.group.clients.keys().all(|client| {
        let turn = TurnId { group: hand.id, client: *client, block: hand.group.block, round: 0, leg };
        hand.exercise(turn).is_some_and(|now| now.id == exercise.id)
    })
}

/// The names of the exercises that the groups' choices name.
pub(super) fn named(state: &State, groups: &[CoachGroup]) -> Vec<ExerciseName> {
    let named: BTreeSet<ExerciseId> = all(groups).map(|choice| choice.exercise).collect();
    let name = |exercise| ExerciseName { exercise, name: part::exercise_name(state, exercise) };
    named.into_iter().map(name).collect()
}

/// What is at the stations that they name.
pub(super) fn places(state: &State, groups: &[CoachGroup]) -> Vec<PlaceChoice> {
    let named: BTreeSet<StationId> = all(groups).flat_map(|choice| &choice.places).copied().collect();
    let place = |station| {
        let gear = &state.floor.stations.get(&station)?.gear;
        Some(PlaceChoice { station, lightest: gear.lightest(), unit: gear.unit() })
    };
    named.into_iter().filter_map(place).collect()
}

fn all(groups: &[CoachGroup]) -> impl Iterator<Item = &ExerciseChoice> {
    groups.iter().flat_map(|group| &group.choices).flat_map(|choices| &choices.exercises)
}

/// What can be set at the stations that a coach's own groups have.
pub(super) fn settings(state: &State, me: CoachId) -> Vec<StationSettings> {
    let own: BTreeSet<GroupId> =
        state.groups.iter().filter(|(_, group)| group.coach == me).map(|(id, _)| *id).collect();
    let held = state.stations.iter().filter(|(_, now)| now.groups().any(|group| own.contains(&group)));
    let settings = |id: StationId| {
        let settings = &state.floor.stations.get(&id)?.settings;
        let choice = |s: &crate::floor::config::Setting| SettingChoice {
            name: s.name.clone(),
            values: s.values.clone(),
        };
        (!settings.is_empty())
            .then(|| StationSettings { station: id, settings: settings.iter().map(choice).collect() })
    };
    held.filter_map(|(id, _)| settings(*id)).collect()
}

/// The plates of the stations that the groups of this coach have.
pub(super) fn plates(state: &State, me: CoachId) -> Vec<StationPlates> {
    let own = |group: GroupId| state.groups.get(&group).is_some_and(|group| group.coach == me);
    let held = state.stations.iter().filter(|(_, now)| now.groups().any(own));
    held.filter_map(|(id, now)| station_plates(state, *id, now)).collect()
}

/// The plates of a station; nothing where no bar is.
pub(super) fn station_plates(state: &State, station: StationId, now: &StationNow) -> Option<StationPlates> {
    let rack = Rack::of(state, station)?;
    let kinds = rack.set().inventory().kinds().iter().map(|kind| {
        let missing = gear_now::missing(state, station).iter().find(|missing| missing.plate == kind.plate);
        let side = now.plates.iter().flat_map(|loaded| loaded.side.plates());
        PlateChoice {
            plate: gear_now::part(kind.plate),
            count: kind.count,
            missing: missing.map_or(0, |missing| missing.count),
            on: u8::try_from(side.filter(|plate| **plate == kind.plate).count()).unwrap_or(u8::MAX),
        }
    });
    let tree = gear_now::tree(&state.floor, station).and_then(|key| state.floor.trees.get(key));
    let tree = tree.map(|tree| tree.name.clone());
    let bars = bars(state, station);
    let bar = now.plates.as_ref().map_or(0, |on| on.bar.0);
    Some(StationPlates { station, unit: rack.set().unit(), tree, bars, bar, kinds: kinds.collect() })
}

/// The bars of a station, where there is a choice.
fn bars(state: &State, station: StationId) -> Vec<BarChoice> {
    let Some(Gear::Bar(bar)) = state.floor.stations.get(&station).map(|station| &station.gear) else {
        return Vec::new();
    };
    let choice = |one: &OneBar| BarChoice { mass: one.mass, name: one.name.clone() };
    if bar.others.is_empty() { Vec::new() } else { bar.bars().map(choice).collect() }
}
