//! HELP NOW at a station: until somebody has taken care of it nothing begins there, and nobody is given it.

use turnabout_protocol::command::{Act, CallKind};
use turnabout_protocol::ids::{CallId, StationId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::view::{Need, TurnPhase, View};
use turnabout_server::floor::config::Sharing;
use turnabout_server::floor::views::Watch;

use crate::world::*;

const CALL: CallId = CallId(1);

fn help(station: StationId) -> Act {
    Act::Call { station, call: CallKind::HelpNow }
}

fn needed(station: StationId) -> Refusal {
    Refusal::HelpNeeded { station, call: CALL }
}

/// What the coming set at a station waits for, as its display says.
fn needs(world: &World, station: StationId) -> Vec<Need> {
    let View::Station(view) = world.view(&Watch::Station(vec![station])) else { panic!("a station's view") };
    match view.stations.into_iter().next().and_then(|line| line.turn).map(|turn| turn.phase) {
        Some(TurnPhase::Coming { needs, .. }) => needs,
        other => panic!("no coming set but {other:?}"),
    }
}

#[test]
fn nothing_begins_where_somebody_needs_help() {
    let press = turn(PAIR, DARA, 0, 0);
    let mut world = World::with_pair_on();
    world.accept(&coach(AYLA), Act::ConfirmLoad { turn: press });
    // COACH PLEASE holds nobody up.
    world.accept(&kiosk(&[BENCH]), Act::Call { station: BENCH, call: CallKind::CoachPlease });
    world.accept(&coach(AYLA), Act::Attend { call: CALL });
    let mut asked = world.clone();
    asked.accept(&kiosk(&[BENCH]), Act::Call { station: BENCH, call: CallKind::CoachPlease });
    asked.accept(&coach(AYLA), Act::Go { turn: press });

    world.accept(&kiosk(&[BENCH]), help(BENCH));
    let call = CallId(2);
    let refusal = || Refusal::HelpNeeded { station: BENCH, call };
    assert!(needs(&world, BENCH).contains(&Need::Help));
    world.refuse(&kiosk(&[BENCH]), Act::Go { turn: press }, refusal());
    world.refuse(&coach(AYLA), Act::Go { turn: press }, refusal());
    // That somebody is on the way does not make it right.
    world.accept(&coach(AYLA), Act::Answer { call });
    world.refuse(&coach(BRAM), Act::Go { turn: press }, refusal());
    world.accept(&coach(BRAM), Act::Attend { call });
    assert!(!needs(&world, BENCH).contains(&Need::Help));
    world.accept(&coach(AYLA), Act::Go { turn: press });
}

#[test]
fn a_set_under_way_goes_on_to_its_end_and_another_station_is_free_to_use() {
    let press = turn(PAIR, DARA, 0, 0);
    let mut world = World::with_pair_on();
    world.begin(AYLA, press);
    world.pass(20);
    world.accept(&kiosk(&[BENCH]), help(BENCH));
    world.pass(20);
    world.accept(&kiosk(&[BENCH]), Act::Done { turn: press, reps: None, effort: None, ending: None });
    world.accept(&coach(AYLA), Act::Go { turn: turn(PAIR, DARA, 0, 1) });
    let next = turn(PAIR, EDDA, 0, 0);
    world.refuse(&coach(AYLA), Act::Go { turn: next }, needed(BENCH));
}

#[test]
fn nobody_is_given_a_station_where_somebody_needs_help() {
    let mut world = World::new();
    world.accept(&kiosk(&[BENCH]), help(BENCH));
    let take = |stations: [StationId; 2]| Act::TakeStations {
        group: SINGLE,
        block: 0,
        stations: stations.to_vec(),
        revision: 0,
        despite: None,
    };
    world.refuse(&coach(BRAM), take([BENCH, ROW]), needed(BENCH));
    // Who waits gets the other bench; who comes after waits for this one, and gets it when all is well.
    for (who, group) in [(BRAM, SINGLE), (AYLA, LATER)] {
        world.accept(&coach(who), Act::AskStations { group, block: 0, revision: 0 });
    }
    let held = |world: &World, group| world.state.held_by(group);
    assert_eq!((held(&world, SINGLE), held(&world, LATER)), (vec![BENCH_2, ROW], vec![]));
    world.accept(&coach(AYLA), Act::Attend { call: CALL });
    assert_eq!(held(&world, LATER), [BENCH, ROW_2]);
}

#[test]
fn nobody_moves_or_works_in_where_somebody_needs_help() {
    let mut world = World::other_with_all(|floor, _| {
        floor.stations.values_mut().for_each(|station| station.sharing = Sharing::Open);
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    world.accept(&kiosk(&[BENCH_2]), help(BENCH_2));
    let swap = Act::SwapStation { group: PAIR, leg: 0, to: BENCH_2, revision: 1 };
    world.refuse(&coach(AYLA), swap.clone(), needed(BENCH_2));
    // Away from there is always right.
    world.accept(&coach(BRAM), Act::SwapStation { group: SINGLE, leg: 0, to: BENCH, revision: 1 });
    world.accept(&coach(AYLA), Act::Attend { call: CALL });
    world.accept(&coach(AYLA), swap);
}
