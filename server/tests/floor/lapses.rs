//! Groups of whom nothing is heard: warned, then given up, at every phase.

use turnabout_protocol::command::{Act, CallKind, Scope};
use turnabout_protocol::ids::CallId;
use turnabout_server::floor::config::Day;
use turnabout_server::floor::local_time::Minute;
use turnabout_server::floor::state::ClientNow;

use crate::world::*;

/// With nothing heard, from the moment since when somebody should have spoken: warned after 600 s, given up
/// 300 s later.
fn lapses_after(mut world: World, group: turnabout_protocol::ids::GroupId, quiet: i64) {
    world.pass(quiet + 599);
    assert_eq!(world.state.groups[&group].warned, None);
    world.pass(1);
    assert_eq!(world.state.groups[&group].warned, Some(world.now));
    let mut answered = world.clone();
    world.pass(299);
    assert!(world.state.groups[&group].clients.values().any(ClientNow::is_here));
    world.pass(1);
    assert!(world.state.groups[&group].claim.is_none() && world.state.held_by(group).is_empty());
    assert!(!world.state.groups[&group].clients.values().any(ClientNow::is_here));
    assert_eq!(world.state.place_in_line(group), None);
    assert_eq!(world.replayed(), world.state);
    // One tap is enough.
    answered.accept(&coach(AYLA), Act::StillHere { group });
    answered.pass(599);
    assert_eq!(answered.state.groups[&group].warned, None);
    assert!(answered.state.groups[&group].clients.values().any(ClientNow::is_here));
}

#[test]
fn a_silent_group_is_warned_and_given_up_at_every_phase() {
    // Reserved.
    lapses_after(World::with_pair_on(), PAIR, 0);
    // In line.
    let mut line = World::with_pair_on();
    line.accept(
        &coach(BRAM),
        Act::OutOfService { station: ROW_2, defect: turnabout_protocol::command::Defect::Pin },
    );
    line.accept(&coach(AYLA), Act::AskStations { group: LATER, block: 0, revision: 0 });
    lapses_after(line, LATER, 0);
    // A light set under way: it ends 10 + 3 + 16 s after GO.
    let mut light = World::with_pair_on();
    light.begin(AYLA, turn(PAIR, DARA, 0, 0));
    lapses_after(light, PAIR, 29);
    // Assumed to be over.
    let mut assumed = World::with_pair_on();
    assumed.begin(AYLA, turn(PAIR, DARA, 0, 0));
    assumed.pass(29);
    assert!(assumed.current(turn(PAIR, DARA, 0, 0)).assumed);
    lapses_after(assumed, PAIR, 0);
    // Changeover.
    let mut over = World::with_pair_on();
    over.sets(AYLA, PAIR, DARA, &[(0, 0)]);
    lapses_after(over.clone(), PAIR, 0);
    // Rest, of which the shortest is 60 s.
    over.sets(AYLA, PAIR, DARA, &[(0, 1), (1, 0), (1, 1)]);
    lapses_after(over, PAIR, 60);
    // Put off.
    let mut put_off = World::with_pair_on();
    put_off.accept(&coach(AYLA), Act::MoreRest { turn: turn(PAIR, DARA, 0, 0), secs: 600 });
    lapses_after(put_off, PAIR, 600);
    // Held.
    for hold in [Act::Pause { group: PAIR }, Act::Stop { scope: Scope::Group { group: PAIR } }] {
        let mut held = World::with_pair_on();
        held.accept(&coach(AYLA), hold);
        lapses_after(held, PAIR, 0);
    }
}

#[test]
fn who_lapsed_goes_on_where_they_were() {
    let mut world = World::with_pair_on();
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1), (1, 0)]);
    world.pass(1_000);
    assert_eq!(world.state.groups[&PAIR].claim, None);
    world.accept(&coach(AYLA), Act::Arrive { group: PAIR, clients: vec![DARA] });
    world.claim(AYLA, PAIR, &[BENCH_2, ROW_2]);
    assert_eq!(world.next(PAIR, DARA), Some(turn(PAIR, DARA, 1, 1)));
    world.sets(AYLA, PAIR, DARA, &[(1, 1)]);
}

#[test]
fn who_is_served_while_warned_is_not_given_up_for_it() {
    let mut world = World::with_pair_on();
    world.accept(&coach(BRAM), Act::OtherUse { station: ROW_2, minutes: 11 });
    world.pass(1);
    world.accept(&coach(AYLA), Act::AskStations { group: LATER, block: 0, revision: 0 });
    while world.now.0 < 659_000 {
        world.pass(47);
        world.accept(&coach(AYLA), Act::StillHere { group: PAIR });
    }
    assert!(world.state.groups[&LATER].warned.is_some());
    world.pass(2);
    assert!(world.state.groups[&LATER].claim.is_some());
    world.pass(599);
    assert!(world.state.groups[&LATER].claim.is_some(), "silence counts from the stations on");
}

