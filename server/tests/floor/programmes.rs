//! What may change in a programme while the journal goes on, and what another day does.

use turnabout_protocol::command::{Act, CallKind};
use turnabout_protocol::role::Actor;
use turnabout_protocol::view::Stage;
use turnabout_server::floor::changes::{InUse, set_programme};
use turnabout_server::floor::config::{Day, Programme};

use crate::world::*;

/// The usual programme with one round more for a group.
fn longer(group: turnabout_protocol::ids::GroupId) -> Programme {
    let mut programme = programme();
    programme.groups.get_mut(&group).unwrap().blocks[0].rounds += 1;
    programme
}

fn stage(world: &World, id: turnabout_protocol::ids::GroupId) -> Stage {
    let (plan, now) = world.state.group(id).unwrap();
    now.stage(plan)
}

fn finish(world: &mut World) {
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    for round in 0..=2 {
        world.whole_set(BRAM, turn(SINGLE, FARID, round, 0));
        world.whole_set(BRAM, turn(SINGLE, FARID, round, 1));
        world.pass(60);
    }
    world.accept(&coach(BRAM), Act::FreeStations { group: SINGLE, block: 0, bar: None });
}

#[test]
fn only_groups_in_progress_must_stay_as_they_are() {
    let mut world = World::with_pair_on();
    assert_eq!(set_programme(&world.state, programme()), Ok(None));
    assert_eq!(set_programme(&world.state, longer(PAIR)), Err(vec![InUse::Group { group: PAIR }]));
    let without = Programme { groups: Default::default(), ..programme() };
    assert_eq!(set_programme(&world.state, without), Err(vec![InUse::Group { group: PAIR }]));
    let event = set_programme(&world.state, longer(LATER)).unwrap().expect("it has changed");
    world.take(Actor::Floor, world.now, event);
    assert_eq!(stage(&world, PAIR), Stage::Technique, "the others go on");
}

#[test]
fn a_group_that_has_finished_may_come_again() {
    let mut world = World::new();
    finish(&mut world);
    assert_eq!(stage(&world, SINGLE), Stage::Finished);
    let event = set_programme(&world.state, longer(SINGLE)).unwrap().expect("it has changed");
    world.take(Actor::Floor, world.now, event);
    assert_eq!(stage(&world, SINGLE), Stage::Expected);
}

#[test]
fn another_day_is_another_evening_for_everybody() {
    let mut world = World::with_pair_on();
    world.begin(AYLA, turn(PAIR, DARA, 0, 0));
    world.accept(&kiosk(&[ROW]), Act::Call { station: ROW, call: CallKind::CoachPlease });
    let load = world.state.stations[&BENCH].load;
    let tomorrow = Programme { day: Some(Day { year: 2026, month: 11, day: 26 }), ..programme() };
    let event = set_programme(&world.state, tomorrow.clone()).unwrap().expect("it has changed");
    world.take(Actor::Floor, world.now, event);
    for group in [PAIR, SINGLE, LATER] {
        assert_eq!(stage(&world, group), Stage::Expected);
    }
    assert!(
        world.state.stations.values().all(|s| s.claim.is_none() && s.on.is_none() && s.confirmed.is_none())
    );
    assert_eq!(world.state.stations[&BENCH].load, load, "the plates are where they were");
    assert!(world.state.calls.is_empty());
    // The same day again is a restart: nothing happens.
    assert_eq!(set_programme(&world.state, tomorrow), Ok(None));
    world.all_arrive();
    finish(&mut world);
    assert_eq!(world.replayed(), world.state);
}
