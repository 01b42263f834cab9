//! How sets end, what is left out or done otherwise, and what is said of a set later.

use turnabout_protocol::command::{Act, Effort, Ending, Reason, Scope, SkipScope};
use turnabout_protocol::ids::{ExerciseId, StationId, TurnId};
use turnabout_protocol::refusal::Refusal;
use turnabout_server::floor::config::Floor;
use turnabout_server::floor::state::SetOver;
use turnabout_server::loading::gear::Gear;
use turnabout_server::training::movement::Movement;

use crate::deeds::assistant;
use crate::world::*;

const PRESS: ExerciseId = ExerciseId(1);
const CLOSE_GRIP: ExerciseId = ExerciseId(3);
const ELSEWHERE: ExerciseId = ExerciseId(4);
const BENCH_3: StationId = StationId(6);

/// The bench press has two others of its movement: one at both benches, one at the second bench alone.
fn with_others(floor: &mut Floor) {
    floor.exercises.get_mut(&PRESS).unwrap().movement = Movement::HorizontalPress;
    let others: [(ExerciseId, &[StationId]); 2] = [(CLOSE_GRIP, &[BENCH, BENCH_2]), (ELSEWHERE, &[BENCH_2])];
    for (id, stations) in others {
        let mut other = floor.exercises[&PRESS].clone();
        other.id = id;
        other.stations = stations.iter().copied().collect();
        floor.exercises.insert(id, other);
    }
}

fn swap(world: &World, exercise: ExerciseId, station: Option<StationId>, load: Option<i64>) -> Act {
    let (load, revision) = (load.map(kilos), world.revision(PAIR));
    Act::SwapExercise { group: PAIR, client: DARA, leg: 0, exercise, station, load, sure: false, revision }
}

fn skip(turn: TurnId, skip: SkipScope) -> Act {
    Act::Skip { turn, skip, reason: Reason::ClientAsked }
}

/// Dara has done her light sets.
fn light_done() -> World {
    let mut world = World::other_with_all(|floor, _| with_others(floor));
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1)]);
    world
}

#[test]
fn a_set_ends_in_one_of_six_ways() {
    let done = |reps, ending| Act::Done { turn: turn(PAIR, DARA, 1, 0), reps, effort: None, ending };
    let mut world = light_done();
    world.begin(AYLA, turn(PAIR, DARA, 1, 0));
    world.pass(30);
    for (reps, ending, kept) in [
        (None, None, Ending::Complete),
        (Some(10), None, Ending::Complete),
        (Some(8), None, Ending::Short),
        (Some(8), Some(Ending::Short), Ending::Short),
        (Some(9), Some(Ending::Helped { reps: 2 }), Ending::Helped { reps: 2 }),
        (Some(7), Some(Ending::Failed), Ending::Failed),
        (Some(7), Some(Ending::FormBroken), Ending::FormBroken),
        (Some(3), Some(Ending::EquipmentFault), Ending::EquipmentFault),
    ] {
        let mut world = world.clone();
        world.accept(&kiosk(&[BENCH]), done(reps, ending));
        let record = world.state.record(turn(PAIR, DARA, 1, 0)).unwrap();
        assert_eq!((record.reps.now(), record.ending.now()), (Some(reps.unwrap_or(10)), kept));
    }
    for helped in [0, 9] {
        let said = done(Some(8), Some(Ending::Helped { reps: helped }));
        world.refuse(&kiosk(&[BENCH]), said, Refusal::RepsRange { most: 8 });
    }
}

#[test]
fn a_set_a_round_or_an_exercise_is_left_out() {
    let mut world = light_done();
    let (press, row) = (turn(PAIR, DARA, 1, 0), turn(PAIR, DARA, 1, 1));
    // A client leaves out a working set, and no more than that.
    world.refuse(&kiosk(&[BENCH]), skip(press, SkipScope::Round), Refusal::RoleMayNot);
    world.refuse(&kiosk(&[BENCH]), skip(press, SkipScope::Exercise), Refusal::RoleMayNot);
    let light = turn(PAIR, EDDA, 0, 0);
    world.refuse(&kiosk(&[BENCH]), skip(light, SkipScope::Set), Refusal::RoleMayNot);
    world.refuse(&coach(AYLA), skip(row, SkipScope::Set), Refusal::NotNext { turn: press });
    let mut set = world.clone();
    set.accept(&kiosk(&[BENCH]), skip(press, SkipScope::Set));
    assert_eq!(set.next(PAIR, DARA), Some(row));
    set.refuse(
        &coach(AYLA),
        Act::Done { turn: press, reps: None, effort: None, ending: None },
        Refusal::WasSkipped,
    );
    set.refuse(&coach(AYLA), Act::Effort { turn: press, effort: Effort::Light }, Refusal::WasSkipped);
    set.refuse(&coach(AYLA), Act::Reps { turn: press, reps: 1 }, Refusal::WasSkipped);
    set.refuse(&coach(AYLA), Act::Go { turn: press }, Refusal::Over);
    let mut round = world.clone();
    round.accept(&coach(AYLA), skip(press, SkipScope::Round));
    assert_eq!(round.next(PAIR, DARA), Some(turn(PAIR, DARA, 2, 0)));
    world.accept(&coach(AYLA), skip(press, SkipScope::Exercise));
    assert_eq!(world.next(PAIR, DARA), Some(row));
    world.sets(AYLA, PAIR, DARA, &[(1, 1)]);
    assert_eq!(world.next(PAIR, DARA), Some(turn(PAIR, DARA, 2, 1)), "in every later round too");
}

