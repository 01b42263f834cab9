//! What others than a page's coach have just done: why a button of that page is another one.

use turnabout_protocol::command::{Act, CallKind};
use turnabout_protocol::ids::{ClientId, CoachId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{Deed, View};
use turnabout_server::floor::decide::Speaker;
use turnabout_server::floor::views::Watch;

use crate::world::*;

/// What a coach's page is told of the pair: what, who, about whom, when.
fn told(world: &World, me: CoachId) -> Vec<(Deed, Actor, Option<ClientId>, FloorMs)> {
    let View::Coach(view) = world.view(&Watch::Coach(me)) else { panic!("a coach's page") };
    let pair = view.groups.iter().find(|group| group.group == PAIR).unwrap();
    pair.done.iter().map(|part| (part.deed, part.by, part.client, part.at)).collect()
}

/// The last of it.
fn last(world: &World, me: CoachId) -> Option<(Deed, Actor, Option<ClientId>)> {
    told(world, me).first().map(|(deed, by, client, _)| (*deed, *by, *client))
}

/// The pair at its stations, long after everybody came.
fn pair_on() -> World {
    let mut world = World::with_pair_on();
    world.pass(60);
    world
}

#[test]
fn each_thing_that_another_did_is_told_with_who_did_it_and_never_to_whoever_did_it() {
    let mut world = pair_on();
    let press = turn(PAIR, DARA, 0, 0);
    let at_bench = kiosk(&[BENCH]);
    let spot = Act::Spot { turn: press, lift_off: false };
    let steps: [(&Speaker, Act, Deed, i64); 5] = [
        (&at_bench, Act::ConfirmLoad { turn: press }, Deed::LoadConfirmed, 1),
        (&coach(BRAM), spot, Deed::SpotterNamed, 1),
        (&at_bench, Act::Go { turn: press }, Deed::Went, 30),
        (&at_bench, Act::Done { turn: press, reps: None, effort: None, ending: None }, Deed::Done, 1),
        (&coach(BRAM), Act::PassTechnique { turn: press }, Deed::Passed, 1),
    ];
    for (by, act, deed, then) in steps {
        world.accept(by, act);
        assert_eq!(last(&world, AYLA), Some((deed, by.actor, Some(DARA))));
        let to_bram = last(&world, BRAM);
        assert_eq!(to_bram.is_none(), by.actor == coach(BRAM).actor, "{to_bram:?}");
        world.pass(then);
    }
    // What the coach does oneself ends it.
    world.accept(&coach(AYLA), Act::NotYet { turn: turn(PAIR, DARA, 0, 1) });
    world.begin(AYLA, turn(PAIR, DARA, 0, 1));
    assert_eq!(last(&world, AYLA), None);
}

#[test]
fn what_is_about_all_of_a_group_is_told_of_the_group() {
    let mut world = World::new();
    world.pass(60);
    world.claim(BRAM, PAIR, &[BENCH, ROW]);
    assert_eq!(last(&world, AYLA), Some((Deed::StationsTaken, coach(BRAM).actor, None)));
    world.pass(20);
    let groups = vec![PAIR];
    world.accept(&coach(BRAM), Act::HandOver { groups, from: AYLA, to: BRAM });
    world.accept(&coach(AYLA), Act::AcceptGroup { group: PAIR, from: AYLA });
    assert_eq!(last(&world, AYLA), Some((Deed::HandedOver, coach(BRAM).actor, None)));
    assert_eq!(last(&world, BRAM), None, "whoever has it sees it");
}

#[test]
fn a_call_at_the_station_is_told_of_whoever_is_next_there() {
    let mut world = pair_on();
    world.accept(&kiosk(&[BENCH]), Act::Call { station: BENCH, call: CallKind::CoachPlease });
    let at_bench = kiosk(&[BENCH]).actor;
    let now = world.now;
    assert_eq!(told(&world, AYLA), [(Deed::Called, at_bench, Some(DARA), now)]);
}

#[test]
fn what_is_taken_back_or_long_ago_is_not_told() {
    let press = turn(PAIR, DARA, 0, 0);
    let mut world = pair_on();
    world.accept(&kiosk(&[BENCH]), Act::ConfirmLoad { turn: press });
    world.pass(3);
    world.accept(&coach(BRAM), Act::Go { turn: press });
    world.accept(&coach(AYLA), Act::Pause { group: PAIR });
    assert_ne!(last(&world, AYLA).map(|(deed, ..)| deed), Some(Deed::Went), "3-2-1 was taken back");
    // Ten seconds, by the last entry.
    for (secs, told) in [(9, true), (10, false)] {
        let mut world = pair_on();
        world.accept(&kiosk(&[BENCH]), Act::ConfirmLoad { turn: press });
        world.pass(secs);
        world.accept(&coach(BRAM), Act::Away { coach: BRAM, minutes: 1 });
        assert_eq!(last(&world, AYLA).is_some(), told, "after {secs} s");
    }
}
