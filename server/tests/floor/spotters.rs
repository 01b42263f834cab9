//! Who stands at a bar: coach, assistant, client, safety arms.

use turnabout_protocol::command::{Act, CallKind};
use turnabout_protocol::ids::{CallId, ExerciseId};
use turnabout_protocol::refusal::Refusal;

use crate::deeds::assistant;
use crate::world::*;

const PRESS: ExerciseId = ExerciseId(1);
const ROWS: ExerciseId = ExerciseId(2);

fn spot(turn: turnabout_protocol::ids::TurnId) -> Act {
    Act::Spot { turn, lift_off: false }
}

#[test]
fn a_client_spots_when_passed_and_lifts_only_when_the_bar_is_racked() {
    let mut world = World::with_pair_on();
    world.sets(AYLA, PAIR, EDDA, &[(0, 0)]);
    let (dara, edda) = (turn(PAIR, DARA, 0, 0), turn(PAIR, EDDA, 0, 1));
    let by_edda = Act::SpotBy { turn: dara, client: EDDA };
    world.refuse(&kiosk(&[BENCH]), by_edda.clone(), Refusal::SpotterNotPassed { client: EDDA });
    let pass = |client, exercise| Act::PassSpotter { group: PAIR, client, exercise };
    world.refuse(&coach(AYLA), pass(EDDA, ROWS), Refusal::NotSpotted);
    world.refuse(&assistant(AYLA), pass(EDDA, PRESS), Refusal::RoleMayNot);
    world.accept(&coach(AYLA), pass(EDDA, PRESS));
    assert_eq!(world.already(&coach(BRAM), pass(EDDA, PRESS)).by, coach(AYLA).actor);
    world.accept(&coach(AYLA), pass(DARA, PRESS));
    let own = Act::SpotBy { turn: dara, client: DARA };
    world.refuse(&kiosk(&[BENCH]), own, Refusal::SpotterNotPassed { client: DARA });
    world.accept(&kiosk(&[BENCH]), by_edda.clone());
    // Who goes to lift does not stand there any more.
    let mut lifts = world.clone();
    lifts.accept(&kiosk(&[ROW]), Act::Go { turn: edda });
    lifts.refuse(&kiosk(&[BENCH]), Act::Go { turn: dara }, Refusal::NeedsSpotter);
    lifts.refuse(&kiosk(&[BENCH]), by_edda.clone(), Refusal::SpotterLifts { client: EDDA });
    lifts.refuse(&kiosk(&[ROW]), by_edda.clone(), Refusal::NotHere);
    // And who spots does not lift, nor leave, until it is racked: being assumed is not enough.
    world.accept(&kiosk(&[BENCH]), Act::Go { turn: dara });
    let spots = Refusal::ClientSpots { turn: dara };
    world.refuse(&kiosk(&[ROW]), Act::Go { turn: edda }, spots.clone());
    world.pass(120);
    assert!(world.current(dara).assumed);
    world.refuse(&kiosk(&[ROW]), Act::Go { turn: edda }, spots.clone());
    world.refuse(&coach(AYLA), Act::Leave { group: PAIR, client: EDDA }, spots);
    world.done(AYLA, dara);
    world.accept(&kiosk(&[ROW]), Act::Go { turn: edda });
}

#[test]
fn who_left_spots_nobody() {
    let mut world = World::with_pair_on();
    let dara = turn(PAIR, DARA, 0, 0);
    let pass = Act::PassSpotter { group: PAIR, client: EDDA, exercise: PRESS };
    world.accept(&coach(AYLA), pass.clone());
    world.accept(&coach(AYLA), Act::SpotBy { turn: dara, client: EDDA });
    world.accept(&coach(AYLA), Act::Leave { group: PAIR, client: EDDA });
    assert_eq!(world.client(PAIR, DARA).spotter, None);
    let absent = Refusal::ClientAbsent { client: EDDA };
    world.refuse(&coach(AYLA), Act::SpotBy { turn: dara, client: EDDA }, absent.clone());
    world.refuse(&coach(AYLA), pass, absent);
}

