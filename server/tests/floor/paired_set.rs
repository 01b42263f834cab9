//! One client through a whole paired set, by the clock.

use turnabout_protocol::command::{Act, Effort};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::{After, Stage};
use turnabout_server::floor::decide::Verdict;
use turnabout_server::floor::event::Event;
use turnabout_server::floor::in_hand::InHand;

use crate::world::*;

const PRESS: (u8, u8) = (1, 0);
const ROWS: (u8, u8) = (1, 1);

/// Farid alone on bench 1 and row 1, technique passed, nothing else done.
fn ready() -> World {
    let mut world = World::new();
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.whole_set(BRAM, turn(SINGLE, FARID, 0, 0));
    world.whole_set(BRAM, turn(SINGLE, FARID, 0, 1));
    world
}

#[test]
fn go_leads_through_get_set_and_count_in_to_a_set_as_long_as_its_tempo() {
    let mut world = ready();
    let press = turn(SINGLE, FARID, PRESS.0, PRESS.1);
    let t = world.now;
    world.begin(BRAM, press);
    let set = world.current(press);
    // 10 s to get set where somebody spots, 3-2-1, then 2-0-2-0 x 10 = 40 s (arithmetic of the notation;
    // about 2 s down and 2 s up are common practice, no source).
    assert_eq!((set.count_in, set.starts, set.ends), (t + secs(10), t + secs(13), t + secs(53)));
    assert_eq!(set.spotter, Some(spots(BRAM)), "the coach who says GO at the bar spots");

    // A row is not spotted: 8 s.
    world.pass_to(set.ends);
    world.accept(&coach(BRAM), Act::Done { turn: press, reps: None, effort: None, ending: None });
    let rows = turn(SINGLE, FARID, ROWS.0, ROWS.1);
    let t = world.now;
    world.accept(&kiosk(&[ROW]), Act::Go { turn: rows });
    assert_eq!(world.current(rows).starts, t + secs(11));
}

#[test]
fn the_technique_set_has_four_repetitions_of_the_lightest_load() {
    // 3-4 repetitions: common practice, no source.
    let mut world = World::new();
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    let technique = turn(SINGLE, FARID, 0, 0);
    world.begin(BRAM, technique);
    let set = world.current(technique);
    assert_eq!((set.reps, set.load), (4, Some(kilos(20))));
    assert_eq!(set.ends, set.starts + secs(16));
}

#[test]
fn the_rest_clock_starts_as_the_second_exercise_ends() {
    // Common practice, no source: rest only after the second exercise; 60 s in a muscle-growth block of
    // ten repetitions.
    let mut world = ready();
    world.whole_set(BRAM, turn(SINGLE, FARID, 1, 0));
    let hand = InHand::of(&world.state, SINGLE).unwrap();
    let between = hand.coming(FARID).unwrap();
    assert_eq!(between.after, After::Changeover { since: world.now, limit: world.now + secs(20) });
    assert_eq!(between.go_from, world.now, "no rest between the two");

    world.whole_set(BRAM, turn(SINGLE, FARID, 1, 1));
    let ended = world.now;
    let hand = InHand::of(&world.state, SINGLE).unwrap();
    let rest = hand.coming(FARID).unwrap();
    assert_eq!(rest.after, After::Rest { since: ended, latest: ended + secs(120) });
    assert_eq!((rest.earliest, rest.ready), (ended + secs(60), ended + secs(60)));
    assert_eq!(rest.go_from, ended + secs(47), "GO at 47 s starts the lift at 60 s");

    let press = turn(SINGLE, FARID, 2, 0);
    world.pass_to(rest.go_from + turnabout_protocol::units::Millis(-1));
    world.refuse(&coach(BRAM), Act::Go { turn: press }, Refusal::RestNotOver { until: rest.earliest });
    world.pass_to(rest.go_from);
    world.accept(&coach(BRAM), Act::Go { turn: press });
    assert_eq!(world.current(press).starts, rest.earliest);
}

#[test]
fn a_set_that_nobody_ends_is_assumed_and_holds_station_and_spotter() {
    let mut world = ready();
    let press = turn(SINGLE, FARID, 1, 0);
    world.begin(BRAM, press);
    let ends = world.current(press).ends;
    world.pass_to(ends + secs(300));
    assert!(world.current(press).assumed);
    assert_eq!(world.state.stations[&BENCH].on, Some(press));
    assert_eq!(world.state.spotted_by(spots(BRAM), world.now), Some(press));
    // The changeover has been counting since the prescribed end.
    let after = InHand::of(&world.state, SINGLE).unwrap().coming(FARID).unwrap().after;
    assert_eq!(after, After::Changeover { since: ends, limit: ends + secs(20) });
    // GO at the row does not free a spotter: that needs a tap of its own.
    let rows = turn(SINGLE, FARID, 1, 1);
    world.refuse(&kiosk(&[ROW]), Act::Go { turn: rows }, Refusal::NotRacked { turn: press });
}