#[test]
fn leaving_out_a_round_leaves_out_that_round_alone() {
    // Three exercises of which the second is left out.
    let mut world = World::other_with_all(|_, programme| {
        let block = &mut programme.groups.get_mut(&PAIR).unwrap().blocks[0];
        let third = block.legs[1].clone();
        block.legs.push(third);
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW, ROW_2]);
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1), (0, 2), (1, 0)]);
    world.accept(&coach(AYLA), skip(turn(PAIR, DARA, 1, 1), SkipScope::Exercise));
    world.sets(AYLA, PAIR, DARA, &[(1, 2)]);
    let press = turn(PAIR, DARA, 2, 0);
    let mut set = world.clone();
    set.accept(&coach(AYLA), skip(press, SkipScope::Set));
    assert_eq!(set.next(PAIR, DARA), Some(turn(PAIR, DARA, 2, 2)), "what is left out comes not next");
    world.accept(
        &coach(AYLA),
        Act::SetRounds { group: PAIR, block: 0, rounds: 3, revision: world.revision(PAIR) },
    );
    world.accept(&coach(AYLA), skip(press, SkipScope::Round));
    assert_eq!(world.next(PAIR, DARA), Some(turn(PAIR, DARA, 3, 0)));
}

#[test]
fn another_exercise_of_the_movement_begins_with_a_light_set() {
    let mut world = light_done();
    let by = coach(AYLA);
    let not_this = swap(&world, ExerciseId(2), None, Some(40));
    world.refuse(&by, not_this, Refusal::OtherMovement);
    let itself = swap(&world, PRESS, None, Some(60));
    world.refuse(&by, itself, Refusal::OtherMovement);
    let unknown = swap(&world, ExerciseId(99), None, Some(60));
    world.refuse(&by, unknown, Refusal::UnknownExercise);
    let there = swap(&world, ELSEWHERE, None, Some(60));
    world.refuse(&by, there, Refusal::StationUnfit { station: BENCH });
    let odd = swap(&world, CLOSE_GRIP, None, Some(57));
    world.refuse(&by, odd, Refusal::LoadUnfit { below: Some(kilos(50)), above: Some(kilos(60)) });
    let heavy = swap(&world, CLOSE_GRIP, None, Some(500));
    world.refuse(&by, heavy, Refusal::LoadUnfit { below: Some(kilos(160)), above: None });
    let none = swap(&world, CLOSE_GRIP, None, None);
    world.refuse(&by, none, Refusal::LoadUnfit { below: None, above: Some(kilos(20)) });
    let good = swap(&world, CLOSE_GRIP, None, Some(50));
    world.accept(&by, good);
    let (light, press) = (turn(PAIR, DARA, 0, 0), turn(PAIR, DARA, 1, 0));
    assert_eq!(world.next(PAIR, DARA), Some(light));
    world.refuse(&by, Act::Go { turn: press }, Refusal::NotNext { turn: light });
    world.begin(AYLA, light);
    assert_eq!(world.current(light).load, Some(kilos(20)));
    let under = swap(&world, PRESS, None, Some(60));
    world.refuse(&by, under, Refusal::SetUnderWay { turn: light });
    world.pass(60);
    world.done(AYLA, light);
    world.refuse(&by, Act::Go { turn: press }, Refusal::TechniqueNotPassed);
    world.accept(&by, Act::PassTechnique { turn: light });
    world.begin(AYLA, press);
    assert_eq!(world.current(press).load, Some(kilos(50)));
    world.pass(60);
    world.done(AYLA, press);
    assert_eq!(world.state.record(press).unwrap().exercise, CLOSE_GRIP);
    // And back to what was planned.
    let back = swap(&world, PRESS, None, Some(60));
    world.accept(&by, back);
    assert_eq!(world.next(PAIR, DARA), Some(turn(PAIR, DARA, 1, 1)), "the row of this round comes first");
    world.sets(AYLA, PAIR, DARA, &[(1, 1)]);
    assert_eq!(world.next(PAIR, DARA), Some(light));
}

