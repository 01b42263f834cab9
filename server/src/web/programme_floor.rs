//! What a page offers to choose from while a programme is entered: coaches, exercises, stations, and how much is allowed.

use serde::Serialize;
use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::Key;
use turnabout_protocol::words::Words;

use crate::floor::config::{Floor, Names, Person, limits as floor_limits};
use crate::setup::limits as file_limits;
use crate::training::block::limits as block_limits;

/// What can be chosen.
#[derive(Serialize)]
pub(super) struct FloorPart<'f> {
    coaches: Vec<Named<'f>>,
    stations: Vec<Named<'f>>,
    exercises: Vec<Offered<'f>>,
    limits: Limits,
}

#[derive(Serialize)]
struct Named<'f> {
    key: &'f Key,
    name: &'f str,
}

#[derive(Serialize)]
struct Offered<'f> {
    key: &'f Key,
    name: &'f Words,
    gear: GearKind,
}

/// How many of something there may be: a page offers no more.
#[derive(Serialize)]
struct Limits {
    clients: usize,
    groups: usize,
    group_clients: usize,
    blocks: usize,
    exercises: usize,
    rounds: u8,
    name: usize,
    number: u32,
}

/// What can be chosen on this floor; `names` are those of its coaches.
pub(super) fn floor_part<'f>(floor: &'f Floor, names: &'f Names) -> FloorPart<'f> {
    let coaches = floor.coaches.iter().map(|(id, coach)| {
        let name = names.get(&Person::Coach(*id)).map_or(coach.key.as_str(), String::as_str);
        Named { key: &coach.key, name }
    });
    let stations = floor.stations.values().map(|station| Named { key: &station.key, name: &station.name });
    let exercises = floor.exercises.values().map(|exercise| Offered {
        key: &exercise.key,
        name: &exercise.name,
        gear: exercise.gear,
    });
    FloorPart {
        coaches: coaches.collect(),
        stations: stations.collect(),
        exercises: exercises.collect(),
        limits: Limits {
            clients: file_limits::CLIENTS,
            groups: floor_limits::GROUPS,
            group_clients: block_limits::CLIENTS,
            blocks: block_limits::BLOCKS,
            exercises: block_limits::LEGS,
            rounds: block_limits::ROUNDS,
            name: floor_limits::NAME,
            number: file_limits::NUMBER,
        },
    }
}
