//! What a coach's page is told to expect: what is due at once, and nothing that the floor would refuse.

use turnabout_protocol::card::PlatePart;
use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{CoachId, GroupId, TurnId};
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{ExpectedTap, View};
use turnabout_server::floor::config::Sharing;
use turnabout_server::floor::event::Event;
use turnabout_server::floor::state::Promise;
use turnabout_server::floor::views::Watch;

use crate::world::*;

/// The taps that a coach's page expects for a group.
fn expected(world: &World, me: CoachId, group: GroupId) -> Vec<ExpectedTap> {
    let View::Coach(page) = world.view(&Watch::Coach(me)) else { panic!("a coach's page") };
    page.groups.into_iter().find(|part| part.group == group).unwrap().taps
}

/// The set whose load is to be confirmed.
fn to_confirm(world: &World, me: CoachId, group: GroupId) -> Option<TurnId> {
    expected(world, me, group).into_iter().find_map(|tap| match tap.act {
        Act::ConfirmLoad { turn } => Some(turn),
        _ => None,
    })
}

/// From when each light set is to be passed.
fn to_pass(world: &World) -> Vec<(TurnId, FloorMs)> {
    let pass = |tap: ExpectedTap| match tap.act {
        Act::PassTechnique { turn } => Some((turn, tap.from)),
        _ => None,
    };
    expected(world, AYLA, PAIR).into_iter().filter_map(pass).collect()
}

#[test]
fn a_light_set_is_to_be_passed_from_its_end_on_and_not_only_before_the_first_working_set() {
    let mut world = World::with_pair_on();
    let (press, row) = (turn(PAIR, DARA, 0, 0), turn(PAIR, DARA, 0, 1));
    let mut over = |light| {
        world.begin(AYLA, light);
        world.pass_to(world.current(light).ends);
        world.done(AYLA, light);
        let ended = world.now;
        (to_pass(&world), ended)
    };
    // The row's light set comes next, and needs nothing of the press.
    let (after_press, first) = over(press);
    assert_eq!(after_press, [(press, first)]);
    let (after_row, second) = over(row);
    assert_eq!(after_row, [(press, first), (row, second)]);
    world.accept(&coach(AYLA), Act::PassTechnique { turn: press });
    assert_eq!(to_pass(&world), [(row, second)], "neither is asked for twice");
    world.accept(&coach(AYLA), Act::PassTechnique { turn: row });
    // One that is asked for anew is first to be done.
    world.accept(&coach(AYLA), Act::TechniqueAgain { turn: turn(PAIR, DARA, 1, 0) });
    assert_eq!(to_pass(&world), []);
}

#[test]
fn where_the_plates_do_not_make_a_load_the_step_that_they_make_is_expected_and_no_confirmation() {
    let mut world = World::new();
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.sets(BRAM, SINGLE, FARID, &[(0, 0)]);
    let (row, press) = (turn(SINGLE, FARID, 0, 1), turn(SINGLE, FARID, 1, 0));
    // He is at the row yet, and the bench could be loaded for him.
    world.begin(BRAM, row);
    assert_eq!(to_confirm(&world, BRAM, SINGLE), Some(press));
    // 70 kg are 20 and 5 on each side of the bar.
    let plate = PlatePart { mass: kg(5), full: false };
    world.accept(&kiosk(&[BENCH]), Act::PlatesMissing { station: BENCH, plate, count: 4 });
    let step = |world: &World| {
        assert_eq!(to_confirm(world, BRAM, SINGLE), None);
        let mut taps = expected(world, BRAM, SINGLE).into_iter();
        taps.find(|tap| matches!(tap.act, Act::SetLoad { .. })).expect("a load that can be put on")
    };
    let early = step(&world);
    world.pass_to(world.current(row).ends);
    world.done(BRAM, row);
    let step = step(&world);
    assert_eq!(early, step);
    let revision = world.revision(SINGLE);
    let sixty = Act::SetLoad { turn: press, load: kilos(60), sure: false, revision };
    assert_eq!((&step.act, step.client), (&sixty, Some(FARID)));
    world.accept(&coach(BRAM), sixty);
    assert_eq!(to_confirm(&world, BRAM, SINGLE), Some(press));
    world.begin(BRAM, press);
}