#[test]
fn what_one_client_does_elsewhere_stays_there_when_the_group_moves() {
    let mut world = World::other_with_all(|floor, _| {
        with_others(floor);
        // A third bench with 20 kg plates alone, where 50 kg cannot be put on.
        let mut bench = floor.stations[&BENCH].clone();
        bench.key = key("bench-3");
        let Gear::Bar(bar) = &mut bench.gear else { panic!("a bar") };
        bar.plates.retain(|plates| plates.mass == kg(20));
        floor.stations.insert(BENCH_3, bench);
        floor.exercises.get_mut(&PRESS).unwrap().stations.insert(BENCH_3);
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1)]);
    let by = coach(AYLA);
    let at = swap(&world, ELSEWHERE, Some(BENCH_2), Some(50));
    world.accept(&by, at);
    assert_eq!(world.state.held_by(PAIR), [BENCH, BENCH_2, ROW]);
    let to = |world: &World, to| Act::SwapStation { group: PAIR, leg: 0, to, revision: world.revision(PAIR) };
    let third = to(&world, BENCH_3);
    world.accept(&by, third);
    assert_eq!(world.state.held_by(PAIR), [BENCH_2, ROW, BENCH_3]);
    assert_eq!(world.client(PAIR, DARA).legs[0].loads[0], Some(kilos(50)), "she does not lift there");
    assert_eq!(world.client(PAIR, EDDA).legs[0].loads[0], Some(kilos(20)));
    // The group comes to her bench: now she does it where the group does, and a bench where it cannot be done
    // is none for the group.
    let hers = to(&world, BENCH_2);
    world.accept(&by, hers);
    assert_eq!(world.state.held_by(PAIR), [BENCH_2, ROW]);
    let back = to(&world, BENCH);
    world.refuse(&by, back, Refusal::StationUnfit { station: BENCH });
}

#[test]
fn a_light_set_is_done_once_more_when_the_coach_asks() {
    let mut world = light_done();
    let (light, press) = (turn(PAIR, DARA, 0, 0), turn(PAIR, DARA, 1, 0));
    let again = Act::TechniqueAgain { turn: press };
    world.refuse(&coach(AYLA), Act::TechniqueAgain { turn: light }, Refusal::NoTechniqueSet);
    world.accept(&coach(AYLA), again.clone());
    world.refuse(&coach(AYLA), again.clone(), Refusal::NotNext { turn: light });
    world.refuse(&coach(AYLA), skip(light, SkipScope::Set), Refusal::TechniqueNotPassed);
    // The coach may do without after all.
    let mut without = world.clone();
    without.accept(&coach(AYLA), Act::PassTechnique { turn: light });
    without.begin(AYLA, press);
    // Or sees it and passes it while it is done.
    world.begin(AYLA, light);
    world.refuse(&coach(AYLA), Act::PassTechnique { turn: light }, Refusal::TechniqueNotDone);
    world.pass(20);
    world.accept(&coach(AYLA), Act::PassTechnique { turn: light });
    world.done(AYLA, light);
    assert_eq!(world.client(PAIR, DARA).sets.len(), 2, "beside the order");
    assert_eq!(world.client(PAIR, DARA).again.len(), 1);
    world.begin(AYLA, press);
}

