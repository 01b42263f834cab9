//! Where an exercise can be done: what is offered, taken and refused, and which changes of that are.

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{ExerciseId, GroupId, StationId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{CoachGroup, View};
use turnabout_server::floor::changes::{InUse, set_floor};
use turnabout_server::floor::config::Floor;
use turnabout_server::floor::event::Event;
use turnabout_server::floor::state::State;
use turnabout_server::floor::views::Watch;
use turnabout_server::loading::gear::{Gear, Stack};
use turnabout_server::training::exercise::SpotRule;

use crate::world::*;

const PRESS: ExerciseId = ExerciseId(1);
const PULL: ExerciseId = ExerciseId(2);

/// The usual evening on another floor.
fn world_on(floor: Floor) -> World {
    let mut world = World { state: State::new(), entries: Vec::new(), now: FloorMs(0) };
    world.take(Actor::Floor, world.now, Event::FloorSet(Box::new(floor)));
    world.take(Actor::Floor, world.now, Event::ProgrammeSet(Box::new(programme())));
    world.all_arrive();
    world
}

/// The usual floor with the exercises done at these stations.
fn done_at(press: &[StationId], row: &[StationId]) -> Floor {
    let mut floor = floor();
    for (exercise, stations) in [(PRESS, press), (PULL, row)] {
        floor.exercises.get_mut(&exercise).unwrap().stations = stations.iter().copied().collect();
    }
    floor
}

fn group(world: &World, id: GroupId) -> CoachGroup {
    let View::Coach(page) = world.view(&Watch::Coach(AYLA)) else { panic!("a coach's page") };
    page.groups.into_iter().find(|group| group.group == id).unwrap()
}

/// The stations that are proposed to a group.
fn proposed(world: &World, id: GroupId) -> Option<Vec<StationId>> {
    group(world, id).taps.into_iter().find_map(|tap| match tap.act {
        Act::TakeStations { stations, .. } => Some(stations),
        _ => None,
    })
}

fn take(world: &World, id: GroupId, stations: &[StationId]) -> Act {
    let revision = world.state.groups[&id].revision;
    Act::TakeStations { group: id, block: 0, stations: stations.to_vec(), revision, despite: None }
}

#[test]
fn an_exercise_is_only_done_where_its_floor_says() {
    let mut world = world_on(done_at(&[BENCH, BENCH_2], &[ROW_2]));
    assert_eq!(group(&world, PAIR).suited, [vec![BENCH, BENCH_2], vec![ROW_2]]);
    assert_eq!(proposed(&world, PAIR), Some(vec![BENCH, ROW_2]));
    // The same gear, but not the same exercise's place.
    let row = take(&world, PAIR, &[BENCH, ROW]);
    world.refuse(&coach(AYLA), row, Refusal::StationUnfit { station: ROW });
    world.claim(AYLA, PAIR, &[BENCH, ROW_2]);
    // Taken stations still suit; there is nothing to propose.
    assert_eq!(group(&world, SINGLE).suited, [vec![BENCH, BENCH_2], vec![ROW_2]]);
    assert_eq!(proposed(&world, SINGLE), None);
}

#[test]
fn a_station_suits_where_every_client_can_do_it_with_exactly_the_load() {
    let mut floor = floor();
    // The second bench has nothing smaller than 10 kg plates: Dara's 60 kg and Edda's 40 kg go, Farid's 70 kg not.
    let Gear::Bar(bar) = &mut floor.stations.get_mut(&BENCH_2).unwrap().gear else { panic!("a bar") };
    bar.plates.retain(|plates| plates.mass >= kg(10));
    // The first row ends at 50 kg: the pair's 50 and 35 kg go, Farid's 55 kg not.
    let Gear::Stack(stack) = &mut floor.stations.get_mut(&ROW).unwrap().gear else { panic!("a stack") };
    *stack = Stack::steps(stack.unit, kg(5), kg(5), 10);
    let mut world = world_on(floor);
    assert_eq!(group(&world, PAIR).suited, [vec![BENCH, BENCH_2], vec![ROW, ROW_2]]);
    assert_eq!(group(&world, SINGLE).suited, [vec![BENCH], vec![ROW_2]]);
    assert_eq!(proposed(&world, SINGLE), Some(vec![BENCH, ROW_2]));
    let row = take(&world, SINGLE, &[BENCH, ROW]);
    world.refuse(&coach(BRAM), row, Refusal::StationUnfit { station: ROW });
}

#[test]
fn an_exercise_that_can_be_done_elsewhere_gives_way() {
    let world = world_on(done_at(&[ROW, ROW_2], &[ROW]));
    assert_eq!(proposed(&world, PAIR), Some(vec![ROW_2, ROW]));
    let world = world_on(done_at(&[ROW], &[ROW]));
    assert_eq!(proposed(&world, PAIR), None, "one station is not proposed twice");
}

#[test]
fn both_exercises_may_be_done_at_one_station_if_the_coach_says_so() {
    let mut world = world_on(done_at(&[ROW], &[ROW]));
    world.claim(AYLA, PAIR, &[ROW, ROW]);
    assert_eq!(world.state.stations[&ROW].claim, Some(PAIR));
}

#[test]
fn nothing_suits_after_the_session() {
    let mut world = World::new();
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    for (round, leg) in [(0, 0), (0, 1), (1, 0), (1, 1), (2, 0), (2, 1)] {
        world.pass(60);
        world.whole_set(BRAM, turn(SINGLE, FARID, round, leg));
    }
    assert!(!group(&world, SINGLE).suited.is_empty(), "the block is still in hand");
    world.accept(&coach(BRAM), Act::FreeStations { group: SINGLE, block: 0, bar: None });
    assert!(group(&world, SINGLE).suited.is_empty());
}

#[test]
fn where_else_an_exercise_is_done_may_change_while_a_group_has_begun() {
    let world = World::with_pair_on();
    let exercise = Err(vec![InUse::Exercise { group: PAIR }]);
    for floor in [done_at(&[BENCH], &[ROW]), done_at(&[BENCH, BENCH_2, ROW_2], &[ROW])] {
        let event = Event::FloorSet(Box::new(floor.clone()));
        assert_eq!(set_floor(&world.state, floor), Ok(Some(event)));
    }
    // But not that the group must leave where it is, nor what the exercise is.
    assert_eq!(set_floor(&world.state, done_at(&[BENCH_2], &[ROW, ROW_2])), exercise);
    let mut unspotted = floor();
    unspotted.exercises.get_mut(&PRESS).unwrap().spot = SpotRule::None;
    assert_eq!(set_floor(&world.state, unspotted.clone()), exercise);
    let mut gone = floor();
    gone.exercises.remove(&PULL);
    assert_eq!(set_floor(&world.state, gone), exercise);
    // A group that only waits minds nothing.
    assert!(set_floor(&World::new().state, unspotted).is_ok());
}
