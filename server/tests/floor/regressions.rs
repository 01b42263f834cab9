//! Faults that random histories and the scripted evening have found, one test each.

use turnabout_protocol::command::{Act, BarLeft, Defect, Reason, Scope, SkipScope};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_server::floor::config::{ScreeningPolicy, Sharing};
use turnabout_server::floor::event::Event;

use crate::rich::{Kind, rich_world};
use crate::undo::Desk;
use crate::world::*;

const PLAIN: Kind = Kind {
    late: false,
    members: false,
    few_stations: false,
    few_clients: false,
    screening: ScreeningPolicy::NotAsked,
    get_set: 8,
};

fn done(turn: turnabout_protocol::ids::TurnId) -> Act {
    Act::Done { turn, reps: None, effort: None, ending: None }
}

#[test]
fn a_light_set_done_once_more_may_be_passed_while_it_is_under_way() {
    let mut world = World::with_pair_on();
    for leg in 0..=1 {
        world.whole_set(AYLA, turn(PAIR, DARA, 0, leg));
    }
    let light = turn(PAIR, DARA, 0, 0);
    world.accept(&coach(AYLA), Act::TechniqueAgain { turn: turn(PAIR, DARA, 1, 0) });
    world.begin(AYLA, light);
    world.pass(14);
    world.accept(&coach(AYLA), Act::PassTechnique { turn: light });
    world.accept(&coach(AYLA), done(light));
    world.begin(AYLA, turn(PAIR, DARA, 1, 0));
}

#[test]
fn a_set_of_an_exercise_that_is_left_out_does_not_come_next_while_another_is_under_way() {
    let mut world = World::with_pair_on();
    let (press, row) = (turn(PAIR, DARA, 0, 0), turn(PAIR, DARA, 0, 1));
    let skip = Act::Skip { turn: press, skip: SkipScope::Exercise, reason: Reason::CoachDecides };
    world.accept(&coach(AYLA), skip);
    world.begin(AYLA, row);
    world.pass(60);
    world.accept(&coach(AYLA), Act::PassTechnique { turn: press });
    let left_out = turn(PAIR, DARA, 1, 0);
    let next = turn(PAIR, DARA, 1, 1);
    world.refuse(&coach(AYLA), Act::ConfirmLoad { turn: left_out }, Refusal::NotNext { turn: row });
    world.refuse(&coach(AYLA), Act::Go { turn: left_out }, Refusal::NotNext { turn: row });
    world.accept(&coach(AYLA), done(row));
    world.accept(&coach(AYLA), Act::PassTechnique { turn: row });
    world.accept(&coach(AYLA), Act::Go { turn: next });
}

/// The pair and the single share bench 1; the single is lifting there.
fn shared() -> World {
    let mut floor = floor();
    floor.stations.get_mut(&BENCH).unwrap().sharing = Sharing::Open;
    let mut world = World::empty();
    world.take(Actor::Floor, world.now, Event::FloorSet(Box::new(floor)));
    world.all_arrive();
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.claim(BRAM, SINGLE, &[BENCH, ROW_2]);
    world
}

#[test]
fn the_bar_stays_confirmed_under_a_lifter_when_the_other_group_gives_the_station_up() {
    let mut world = shared();
    for leg in 0..=1 {
        for client in [DARA, EDDA] {
            world.whole_set(AYLA, turn(PAIR, client, 0, leg));
        }
    }
    for client in [DARA, EDDA] {
        world.accept(&coach(AYLA), Act::Leave { group: PAIR, client });
    }
    world.begin(BRAM, turn(SINGLE, FARID, 0, 0));
    let bar = Some(BarLeft::Stripped);
    let load = world.current(turn(SINGLE, FARID, 0, 0)).load;
    world.accept(&coach(AYLA), Act::FreeStations { group: PAIR, block: 0, bar });
    assert_eq!(world.state.stations[&BENCH].load, load);
    world.pass(14);
    world.accept(&coach(BRAM), done(turn(SINGLE, FARID, 0, 0)));
}

#[test]
fn a_station_is_not_back_in_service_before_the_set_on_it_is_over() {
    let mut world = World::with_pair_on();
    let press = turn(PAIR, DARA, 0, 0);
    world.begin(AYLA, press);
    world.accept(&coach(AYLA), Act::OutOfService { station: BENCH, defect: Defect::Plates });
    let busy = Refusal::StationBusy { station: BENCH, turn: press };
    world.refuse(&coach(AYLA), Act::BackInService { station: BENCH }, busy);
    world.pass(14);
    world.accept(&coach(AYLA), done(press));
    world.accept(&coach(AYLA), Act::BackInService { station: BENCH });
    assert_eq!(world.state.stations[&BENCH].confirmed, None, "somebody was at the plates");
}