#[test]
fn a_rest_is_longer_at_will_and_shorter_only_with_a_reason_that_is_kept() {
    let mut world = light_done();
    let row = turn(PAIR, DARA, 1, 1);
    let less = |turn, secs| Act::LessRest { turn, secs, reason: Reason::ShortOfTime };
    world.refuse(&coach(AYLA), less(turn(PAIR, DARA, 1, 0), 30), Refusal::NoRest);
    world.sets(AYLA, PAIR, DARA, &[(1, 0)]);
    world.refuse(&coach(AYLA), less(row, 30), Refusal::NoRest);
    world.sets(AYLA, PAIR, DARA, &[(1, 1)]);
    let press = turn(PAIR, DARA, 2, 0);
    let ended = world.state.record(row).unwrap().ended;
    world.refuse(&kiosk(&[BENCH]), less(press, 30), Refusal::RoleMayNot);
    world.refuse(&coach(AYLA), less(press, 60), Refusal::SecsRange { least: 0, most: 59 });
    let more = |secs| Act::MoreRest { turn: press, secs };
    world.refuse(&kiosk(&[BENCH]), more(4), Refusal::SecsRange { least: 5, most: 600 });
    world.refuse(&kiosk(&[BENCH]), more(601), Refusal::SecsRange { least: 5, most: 600 });
    world.pass(20);
    world.refuse(&coach(AYLA), Act::Go { turn: press }, Refusal::RestNotOver { until: ended + secs(60) });
    world.accept(&coach(AYLA), less(press, 30));
    assert_eq!(world.already(&coach(BRAM), less(press, 30)).by, coach(AYLA).actor);
    // Taken up: the record says why.
    let mut short = world.clone();
    short.accept(&coach(AYLA), Act::Go { turn: press });
    short.pass(60);
    short.done(AYLA, press);
    assert_eq!(short.state.record(press).unwrap().short_rest, Some(Reason::ShortOfTime));
    // Not taken up: the rest was long enough in the end, and the record does not say otherwise.
    world.pass(60);
    world.begin(AYLA, press);
    world.pass(60);
    world.done(AYLA, press);
    assert_eq!(world.state.record(press).unwrap().short_rest, None);
}

#[test]
fn a_way_over_that_took_too_long_becomes_a_rest_and_not_yet_is_always_there() {
    let mut world = light_done();
    let (press, row) = (turn(PAIR, DARA, 1, 0), turn(PAIR, DARA, 1, 1));
    let rest = |turn| Act::TreatAsRest { turn };
    world.refuse(&coach(AYLA), rest(press), Refusal::NoRest);
    world.sets(AYLA, PAIR, DARA, &[(1, 0)]);
    world.accept(&coach(AYLA), rest(row));
    assert_eq!(world.already(&coach(BRAM), rest(row)).by, coach(AYLA).actor);
    for _ in 0..3 {
        world.accept(&kiosk(&[ROW]), Act::NotYet { turn: row });
    }
    world.accept(&kiosk(&[ROW]), Act::Go { turn: row });
    world.accept(&kiosk(&[ROW]), Act::NotYet { turn: row });
    assert_eq!(world.client(PAIR, DARA).current, None, "a count-in is taken back");
    world.accept(&kiosk(&[ROW]), Act::Go { turn: row });
    world.pass(11);
    world.refuse(&kiosk(&[ROW]), Act::NotYet { turn: row }, Refusal::UnderWay);
}

#[test]
fn a_set_of_the_evening_is_corrected_with_both_kept() {
    let mut world = World::other_with_all(|_, programme| {
        let single = programme.groups.get_mut(&SINGLE).unwrap();
        single.blocks.push(single.blocks[0].clone());
    });
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.sets(BRAM, SINGLE, FARID, &[(0, 0), (0, 1), (1, 0), (1, 1), (2, 0), (2, 1)]);
    world.accept(&coach(BRAM), Act::FreeStations { group: SINGLE, block: 0, bar: None });
    // An earlier block's set, by its name.
    let press = turn(SINGLE, FARID, 2, 0);
    let said = |reps| Act::Correct {
        turn: press,
        reps,
        load: Some(kilos(65)),
        effort: Some(Effort::Heavy),
        ending: Ending::Short,
    };
    world.refuse(&kiosk(&[BENCH]), said(7), Refusal::RoleMayNot);
    world.refuse(&coach(AYLA), said(101), Refusal::RepsRange { most: 100 });
    let unknown = Act::Correct {
        turn: turn(SINGLE, FARID, 3, 0),
        reps: 1,
        load: None,
        effort: None,
        ending: Ending::Short,
    };
    world.refuse(&coach(AYLA), unknown, Refusal::UnknownTurn);
    world.accept(&coach(AYLA), said(7));
    assert_eq!(world.already(&coach(BRAM), said(7)).by, coach(AYLA).actor);
    world.accept(&coach(BRAM), said(6));
    let record = world.state.record(press).unwrap();
    assert_eq!((record.reps.now(), record.load.now()), (Some(6), Some(kilos(65))));
    let first = (record.reps.first.unwrap(), record.load.first.unwrap());
    assert_eq!(
        (first.0.what, first.1.what, first.0.stamp.by),
        (Some(10), Some(kilos(70)), coach(BRAM).actor)
    );
    // Each answer stays with whoever gave it: of the second correction only the repetitions were new.
    assert_eq!(
        (record.reps.last.stamp.by, record.load.last.stamp.by),
        (coach(BRAM).actor, coach(AYLA).actor)
    );
    // At the station it is over and done with.
    world.refuse(&kiosk(&[BENCH]), Act::Reps { turn: press, reps: 4 }, Refusal::Over);
}

