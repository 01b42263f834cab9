//! Taps that come too early, too late, twice, or at the wrong place.

use turnabout_protocol::card::PlatePart;
use turnabout_protocol::command::{Act, Effort};
use turnabout_protocol::ids::{ClientId, GroupId, StationId};
use turnabout_protocol::refusal::Refusal;
use turnabout_server::floor::decide::Verdict;

use crate::world::*;

#[test]
fn a_claim_names_what_is_wrong_with_it() {
    let take = |group, stations: &[StationId], revision| Act::TakeStations {
        group,
        block: 0,
        stations: stations.to_vec(),
        revision,
        despite: None,
    };
    let mut world = World::with_pair_on();
    let by = coach(AYLA);
    for (act, refusal) in [
        (take(GroupId(9), &[BENCH, ROW], 0), Refusal::UnknownGroup),
        (take(LATER, &[BENCH_2], 0), Refusal::StationCount { wanted: 2 }),
        (take(LATER, &[StationId(99), ROW], 0), Refusal::UnknownStation),
        (take(LATER, &[BENCH_2, ROW_2], 7), Refusal::StaleRevision { revision: 0 }),
        (take(LATER, &[BENCH_2, ROW], 0), Refusal::StationTaken { station: ROW, group: PAIR }),
        (take(PAIR, &[BENCH_2, ROW_2], 1), Refusal::NotWaiting),
    ] {
        world.refuse(&by, act, refusal);
    }
    let again = world.tap(&coach(BRAM), take(PAIR, &[BENCH, ROW], 0));
    let Verdict::Already(stamp) = again else { panic!("{again:?}") };
    assert_eq!(stamp.by, by.actor);
    world.refuse(&kiosk(&[BENCH_2]), take(LATER, &[BENCH_2, ROW_2], 0), Refusal::RoleMayNot);
}

#[test]
fn a_set_out_of_turn_is_refused() {
    let mut world = World::with_pair_on();
    let by = coach(AYLA);
    let (press, rows) = (turn(PAIR, DARA, 0, 0), turn(PAIR, DARA, 0, 1));
    world.refuse(&by, Act::Go { turn: rows }, Refusal::NotNext { turn: press });
    world.refuse(&by, Act::Done { turn: press, reps: None, effort: None, ending: None }, Refusal::NotBegun);
    world.refuse(&by, Act::Go { turn: turn(PAIR, DARA, 3, 0) }, Refusal::UnknownTurn);
    world.refuse(&by, Act::Go { turn: turn(PAIR, ClientId(1), 0, 0) }, Refusal::UnknownTurn);
    world.refuse(&by, Act::Go { turn: turn(SINGLE, FARID, 0, 0) }, Refusal::NotReserved);
    world.refuse(&by, Act::PassTechnique { turn: press }, Refusal::TechniqueNotDone);
    world.begin(AYLA, press);
    let went = world.tap(&by, Act::Go { turn: press });
    assert!(matches!(went, Verdict::Already(_)), "{went:?}");
    world.refuse(&by, Act::Done { turn: press, reps: None, effort: None, ending: None }, Refusal::NotBegun);
    world.refuse(&by, Act::Go { turn: rows }, Refusal::NotNext { turn: press });
    world.refuse(
        &by,
        Act::Go { turn: turn(PAIR, EDDA, 0, 0) },
        Refusal::StationBusy { station: BENCH, turn: press },
    );
    world.pass(13);
    world.refuse(
        &by,
        Act::Done { turn: press, reps: Some(101), effort: None, ending: None },
        Refusal::RepsRange { most: 100 },
    );
    let absurd = Some(Effort::Rir { reps: 11 });
    world.refuse(
        &by,
        Act::Done { turn: press, reps: None, effort: absurd, ending: None },
        Refusal::EffortRange { most: 10 },
    );
    world.accept(&by, Act::Done { turn: press, reps: Some(3), effort: None, ending: None });
    let done = world.tap(&kiosk(&[BENCH]), Act::Done { turn: press, reps: None, effort: None, ending: None });
    assert!(matches!(done, Verdict::Already(_)), "{done:?}");
    world.refuse(&by, Act::Go { turn: press }, Refusal::Over);
}

#[test]
fn working_sets_wait_for_the_coach_to_pass_the_technique_set() {
    let mut world = World::with_pair_on();
    for leg in 0..=1 {
        let technique = turn(PAIR, DARA, 0, leg);
        world.begin(AYLA, technique);
        let ends = world.current(technique).ends;
        world.pass_to(ends);
        world.accept(&coach(AYLA), Act::Done { turn: technique, reps: None, effort: None, ending: None });
    }
    let press = turn(PAIR, DARA, 1, 0);
    world.refuse(&coach(AYLA), Act::Go { turn: press }, Refusal::TechniqueNotPassed);
    world.refuse(&coach(AYLA), Act::PassTechnique { turn: press }, Refusal::NoTechniqueSet);
    world.accept(&coach(AYLA), Act::PassTechnique { turn: turn(PAIR, DARA, 0, 0) });
    let again = world.tap(&coach(BRAM), Act::PassTechnique { turn: turn(PAIR, DARA, 0, 0) });
    assert!(matches!(again, Verdict::Already(_)), "{again:?}");
    world.begin(AYLA, press);
}