#[test]
fn safety_arms_stand_in_where_the_station_has_them_and_the_floor_accepts_them() {
    for (arms, accepted) in [(false, true), (true, false), (true, true)] {
        let mut world = World::other_with_all(|floor, _| {
            floor.stations.get_mut(&BENCH).unwrap().arms = arms;
            floor.policy.arms_accepted = accepted;
        });
        world.claim(AYLA, PAIR, &[BENCH, ROW]);
        let press = turn(PAIR, DARA, 0, 0);
        world.accept(&kiosk(&[BENCH]), Act::ConfirmLoad { turn: press });
        let use_arms = Act::UseArms { turn: press };
        if arms && accepted {
            world.accept(&kiosk(&[BENCH]), use_arms.clone());
            world.already(&kiosk(&[BENCH]), use_arms);
            world.accept(&kiosk(&[BENCH]), Act::Go { turn: press });
        } else {
            world.refuse(&kiosk(&[BENCH]), use_arms, Refusal::ArmsNotAccepted);
            world.refuse(&kiosk(&[BENCH]), Act::Go { turn: press }, Refusal::NeedsSpotter);
        }
    }
}

#[test]
fn help_with_the_lift_off_alone_is_for_sets_that_leave_enough_in_reserve() {
    for (reserve, enough) in [(None, false), (Some(2), false), (Some(3), true)] {
        let mut world = World::other_with_all(|_, programme| {
            let leg = &mut programme.groups.get_mut(&PAIR).unwrap().blocks[0].legs[0];
            leg.sets.values_mut().for_each(|set| set.reserve = reserve);
        });
        world.claim(AYLA, PAIR, &[BENCH, ROW]);
        world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
        let light = Act::Spot { turn: turn(PAIR, DARA, 0, 0), lift_off: true };
        world.refuse(&coach(AYLA), light, Refusal::LiftOffNeedsReserve { least: 3 });
        world.sets(AYLA, PAIR, DARA, &[(0, 0), (0, 1)]);
        let press = turn(PAIR, DARA, 1, 0);
        let lift_off = Act::Spot { turn: press, lift_off: true };
        if !enough {
            world.refuse(&coach(AYLA), lift_off, Refusal::LiftOffNeedsReserve { least: 3 });
            continue;
        }
        world.accept(&coach(AYLA), lift_off);
        world.begin(AYLA, press);
        let farid = turn(SINGLE, FARID, 0, 0);
        world.refuse(&coach(AYLA), spot(farid), Refusal::SpotterBusy { turn: press });
        world.pass(13);
        world.accept(&coach(AYLA), spot(farid));
        world.begin(BRAM, farid);
        assert!(world.client(PAIR, DARA).current.is_some(), "and the first still lifts");
    }
}

#[test]
fn an_assistant_spots_and_passes_nothing() {
    let mut world = World::with_pair_on();
    let press = turn(PAIR, DARA, 0, 0);
    world.accept(&assistant(AYLA), spot(press));
    // The assistant and the coach are two people.
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    world.begin(BRAM, press);
    world.accept(&coach(AYLA), spot(turn(SINGLE, FARID, 0, 0)));
    world.refuse(&assistant(AYLA), spot(turn(SINGLE, FARID, 0, 0)), Refusal::SpotterBusy { turn: press });
    world.pass(60);
    world.done(AYLA, press);
    world.refuse(&assistant(AYLA), Act::PassTechnique { turn: press }, Refusal::RoleMayNot);
}

#[test]
fn who_went_to_help_is_at_no_bar() {
    let call = CallId(1);
    for (who, lend) in [(coach(AYLA), BRAM), (assistant(AYLA), BRAM)] {
        let mut world = World::with_pair_on();
        let press = turn(PAIR, DARA, 0, 0);
        world.accept(&who, spot(press));
        world.accept(&kiosk(&[ROW]), Act::Call { station: ROW, call: CallKind::HelpNow });
        world.accept(&who, Act::Answer { call });
        assert_eq!(world.client(PAIR, DARA).spotter, None);
        world.accept(&who, Act::ConfirmLoad { turn: press });
        world.refuse(&who, spot(press), Refusal::OnCall { call });
        world.refuse(&who, Act::Go { turn: press }, Refusal::OnCall { call });
        assert_eq!(world.already(&coach(lend), Act::Answer { call }).by, who.actor);
        world.accept(&coach(lend), Act::Attend { call });
        world.refuse(&coach(lend), Act::Answer { call }, Refusal::UnknownCall);
        world.accept(&who, Act::Go { turn: press });
        // Who holds a bar stays there.
        world.accept(&kiosk(&[ROW]), Act::Call { station: ROW, call: CallKind::HelpNow });
        world.refuse(&who, Act::Answer { call: CallId(2) }, Refusal::SpotterBusy { turn: press });
    }
}
