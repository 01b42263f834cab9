//! A floor file that changed: what is in use must stay, and is told; all else is free to change.

use turnabout_protocol::command::{Act, CallKind};
use turnabout_protocol::ids::{CallId, CoachId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::Secs;
use turnabout_server::floor::changes::{InUse, set_floor};
use turnabout_server::floor::config::{Coach, Floor, Sharing};
use turnabout_server::floor::event::Event;

use crate::world::*;

const CHIDI: CoachId = CoachId(3);

/// The floor with one change.
fn with(change: impl FnOnce(&mut Floor)) -> Floor {
    let mut floor = floor();
    change(&mut floor);
    floor
}

fn told(world: &World, floor: Floor) -> Vec<InUse> {
    set_floor(&world.state, floor).err().unwrap_or_default()
}

/// Another floor file is taken.
fn now_with(world: &mut World, floor: Floor) {
    world.take(Actor::Floor, world.now, Event::FloorSet(Box::new(floor)));
}

/// A third coach, who has nothing to do with anybody.
fn with_chidi(floor: &mut Floor) {
    floor.coaches.insert(CHIDI, Coach { key: key("coach-3"), shift: None });
}

#[test]
fn what_nobody_uses_is_free_to_change() {
    let world = World::with_pair_on();
    let changed = with(|floor| {
        floor.stations.remove(&BENCH_2);
        floor.stations.get_mut(&ROW).unwrap().sharing = Sharing::Open;
        floor.stations.get_mut(&BENCH).unwrap().arms = true;
        floor.policy.stations_a_coach = Some(1);
        floor.settings.idle = Secs(60);
        floor.handles.insert(key("rope"), 2);
        floor.exercises.values_mut().for_each(|e| e.stations.retain(|s| *s != BENCH_2));
        with_chidi(floor);
    });
    assert_eq!(told(&world, changed), []);
    assert_eq!(set_floor(&world.state, floor()), Ok(None), "the same again is no change");
}

#[test]
fn everything_in_use_is_told_at_once() {
    let mut world = World::with_pair_on();
    world.accept(&kiosk(&[ROW_2]), Act::Call { station: ROW_2, call: CallKind::CoachPlease });
    let changed = with(|floor| {
        floor.stations.remove(&BENCH);
        floor.stations.remove(&ROW_2);
        floor.exercises.values_mut().for_each(|e| e.stations.retain(|s| *s != BENCH && *s != ROW_2));
        floor.coaches.remove(&BRAM);
    });
    let expected = [
        InUse::Station { station: key("bench-1"), group: PAIR },
        InUse::Call { station: key("row-2") },
        InUse::Exercise { group: PAIR },
        InUse::Coach { group: SINGLE },
    ];
    assert_eq!(told(&world, changed), expected);
}

#[test]
fn a_call_keeps_its_station_until_it_has_been_attended_to() {
    let mut world = World::new();
    world.accept(&kiosk(&[ROW_2]), Act::Call { station: ROW_2, call: CallKind::HelpNow });
    let gone = || with(|floor| drop(floor.stations.remove(&ROW_2)));
    assert_eq!(told(&world, gone()), [InUse::Call { station: key("row-2") }]);
    world.accept(&coach(AYLA), Act::Attend { call: CallId(1) });
    assert_eq!(told(&world, gone()), []);
}

#[test]
fn who_has_been_offered_a_group_or_has_taken_it_over_stays() {
    let mut world = World::new();
    now_with(&mut world, with(with_chidi));
    assert_eq!(told(&world, floor()), [], "nobody of whom anything hangs");
    world.accept(&coach(AYLA), Act::HandOver { groups: vec![PAIR], from: AYLA, to: CHIDI });
    assert_eq!(told(&world, floor()), [InUse::Coach { group: PAIR }]);
    world.accept(&coach(CHIDI), Act::AcceptGroup { group: PAIR, from: AYLA });
    assert_eq!(told(&world, floor()), [InUse::Coach { group: PAIR }]);
}

#[test]
fn whoever_stands_at_a_bar_or_is_gone_to_help_stays() {
    let mut world = World::with_pair_on();
    now_with(&mut world, with(with_chidi));
    let busy = [InUse::Busy { coach: key("coach-3") }];
    let dara = turn(PAIR, DARA, 0, 0);
    world.accept(&coach(CHIDI), Act::Spot { turn: dara, lift_off: false });
    assert_eq!(told(&world, floor()), busy);
    world.whole_set(AYLA, dara);
    assert_eq!(told(&world, floor()), [], "the bar is racked");
    world.accept(&kiosk(&[ROW_2]), Act::Call { station: ROW_2, call: CallKind::HelpNow });
    world.accept(&coach(CHIDI), Act::Answer { call: CallId(1) });
    assert_eq!(told(&world, floor()), busy);
}

#[test]
fn arms_that_stand_in_for_a_spotter_stay_and_stay_accepted() {
    let armed = || {
        with(|floor| {
            floor.policy.arms_accepted = true;
            floor.stations.get_mut(&BENCH).unwrap().arms = true;
        })
    };
    let mut world = World::with_pair_on();
    now_with(&mut world, armed());
    assert_eq!(told(&world, floor()), [], "nobody relies on them");
    let dara = turn(PAIR, DARA, 0, 0);
    world.accept(&coach(AYLA), Act::UseArms { turn: dara });
    for gone in ["coming", "under way"] {
        let mut unaccepted = armed();
        unaccepted.policy.arms_accepted = false;
        let mut unarmed = armed();
        unarmed.stations.get_mut(&BENCH).unwrap().arms = false;
        for floor in [unaccepted, unarmed] {
            assert_eq!(told(&world, floor), [InUse::Arms { group: PAIR }], "{gone}");
        }
        if gone == "coming" {
            world.begin(AYLA, dara);
        }
    }
}

#[test]
fn a_station_where_another_group_works_in_goes_on_being_shared() {
    let shared = || with(|floor| floor.stations.values_mut().for_each(|s| s.sharing = Sharing::Open));
    let mut world = World::with_pair_on();
    now_with(&mut world, shared());
    world.claim(BRAM, SINGLE, &[BENCH, ROW_2]);
    let never = told(&world, floor());
    assert_eq!(never, [InUse::Shared { station: key("bench-1"), group: SINGLE }]);
    let mut other_gear = shared();
    other_gear.stations.get_mut(&BENCH).unwrap().gear = floor().stations[&ROW].gear.clone();
    assert!(told(&world, other_gear).contains(&InUse::Station { station: key("bench-1"), group: PAIR }));
}