#[test]
fn a_spotted_set_waits_for_its_spotter_and_a_spotter_for_the_bar_to_be_racked() {
    let mut world = World::with_pair_on();
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    let (dara, farid) = (turn(PAIR, DARA, 0, 0), turn(SINGLE, FARID, 0, 0));
    world.accept(&kiosk(&[BENCH]), Act::ConfirmLoad { turn: dara });
    world.accept(&kiosk(&[BENCH_2]), Act::ConfirmLoad { turn: farid });
    world.refuse(&kiosk(&[BENCH]), Act::Go { turn: dara }, Refusal::NeedsSpotter);
    world.accept(&coach(AYLA), Act::Spot { turn: dara, lift_off: false });
    let again = world.tap(&coach(AYLA), Act::Spot { turn: dara, lift_off: false });
    assert!(matches!(again, Verdict::Already(_)), "{again:?}");
    // One coach, two bars: the second naming moves the coach, and the first set waits again.
    world.accept(&coach(AYLA), Act::Spot { turn: farid, lift_off: false });
    world.refuse(&kiosk(&[BENCH]), Act::Go { turn: dara }, Refusal::NeedsSpotter);
    world.accept(&kiosk(&[BENCH_2]), Act::Go { turn: farid });
    let busy = Refusal::SpotterBusy { turn: farid };
    world.refuse(&coach(AYLA), Act::Spot { turn: dara, lift_off: false }, busy.clone());
    world.refuse(&coach(AYLA), Act::Go { turn: dara }, busy);
    world.accept(&coach(BRAM), Act::Go { turn: dara });
    world.refuse(
        &coach(BRAM),
        Act::Spot { turn: turn(PAIR, DARA, 0, 1), lift_off: false },
        Refusal::NotSpotted,
    );
}

#[test]
fn a_stations_display_serves_its_own_stations_only() {
    let mut world = World::with_pair_on();
    let press = turn(PAIR, DARA, 0, 0);
    for act in [
        Act::Go { turn: press },
        Act::NotYet { turn: press },
        Act::ConfirmLoad { turn: press },
        Act::Lighter { turn: press, revision: 1 },
        Act::PlatesOn { station: BENCH, side: Vec::new(), bar: 0 },
        Act::PlatesMissing { station: BENCH, plate: PlatePart { mass: kg(5), full: false }, count: 1 },
        Act::Done { turn: press, reps: None, effort: None, ending: None },
        Act::Reps { turn: press, reps: 3 },
    ] {
        world.refuse(&kiosk(&[ROW]), act, Refusal::NotHere);
    }
    // How it felt is said at any station of the round, and nowhere else.
    let felt = Act::Effort { turn: press, effort: Effort::Light };
    world.refuse(&kiosk(&[ROW_2]), felt.clone(), Refusal::NotHere);
    world.refuse(&kiosk(&[ROW]), felt, Refusal::NotBegun);
    world.refuse(
        &kiosk(&[BENCH_2]),
        Act::FreeStations { group: PAIR, block: 0, bar: None },
        Refusal::NotHere,
    );
    world.refuse(&kiosk(&[ROW]), Act::FreeStations { group: PAIR, block: 0, bar: None }, Refusal::SetsLeft);
    world.accept(&kiosk(&[ROW, BENCH]), Act::NotYet { turn: press });
}

#[test]
fn effort_and_repetitions_can_be_said_later() {
    let mut world = World::with_pair_on();
    let press = turn(PAIR, DARA, 0, 0);
    let by = kiosk(&[BENCH]);
    world.refuse(&by, Act::Effort { turn: press, effort: Effort::Light }, Refusal::NotBegun);
    world.whole_set(AYLA, press);
    world.accept(&by, Act::Effort { turn: press, effort: Effort::Rir { reps: 2 } });
    assert!(matches!(
        world.tap(&by, Act::Effort { turn: press, effort: Effort::Rir { reps: 2 } }),
        Verdict::Already(_)
    ));
    world.accept(&by, Act::Reps { turn: press, reps: 5 });
    let record = world.state.groups[&PAIR].clients[&DARA].sets[0].done().unwrap().clone();
    assert_eq!((record.reps.now(), record.effort.now()), (Some(5), Some(Effort::Rir { reps: 2 })));
}