#[test]
fn effort_and_repetitions_said_twice_name_who_said_them() {
    let mut world = light_done();
    world.sets(AYLA, PAIR, DARA, &[(1, 0)]);
    let press = turn(PAIR, DARA, 1, 0);
    let effort = Act::Effort { turn: press, effort: Effort::Rir { reps: 2 } };
    world.accept(&kiosk(&[BENCH]), effort.clone());
    assert_eq!(world.already(&coach(BRAM), effort.clone()).by, kiosk(&[BENCH]).actor);
    let reps = |reps| Act::Reps { turn: press, reps };
    // The one does not answer for the other.
    assert_eq!(world.already(&kiosk(&[BENCH]), reps(10)).by, coach(AYLA).actor);
    world.accept(&coach(BRAM), reps(9));
    assert_eq!(world.already(&kiosk(&[BENCH]), reps(9)).by, coach(BRAM).actor);
    assert_eq!(world.already(&coach(BRAM), effort).by, kiosk(&[BENCH]).actor);
    // What was said first is kept with who said it, as long as it is something else.
    let record = world.state.record(press).unwrap();
    let first = record.reps.first.unwrap();
    assert_eq!((first.what, first.stamp.by, record.reps.now()), (Some(10), coach(AYLA).actor, Some(9)));
    assert_eq!(record.effort.first.unwrap().what, Some(Effort::Right));
    assert_eq!((record.load.first, record.ending.first), (None, None));
    world.accept(&kiosk(&[BENCH]), reps(8));
    assert_eq!(world.state.record(press).unwrap().reps.first, Some(first));
    world.accept(&kiosk(&[BENCH]), reps(10));
    let reps = world.state.record(press).unwrap().reps;
    assert_eq!((reps.first, reps.last.stamp.by), (None, kiosk(&[BENCH]).actor));
}

#[test]
fn one_client_is_stopped_alone_and_resumed_alone() {
    let mut world = light_done();
    let stop = |client| Act::Stop { scope: Scope::Client { group: PAIR, client } };
    let resume = |client| Act::Resume { group: PAIR, client };
    let press = turn(PAIR, DARA, 1, 0);
    world.refuse(&coach(AYLA), stop(FARID), Refusal::UnknownClient);
    world.refuse(&coach(AYLA), resume(Some(DARA)), Refusal::NotHalted);
    // A count-in is taken back, and her spotter is still at the bar.
    world.begin(AYLA, press);
    world.accept(&assistant(AYLA), stop(DARA));
    assert_eq!(world.client(PAIR, DARA).current, None);
    world.already(&coach(AYLA), stop(DARA));
    world.refuse(&coach(AYLA), Act::Go { turn: press }, Refusal::Stopped);
    world.accept(&coach(AYLA), Act::ConfirmLoad { turn: turn(PAIR, EDDA, 0, 0) });
    world.accept(&coach(AYLA), Act::Go { turn: turn(PAIR, EDDA, 0, 0) });
    // Holding the whole group and letting it go on does not let go whoever was stopped alone.
    world.accept(&coach(AYLA), Act::Pause { group: PAIR });
    world.accept(&coach(AYLA), resume(None));
    world.accept(&coach(AYLA), Act::ConfirmLoad { turn: press });
    world.refuse(&coach(AYLA), Act::Go { turn: press }, Refusal::Stopped);
    let mut all = world.clone();
    all.accept(&coach(AYLA), resume(None));
    all.accept(&coach(AYLA), Act::Go { turn: press });
    world.accept(&coach(AYLA), resume(Some(DARA)));
    world.accept(&coach(AYLA), Act::Go { turn: press });
    assert!(!matches!(world.client(PAIR, DARA).sets.last(), Some(SetOver::Missed)));
}

#[test]
fn another_exercise_far_above_the_last_load_there_is_asked_about_once() {
    let mut world = light_done();
    world.sets(AYLA, PAIR, DARA, &[(1, 0), (1, 1)]);
    // She has never done it there: nothing says what is far.
    let other = swap(&world, CLOSE_GRIP, None, Some(90));
    world.accept(&coach(AYLA), other);
    // But she has pressed 60 kg there.
    let back = swap(&world, PRESS, None, Some(90));
    world.refuse(&coach(AYLA), back.clone(), Refusal::FarAboveLast { last: kilos(60) });
    let Act::SwapExercise { group, client, leg, exercise, station, load, revision, .. } = back else {
        panic!()
    };
    let meant = Act::SwapExercise { group, client, leg, exercise, station, load, sure: true, revision };
    world.accept(&coach(AYLA), meant);
}