#[test]
fn nobody_is_asked_to_strip_the_bar_of_somebody_who_waits_there_with_the_load_on() {
    let mut world = World::other_with_all(|floor, _| {
        floor.stations.get_mut(&BENCH).unwrap().sharing = Sharing::Open;
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.claim(BRAM, SINGLE, &[BENCH, ROW_2]);
    world.sets(AYLA, PAIR, EDDA, &[(0, 0), (0, 1)]);
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1)]);
    world.sets(BRAM, SINGLE, FARID, &[(0, 0), (0, 1)]);
    let (edda, farid) = (turn(PAIR, EDDA, 1, 0), turn(SINGLE, FARID, 1, 0));
    // Nothing is on for anybody yet: both coaches may see to it.
    assert_eq!((to_confirm(&world, AYLA, PAIR), to_confirm(&world, BRAM, SINGLE)), (Some(edda), Some(farid)));
    world.accept(&coach(AYLA), Act::ConfirmLoad { turn: edda });
    assert_eq!(to_confirm(&world, BRAM, SINGLE), None, "Edda waits for a spotter with 40 kg on");
    // Who asks for more time gives the bar away.
    let mut later = world.clone();
    later.accept(&coach(AYLA), Act::NotYet { turn: edda });
    assert_eq!(to_confirm(&later, BRAM, SINGLE), Some(farid));
    // And so does who has lifted: what is on then is left over.
    world.begin(AYLA, edda);
    assert_eq!(to_confirm(&world, BRAM, SINGLE), None, "nobody changes plates under a lifter");
    world.pass(60);
    world.done(AYLA, edda);
    assert_eq!(to_confirm(&world, BRAM, SINGLE), Some(farid));
}

#[test]
fn at_a_bar_that_two_share_display_and_coach_name_whoever_was_told_a_start() {
    let mut world = World::with_pair_on();
    for client in [DARA, EDDA] {
        world.sets(AYLA, PAIR, client, &[(0, 0), (0, 1)]);
    }
    world.rest(PAIR, EDDA);
    let next = |world: &World| {
        let View::Station(part) = world.view(&Watch::Station(vec![BENCH])) else { panic!("a station") };
        let shown = part.stations[0].turn.as_ref().unwrap().turn;
        (shown, to_confirm(world, AYLA, PAIR))
    };
    let [dara, edda] = [DARA, EDDA].map(|client| turn(PAIR, client, 1, 0));
    let by_themselves = next(&world).0;
    assert_eq!(next(&world), (by_themselves, Some(by_themselves)));
    // The plan lets the other one go first, and says so.
    let other = if by_themselves == dara { edda } else { dara };
    let start = world.now + secs(30);
    let told = Promise {
        turn: other,
        station: BENCH,
        spotter: None,
        start,
        about: false,
        reason: StartReason::Later,
    };
    world.take(Actor::Floor, world.now, Event::Promised { made: vec![told], taken_back: Vec::new() });
    assert_eq!(next(&world), (other, Some(other)));
}

#[test]
fn whoever_spots_at_one_bar_is_not_asked_for_the_plates_of_another() {
    let mut world = World::with_pair_on();
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    world.sets(BRAM, SINGLE, FARID, &[(0, 0), (0, 1)]);
    world.rest(SINGLE, FARID);
    let farid = turn(SINGLE, FARID, 1, 0);
    assert_eq!(to_confirm(&world, BRAM, SINGLE), Some(farid));
    // Who is at this very bar looks at its plates too.
    world.accept(&coach(BRAM), Act::Spot { turn: farid, lift_off: false });
    assert_eq!(to_confirm(&world, BRAM, SINGLE), Some(farid));
    let press = turn(PAIR, DARA, 0, 0);
    world.begin(BRAM, press);
    assert_eq!(to_confirm(&world, BRAM, SINGLE), None, "Bram spots Dara");
    world.pass_to(world.current(press).ends);
    world.done(BRAM, press);
    assert_eq!(to_confirm(&world, BRAM, SINGLE), Some(farid));
}