#[test]
fn going_on_confirms_a_set_that_had_no_spotter() {
    let mut world = ready();
    world.whole_set(BRAM, turn(SINGLE, FARID, 1, 0));
    let rows = turn(SINGLE, FARID, 1, 1);
    world.accept(&kiosk(&[ROW]), Act::Go { turn: rows });
    let ends = world.current(rows).ends;
    world.pass_to(ends + secs(100));
    let press = turn(SINGLE, FARID, 2, 0);
    world.begin(BRAM, press);
    let record = world.state.groups[&SINGLE].clients[&FARID].sets[3].done().unwrap().clone();
    assert_eq!((record.ended, record.reps.now(), record.effort.now()), (ends, Some(10), None));
    assert_eq!(world.state.stations[&ROW].on, None);
}

#[test]
fn a_done_tap_is_believed_within_the_set_and_two_minutes_back() {
    let press = turn(SINGLE, FARID, 1, 0);
    let done = Act::Done { turn: press, reps: Some(8), effort: Some(Effort::Heavy), ending: None };
    // (the tap's own time, when it arrives, the end that is recorded), in seconds from the first repetition;
    // the prescribed end is at 40.
    for (at, arrives, ended) in [
        (30, 31, 30),   // early
        (40, 41, 40),   // on time
        (55, 56, 55),   // ran over by 15 s
        (100, 101, 40), // forgotten: the prescribed end stands
        (35, 100, 35),  // the link was down
        (-5, 38, 38),   // before the first repetition: not believed
        (39, 200, 40),  // more than two minutes back: not believed, so forgotten
        (60, 50, 50),   // in the future: not believed
    ] {
        let mut world = ready();
        world.begin(BRAM, press);
        let starts = world.current(press).starts;
        world.pass_to(starts + secs(arrives));
        let verdict = world.tap_at(&kiosk(&[BENCH]), starts + secs(at), done.clone());
        assert!(matches!(verdict, Verdict::Accepted(_)), "{verdict:?}");
        let record = world.state.groups[&SINGLE].clients[&FARID].sets[2].done().unwrap().clone();
        assert_eq!(record.ended, starts + secs(ended), "tapped at {at}, arrived at {arrives}");
        assert_eq!((record.reps.now(), record.effort.now()), (Some(8), Some(Effort::Heavy)));
    }
}

#[test]
fn not_yet_adds_thirty_seconds_and_takes_back_a_count_in() {
    let mut world = ready();
    world.whole_set(BRAM, turn(SINGLE, FARID, 1, 0));
    world.whole_set(BRAM, turn(SINGLE, FARID, 1, 1));
    let press = turn(SINGLE, FARID, 2, 0);
    let ready_at = |world: &World| InHand::of(&world.state, SINGLE).unwrap().coming(FARID).unwrap().ready;
    let first = ready_at(&world);
    world.accept(&kiosk(&[BENCH]), Act::NotYet { turn: press });
    world.accept(&kiosk(&[BENCH]), Act::NotYet { turn: press });
    assert_eq!(ready_at(&world), first + secs(60));

    world.pass_to(first);
    world.begin(BRAM, press);
    world.pass(12);
    world.accept(&kiosk(&[BENCH]), Act::NotYet { turn: press });
    assert_eq!(world.state.stations[&BENCH].on, None);
    assert_eq!(ready_at(&world), world.now + secs(30));
    // The coach still stands at the bar, and the plates have not moved.
    world.accept(&kiosk(&[BENCH]), Act::Go { turn: press });
    world.pass(13);
    world.refuse(&kiosk(&[BENCH]), Act::NotYet { turn: press }, Refusal::UnderWay);
}

#[test]
fn after_the_last_set_the_stations_are_wiped_down_and_free_by_tap_or_by_themselves() {
    let mut world = ready();
    for round in 1..=2 {
        world.whole_set(BRAM, turn(SINGLE, FARID, round, 0));
        world.whole_set(BRAM, turn(SINGLE, FARID, round, 1));
        world.pass(60);
    }
    let stage = |world: &World| {
        let (plan, group) = world.state.group(SINGLE).unwrap();
        group.stage(plan)
    };
    assert_eq!(stage(&world), Stage::WipeDown);
    let mut lapsed = world.clone();
    world.accept(&kiosk(&[ROW]), Act::FreeStations { group: SINGLE, block: 0, bar: None });
    lapsed.pass(120);
    for world in [world, lapsed] {
        assert_eq!(stage(&world), Stage::Finished);
        assert_eq!(world.state.stations[&BENCH].claim, None);
        let load = world.state.stations[&BENCH].load;
        assert_eq!((load, world.state.stations[&BENCH].confirmed), (Some(kilos(70)), None));
    }
}

#[test]
fn downtime_moves_the_changeover_but_not_the_rest() {
    let mut world = ready();
    world.whole_set(BRAM, turn(SINGLE, FARID, 1, 0));
    let ended = world.now;
    let down = secs(600);
    world.now = world.now + down;
    world.take(turnabout_protocol::role::Actor::Floor, world.now, Event::Resumed { down });
    let after = InHand::of(&world.state, SINGLE).unwrap().coming(FARID).unwrap().after;
    assert_eq!(after, After::Changeover { since: ended, limit: ended + secs(620) });

    world.whole_set(BRAM, turn(SINGLE, FARID, 1, 1));
    let ended = world.now;
    world.now = world.now + down;
    world.take(turnabout_protocol::role::Actor::Floor, world.now, Event::Resumed { down });
    let coming = InHand::of(&world.state, SINGLE).unwrap().coming(FARID).unwrap();
    assert_eq!(coming.earliest, FloorMs(ended.0 + 60_000));
}
