//! Confirmed loads and lighter ones.

use turnabout_protocol::command::{Act, Defect, Effort};
use turnabout_protocol::refusal::Refusal;
use turnabout_server::floor::decide::Verdict;
use turnabout_server::training::block::Target;

use crate::next_loads::{PRESS, first_round, load};
use crate::world::*;

#[test]
fn nothing_is_confirmed_where_nobody_may_lift() {
    let confirm = Act::ConfirmLoad { turn: turn(PAIR, DARA, 0, 0) };
    let mut world = World::with_pair_on();
    world.accept(&coach(AYLA), confirm.clone());
    let mut used = world.clone();
    used.accept(&kiosk(&[BENCH]), Act::OtherUse { station: BENCH, minutes: 9 });
    let until = used.now + secs(540);
    used.refuse(&kiosk(&[BENCH]), confirm.clone(), Refusal::InOtherUse { station: BENCH, until });
    used.accept(&kiosk(&[BENCH]), Act::EndOtherUse { station: BENCH });
    used.accept(&kiosk(&[BENCH]), confirm.clone());
    let defect = Defect::Plates;
    world.accept(&coach(AYLA), Act::OutOfService { station: BENCH, defect });
    world.refuse(&coach(AYLA), confirm.clone(), Refusal::NotInService { station: BENCH, defect });
    world.accept(&coach(AYLA), Act::BackInService { station: BENCH });
    world.accept(&coach(AYLA), confirm);
}

#[test]
fn no_loaded_bar_moves_before_it_was_confirmed_since_the_last_change() {
    let mut world = World::with_pair_on();
    let (dara, edda) = (turn(PAIR, DARA, 0, 0), turn(PAIR, EDDA, 0, 0));
    world.refuse(&coach(AYLA), Act::Go { turn: dara }, Refusal::LoadNotConfirmed);
    world.accept(&kiosk(&[BENCH]), Act::ConfirmLoad { turn: dara });
    assert!(matches!(world.tap(&kiosk(&[BENCH]), Act::ConfirmLoad { turn: dara }), Verdict::Already(_)));
    world.whole_set(AYLA, dara);
    // The same empty bar for the next client: nothing changed, nothing to confirm.
    world.accept(&coach(AYLA), Act::Go { turn: edda });
    let busy = Refusal::StationBusy { station: BENCH, turn: edda };
    let press = turn(PAIR, DARA, 1, 0);
    world.refuse(
        &coach(AYLA),
        Act::ConfirmLoad { turn: press },
        Refusal::NotNext { turn: turn(PAIR, DARA, 0, 1) },
    );
    world.whole_set(BRAM, turn(PAIR, DARA, 0, 1));
    world.refuse(&coach(AYLA), Act::ConfirmLoad { turn: press }, busy);
    let ends = world.current(edda).ends;
    world.pass_to(ends.max(world.now));
    world.accept(&coach(AYLA), Act::Done { turn: edda, reps: None, effort: None, ending: None });
    // 60 kg now: a change of plates, so a confirmation.
    world.refuse(&coach(AYLA), Act::Go { turn: press }, Refusal::LoadNotConfirmed);
    world.begin(AYLA, press);
    assert_eq!(world.state.stations[&BENCH].load, Some(kilos(60)));
}

#[test]
fn lighter_goes_one_step_of_the_gear_from_this_set_on() {
    let mut world = World::new();
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.whole_set(BRAM, turn(SINGLE, FARID, 0, 0));
    world.whole_set(BRAM, turn(SINGLE, FARID, 0, 1));
    let press = turn(SINGLE, FARID, 1, 0);
    let revision = world.state.groups[&SINGLE].revision;
    let lighter = |revision| Act::Lighter { turn: press, revision };
    world.accept(&kiosk(&[BENCH]), lighter(revision));
    // Plates of 5 kg are the smallest: 70 becomes 60. The display that still shows 70 is refused.
    world.refuse(&kiosk(&[BENCH]), lighter(revision), Refusal::StaleRevision { revision: revision + 1 });
    world.begin(BRAM, press);
    assert_eq!(world.current(press).load, Some(kilos(60)));
    let ends = world.current(press).ends;
    world.pass_to(ends);
    world.accept(&coach(BRAM), Act::Done { turn: press, reps: None, effort: None, ending: None });
    world.whole_set(BRAM, turn(SINGLE, FARID, 1, 1));
    world.pass(60);
    world.whole_set(BRAM, turn(SINGLE, FARID, 2, 0));
    assert_eq!(
        world.state.groups[&SINGLE].clients[&FARID].sets[4].done().unwrap().load.now(),
        Some(kilos(60))
    );
}

#[test]
fn there_is_a_lightest_load() {
    let mut world = World::new();
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    let technique = turn(SINGLE, FARID, 0, 0);
    let revision = world.state.groups[&SINGLE].revision;
    let act = Act::Lighter { turn: technique, revision };
    world.refuse(&kiosk(&[BENCH]), act, Refusal::AtLightest { load: kilos(20) });
}

#[test]
fn a_station_whose_gear_cannot_hold_a_load_does_not_suit() {
    let mut world = World::new();
    let group = world.state.programme.groups.get_mut(&SINGLE).unwrap();
    let set = group.blocks[0].legs[0].sets.get_mut(&FARID).unwrap();
    set.rounds[0] = Target::plain(set.rounds[0].work, Some(kg(71)));
    let act =
        Act::TakeStations { group: SINGLE, block: 0, stations: vec![BENCH, ROW], revision: 0, despite: None };
    world.refuse(&coach(BRAM), act, Refusal::StationUnfit { station: BENCH });
    let swapped =
        Act::TakeStations { group: PAIR, block: 0, stations: vec![ROW, BENCH], revision: 0, despite: None };
    world.refuse(&coach(AYLA), swapped, Refusal::StationUnfit { station: ROW });
}

#[test]
fn a_load_typed_far_above_the_last_one_is_asked_about_once() {
    let mut world = first_round(Effort::Right, Effort::Right);
    let press = turn(PAIR, DARA, 2, PRESS);
    let revision = world.state.groups[&PAIR].revision;
    let typed = |load, sure| Act::SetLoad { turn: press, load: kilos(load), sure, revision };
    // 20 % above 60 kg is 72 kg.
    world.refuse(&coach(AYLA), typed(80, false), Refusal::FarAboveLast { last: kilos(60) });
    let mut other = world.clone();
    other.accept(&coach(AYLA), typed(70, false));
    world.accept(&coach(AYLA), typed(80, true));
    assert_eq!(load(&world, press), Some(kg(80)));
}