#[test]
fn whoever_was_stopped_and_left_is_still_stopped_after_coming_back() {
    let mut world = World::with_pair_on();
    world.accept(&coach(AYLA), Act::Stop { scope: Scope::Client { group: PAIR, client: DARA } });
    world.accept(&coach(AYLA), Act::Leave { group: PAIR, client: DARA });
    world.accept(&coach(AYLA), Act::Arrive { group: PAIR, clients: vec![DARA] });
    world.accept(&coach(AYLA), Act::ConfirmLoad { turn: turn(PAIR, DARA, 0, 0) });
    world.refuse(&coach(AYLA), Act::Go { turn: turn(PAIR, DARA, 0, 0) }, Refusal::Stopped);
    world.accept(&coach(AYLA), Act::Resume { group: PAIR, client: Some(DARA) });
    world.accept(&coach(AYLA), Act::Go { turn: turn(PAIR, DARA, 0, 0) });
}

#[test]
fn after_a_shortened_rest_the_second_exercise_follows_the_first_without_one() {
    let mut world = World::with_pair_on();
    for (round, leg) in [(0, 0), (0, 1), (1, 0), (1, 1)] {
        world.whole_set(AYLA, turn(PAIR, DARA, round, leg));
    }
    let (press, row) = (turn(PAIR, DARA, 2, 0), turn(PAIR, DARA, 2, 1));
    world.accept(&coach(AYLA), Act::LessRest { turn: press, secs: 10, reason: Reason::ShortOfTime });
    world.begin(AYLA, press);
    world.pass(20);
    world.accept(&coach(AYLA), done(press));
    world.accept(&coach(AYLA), Act::Go { turn: row });
}

#[test]
fn a_group_that_came_and_was_given_up_does_not_count_as_not_coming() {
    let mut world = rich_world(PLAIN);
    world.pass(300);
    world.accept(&coach(AYLA), Act::Arrive { group: LATER, clients: vec![GRETA] });
    world.claim(AYLA, LATER, &[BENCH, ROW]);
    world.pass(3_600);
    let kinds = |kind: &str| {
        world.entries.iter().filter(|e| e.event.group() == Some(LATER) && e.event.kind() == kind).count()
    };
    assert_eq!((kinds("group_lapsed"), kinds("lapse_warned"), kinds("group_not_coming")), (1, 1, 0));
}

#[test]
fn a_group_whose_cable_breaks_goes_elsewhere_before_those_who_wait() {
    let mut world = World::with_pair_on();
    // Nobody can have a second bench, so that Farid waits while a row is free.
    world.accept(&coach(AYLA), Act::OutOfService { station: BENCH_2, defect: Defect::Bench });
    let revision = world.state.groups[&SINGLE].revision;
    world.accept(&coach(BRAM), Act::AskStations { group: SINGLE, block: 0, revision });
    let swap = |world: &World| {
        let revision = world.state.groups[&PAIR].revision;
        Act::SwapStation { group: PAIR, leg: 1, to: ROW_2, revision }
    };
    world.refuse(&coach(AYLA), swap(&world), Refusal::InLine { first: SINGLE });
    world.accept(&coach(AYLA), Act::OutOfService { station: ROW, defect: Defect::Cable });
    world.accept(&coach(AYLA), swap(&world));
    assert_eq!(world.state.held_by(PAIR), [BENCH, ROW_2]);
}

#[test]
fn whoever_works_in_takes_no_station_from_those_who_wait_for_it() {
    let mut world = World::other_with_all(|floor, _| {
        for station in [BENCH, ROW] {
            floor.stations.get_mut(&station).unwrap().sharing = Sharing::Open;
        }
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.accept(&coach(AYLA), Act::OutOfService { station: BENCH_2, defect: Defect::Bench });
    let revision = world.revision(LATER);
    world.accept(&coach(AYLA), Act::AskStations { group: LATER, block: 0, revision });
    let work_in = |despite| Act::TakeStations {
        group: SINGLE,
        block: 0,
        stations: vec![BENCH, ROW],
        revision: 0,
        despite,
    };
    // The bench is the one that the later group gets when the pair is done with it.
    world.refuse(&coach(BRAM), work_in(None), Refusal::InLine { first: LATER });
    world.accept(&coach(BRAM), work_in(Some(Reason::CoachDecides)));
    assert_eq!(world.state.stations[&BENCH].work_in, Some(SINGLE));
}

#[test]
fn a_coach_who_went_away_and_lost_a_group_by_it_does_not_take_that_back() {
    let mut desk = Desk::at(World::with_pair_on());
    let away = desk.tap(&coach(BRAM), Act::Away { coach: BRAM, minutes: 5 }).unwrap();
    // Nobody is waited for who is not there.
    desk.tap(&coach(AYLA), Act::HandOver { groups: vec![SINGLE], from: BRAM, to: AYLA }).unwrap();
    assert_eq!(desk.world.state.groups[&SINGLE].coach, AYLA);
    assert_eq!(desk.undo(&coach(BRAM), away), Err(Refusal::LaterRestsOnIt));
}
