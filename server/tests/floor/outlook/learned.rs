//! Planned lengths at a client's own pace.

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{ClientId, ExerciseId, TurnId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{Millis, Secs};
use turnabout_server::floor::config::Day;
use turnabout_server::floor::event::Event;
use turnabout_server::floor::outlook::RACKED;
use turnabout_server::floor::pace::{self, LEAST, Pace};

use super::{member_of, outlook};
use crate::world::*;

const PRESS: ExerciseId = ExerciseId(1);
const ROWS: ExerciseId = ExerciseId(2);

/// Farid alone with many rounds, after the light sets.
fn alone() -> World {
    let mut world = World::other_with_all(|_, programme| {
        programme.day = Some(Day { year: 2026, month: 11, day: 25 });
        programme.groups.get_mut(&SINGLE).unwrap().blocks[0].rounds = 12;
    });
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.sets(BRAM, SINGLE, FARID, &[(0, 0), (0, 1)]);
    world
}

/// A set whose work takes so many seconds, of 40 that are prescribed; the tap comes when it is racked. Where it is `None`
/// the tap comes just when the work was to end.
fn set(world: &mut World, round: u8, leg: u8, secs: Option<u32>) {
    let turn = turn(SINGLE, FARID, round, leg);
    world.rest(SINGLE, FARID);
    world.begin(BRAM, turn);
    let starts = world.current(turn).starts;
    let taps = secs.map_or(Secs(40), |secs| Secs(secs + RACKED.0));
    world.pass_to(starts + taps);
    world.accept(&coach(BRAM), Act::Done { turn, reps: None, effort: None, ending: None });
}

fn pace(world: &World, client: ClientId, exercise: ExerciseId) -> Option<(u16, u8)> {
    pace::of(&world.state, client, exercise).map(|pace| (pace.per_mille, pace.sets))
}

#[test]
fn the_median_of_the_last_sets_counts_once_there_are_enough() {
    let mut world = alone();
    for (round, (secs, known)) in (1..).zip([
        (Some(50), None),
        (Some(50), None),
        // 50, 50 and 30 of 40 s: the middle one.
        (Some(30), Some((1_250, 3))),
        // The lower of the two in the middle.
        (Some(30), Some((750, 4))),
        // As prescribed to the millisecond: nobody has looked at the clock.
        (None, Some((750, 4))),
        (Some(44), Some((1_100, 5))),
    ]) {
        set(&mut world, round, 0, secs);
        assert_eq!(pace(&world, FARID, PRESS), known, "after round {round}");
        set(&mut world, round, 1, None);
    }
    assert_eq!(pace(&world, FARID, ROWS), None, "each exercise for itself");
    assert_eq!(LEAST, 3);
    // 13 s to get set, 44 at this pace, 4 to rack it: the station is free when the tap comes.
    let outlook = outlook(&world);
    let farid = member_of(&outlook, SINGLE, FARID);
    let lengths: Vec<_> = farid.rounds[0].legs.iter().map(|leg| leg.as_ref().unwrap().length).collect();
    assert_eq!(lengths, [Secs(13 + 44 + 4), Secs(11 + 40 + 4)]);
    assert_eq!(Pace { per_mille: 1_100, sets: 5 }.of(Millis::secs(40)), Millis::secs(44));
}

#[test]
fn sets_that_were_broken_off_say_nothing() {
    let mut world = alone();
    for round in 1..=4 {
        let turn: TurnId = turn(SINGLE, FARID, round, 0);
        world.rest(SINGLE, FARID);
        world.begin(BRAM, turn);
        world.pass(25);
        let reps = Some(3);
        world.accept(&coach(BRAM), Act::Done { turn, reps, effort: None, ending: None });
        set(&mut world, round, 1, None);
    }
    assert_eq!(pace(&world, FARID, PRESS), None);
}

#[test]
fn what_was_learned_is_kept_from_evening_to_evening() {
    let mut world = alone();
    for round in 1..=3 {
        set(&mut world, round, 0, Some(50));
        set(&mut world, round, 1, None);
    }
    let known = pace(&world, FARID, PRESS);
    assert_eq!(known, Some((1_250, 3)));
    let mut programme = world.state.programme.clone();
    programme.day = Some(Day { year: 2026, month: 11, day: 27 });
    world.take(Actor::Floor, world.now, Event::ProgrammeSet(Box::new(programme)));
    assert_eq!(pace(&world, FARID, PRESS), known);
    assert_eq!(world.state.began, world.now, "another evening has begun");
    assert_eq!(world.replayed(), world.state);
}

#[test]
fn a_planned_turn_ends_when_the_tap_comes_however_late_a_client_taps() {
    for secs in [30, 47] {
        let mut world = alone();
        for round in 1..=3 {
            set(&mut world, round, 0, Some(secs));
            set(&mut world, round, 1, None);
        }
        let press = turn(SINGLE, FARID, 4, 0);
        let planned = {
            let outlook = outlook(&world);
            member_of(&outlook, SINGLE, FARID).rounds[0].legs[0].as_ref().unwrap().length
        };
        world.rest(SINGLE, FARID);
        world.begin(BRAM, press);
        let went = world.now;
        let free = || {
            let outlook = outlook(&world);
            let bench = outlook.who.station(BENCH).unwrap();
            outlook.who.instant(outlook.instance.stations[bench].free_at)
        };
        // Before GO and after it the same is planned, and the tap comes then.
        let tap = world.current(press).starts + Secs(secs + RACKED.0);
        assert_eq!(tap.since(went).ceil_secs(), i64::from(planned.0), "{secs} s");
        assert!(free().since(tap).0.abs() < 1_000, "{secs} s");
    }
}
