//! Stations that change under a group: another one, somebody else on it, broken, set for somebody.

use turnabout_protocol::command::{Act, Defect};
use turnabout_protocol::ids::StationId;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::view::View;
use turnabout_server::floor::config::Setting;
use turnabout_server::floor::views::Watch;
use turnabout_server::loading::gear::Gear;

use crate::deeds::assistant;
use crate::world::*;

fn swap(world: &World, leg: u8, to: StationId) -> Act {
    Act::SwapStation { group: PAIR, leg, to, revision: world.revision(PAIR) }
}

#[test]
fn loads_are_fitted_to_the_gear_of_another_station() {
    let mut world = World::other_with_all(|floor, _| {
        // The second bench has 20 kg plates alone: 60 kg go, 40 kg do not.
        let Gear::Bar(bar) = &mut floor.stations.get_mut(&BENCH_2).unwrap().gear else { panic!("a bar") };
        bar.plates.retain(|plates| plates.mass == kg(20));
        floor.stations.get_mut(&BENCH).unwrap().arms = true;
        floor.stations.get_mut(&BENCH_2).unwrap().arms = true;
        floor.policy.arms_accepted = true;
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    let (press, by) = (turn(PAIR, DARA, 0, 0), coach(AYLA));
    world.accept(&by, Act::UseArms { turn: press });
    let old = Act::SwapStation { group: PAIR, leg: 0, to: BENCH_2, revision: 0 };
    world.refuse(&by, old, Refusal::StaleRevision { revision: 1 });
    let unfit = swap(&world, 0, ROW_2);
    world.refuse(&by, unfit, Refusal::StationUnfit { station: ROW_2 });
    let same = swap(&world, 0, BENCH);
    world.refuse(&by, same, Refusal::StationUnfit { station: BENCH });
    let to = swap(&world, 0, BENCH_2);
    world.accept(&by, to);
    assert_eq!(world.client(PAIR, DARA).legs[0].loads, [Some(kilos(60)), Some(kilos(60))]);
    assert_eq!(
        world.client(PAIR, EDDA).legs[0].loads,
        [Some(kilos(20)), Some(kilos(20))],
        "the next lighter"
    );
    assert_eq!(world.state.held_by(PAIR), [BENCH_2, ROW]);
    // The arms were set at the other bench.
    world.accept(&by, Act::ConfirmLoad { turn: press });
    world.refuse(&kiosk(&[BENCH_2]), Act::Go { turn: press }, Refusal::NeedsSpotter);
    world.accept(&by, Act::Go { turn: press });
    let under = swap(&world, 0, BENCH);
    world.refuse(&by, under, Refusal::SetUnderWay { turn: press });
}

#[test]
fn the_public_on_a_station_is_waited_for_until_a_tap_or_its_time() {
    let mut world = World::with_pair_on();
    let press = turn(PAIR, DARA, 0, 0);
    let other = |minutes| Act::OtherUse { station: BENCH, minutes };
    world.refuse(&kiosk(&[BENCH]), other(0), Refusal::MinutesRange { most: 120 });
    world.refuse(&kiosk(&[ROW]), other(5), Refusal::NotHere);
    world.refuse(&kiosk(&[BENCH]), Act::EndOtherUse { station: BENCH }, Refusal::NoOtherUse);
    world.accept(&coach(AYLA), Act::ConfirmLoad { turn: press });
    world.accept(&kiosk(&[BENCH]), other(5));
    let until = world.now + secs(300);
    world.refuse(&coach(AYLA), Act::Go { turn: press }, Refusal::InOtherUse { station: BENCH, until });
    world.accept(&kiosk(&[BENCH]), Act::EndOtherUse { station: BENCH });
    world.refuse(&coach(AYLA), Act::Go { turn: press }, Refusal::LoadNotConfirmed);
    world.accept(&kiosk(&[BENCH]), other(5));
    world.pass(299);
    assert!(world.state.stations[&BENCH].other_use.is_some());
    world.pass(1);
    assert_eq!(world.state.stations[&BENCH].other_use, None);
    world.begin(AYLA, press);
    world.refuse(&kiosk(&[BENCH]), other(5), Refusal::StationBusy { station: BENCH, turn: press });
}

#[test]
fn a_station_breaks_under_a_set_and_is_put_right() {
    let mut world = World::with_pair_on();
    let press = turn(PAIR, DARA, 0, 0);
    let out = |defect| Act::OutOfService { station: BENCH, defect };
    let back = Act::BackInService { station: BENCH };
    world.refuse(&coach(AYLA), back.clone(), Refusal::InService);
    world.begin(AYLA, press);
    world.pass(13);
    world.accept(&assistant(AYLA), out(Defect::Bench));
    world.already(&coach(AYLA), out(Defect::Bench));
    world.accept(&coach(AYLA), out(Defect::Bar));
    // Whoever lifts racks first.
    let busy = Refusal::StationBusy { station: BENCH, turn: press };
    world.refuse(&coach(AYLA), back.clone(), busy);
    world.pass(60);
    world.done(AYLA, press);
    let edda = turn(PAIR, EDDA, 0, 0);
    let broken = Refusal::NotInService { station: BENCH, defect: Defect::Bar };
    world.refuse(&coach(AYLA), Act::Go { turn: edda }, broken.clone());
    world.refuse(&coach(AYLA), Act::OtherUse { station: BENCH, minutes: 5 }, broken);
    world.accept(&coach(AYLA), back);
    world.refuse(&coach(AYLA), Act::Go { turn: edda }, Refusal::LoadNotConfirmed);
    world.begin(AYLA, edda);
}

#[test]
fn settings_are_kept_for_a_client_and_shown_with_what_changes_first() {
    let setting =
        |name: &str| Setting { name: name.to_owned(), values: ["1", "2", "3"].map(str::to_owned).to_vec() };
    let mut world = World::other_with_all(|floor, _| {
        floor.stations.get_mut(&ROW).unwrap().settings = vec![setting("Seat"), setting("Pad")];
    });
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    let set = |client, setting, value| Act::SetSetting { station: ROW, client, setting, value };
    world.refuse(&kiosk(&[ROW]), set(DARA, 2, 0), Refusal::UnknownSetting);
    world.refuse(&kiosk(&[ROW]), set(DARA, 0, 3), Refusal::UnknownSetting);
    world.refuse(&kiosk(&[BENCH]), set(DARA, 0, 0), Refusal::NotHere);
    for (client, setting, value) in [(DARA, 0, 1), (DARA, 1, 2), (EDDA, 0, 1), (EDDA, 1, 0)] {
        world.accept(&kiosk(&[ROW]), set(client, setting, value));
    }
    // Edda was set last: for Dara, who is next, only the pad is to be changed.
    let View::Station(view) = world.view(&Watch::Station(vec![ROW])) else { panic!("a station's face") };
    assert!(view.stations[0].turn.is_none(), "nobody is next at the row before the press: {view:?}");
    world.sets(AYLA, PAIR, DARA, &[(0, 0)]);
    let View::Station(view) = world.view(&Watch::Station(vec![ROW])) else { panic!("a station's face") };
    let shown = &view.stations[0].turn.as_ref().unwrap().settings;
    let shown: Vec<_> = shown.iter().map(|s| (s.name.as_str(), s.value.as_str(), s.change)).collect();
    assert_eq!(shown, [("Pad", "3", true), ("Seat", "2", false)]);
}