#[test]
fn nothing_is_given_up_where_help_is_needed_nor_at_once_after() {
    let mut world = World::with_pair_on();
    world.pass(700);
    assert!(world.state.groups[&PAIR].warned.is_some());
    world.accept(&kiosk(&[ROW]), Act::Call { station: ROW, call: CallKind::HelpNow });
    world.pass(3_000);
    assert!(world.state.groups[&PAIR].claim.is_some());
    world.accept(&coach(AYLA), Act::Attend { call: CallId(1) });
    world.pass(599);
    assert!(world.state.groups[&PAIR].claim.is_some());
    world.pass(301);
    assert_eq!(world.state.groups[&PAIR].claim, None);
}

#[test]
fn stations_are_not_given_back_by_themselves_where_help_is_needed() {
    let mut world = World::new();
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.sets(BRAM, SINGLE, FARID, &[(0, 0), (0, 1), (1, 0), (1, 1), (2, 0), (2, 1)]);
    world.accept(&kiosk(&[ROW]), Act::Call { station: ROW, call: CallKind::HelpNow });
    world.pass(500);
    assert!(world.state.groups[&SINGLE].claim.is_some());
    world.accept(&coach(AYLA), Act::Attend { call: CallId(1) });
    assert_eq!(world.state.groups[&SINGLE].claim, None);
}

#[test]
fn time_that_the_server_was_down_is_nobodys_silence() {
    let mut world = World::with_pair_on();
    world.accept(&coach(AYLA), Act::MoreRest { turn: turn(PAIR, DARA, 0, 0), secs: 600 });
    world.pass(601);
    world.down(3_000);
    world.pass(598);
    assert_eq!(world.state.groups[&PAIR].warned, None, "nor of the rest before it");
    world.pass(10);
    assert!(world.state.groups[&PAIR].warned.is_some());
    world.down(3_000);
    world.pass(280);
    assert!(world.state.groups[&PAIR].claim.is_some());
    world.pass(20);
    assert_eq!(world.state.groups[&PAIR].claim, None);
}

/// The pair is to start at one o'clock and nobody has come.
fn expected_at_one() -> World {
    World::other(|_, programme| {
        programme.day = Some(Day { year: 1970, month: 1, day: 1 });
        programme.groups.get_mut(&PAIR).unwrap().starts = Minute::new(60);
    })
}

#[test]
fn a_group_that_does_not_come_is_noted_after_a_warning() {
    let mut world = expected_at_one();
    world.pass(3_600 + 599);
    assert_eq!(world.state.groups[&PAIR].warned, None);
    world.pass(1);
    assert!(world.state.groups[&PAIR].warned.is_some());
    let mut came = world.clone();
    world.pass(600);
    assert!(world.state.groups[&PAIR].no_show);
    came.accept(&coach(AYLA), Act::Arrive { group: PAIR, clients: vec![EDDA] });
    came.pass(5_000);
    assert!(!came.state.groups[&PAIR].no_show);
    // Late is better than never.
    world.accept(&coach(AYLA), Act::Arrive { group: PAIR, clients: vec![DARA] });
    assert!(!world.state.groups[&PAIR].no_show);
}

#[test]
fn who_came_and_left_has_come() {
    let mut world = expected_at_one();
    for client in [DARA, EDDA] {
        world.accept(&coach(AYLA), Act::Arrive { group: PAIR, clients: vec![client] });
        world.accept(&coach(AYLA), Act::Leave { group: PAIR, client });
    }
    world.pass(10_000);
    assert!(!world.state.groups[&PAIR].no_show);
}

#[test]
fn only_what_the_server_missed_of_the_waiting_is_added_to_it() {
    // Down for half an hour long before the start: nobody waits longer for that.
    let mut world = expected_at_one();
    world.pass(600);
    world.down(1_800);
    world.pass(3_600 + 600 - 2_400);
    assert!(world.state.groups[&PAIR].warned.is_some());
    // Down from ten minutes before it to five minutes after.
    let mut world = expected_at_one();
    world.pass(3_000);
    world.down(900);
    world.pass(599);
    assert_eq!(world.state.groups[&PAIR].warned, None);
    world.pass(1);
    assert!(world.state.groups[&PAIR].warned.is_some());
}
