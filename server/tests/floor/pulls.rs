//! Pulls from the floor: the innermost plates are full ones, so that the bar lies at its height.

use turnabout_protocol::card::{LoadCard, PlatePart};
use turnabout_protocol::command::Act;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::Mass;
use turnabout_protocol::view::View;
use turnabout_server::floor::views::Watch;

use crate::world::*;

/// What is done at the benches is pulled from the floor; of their plates the fives are small.
fn pulled() -> World {
    World::other_with_all(|floor, _| {
        floor
            .exercises
            .values_mut()
            .filter(|e| e.stations.contains(&BENCH))
            .for_each(|e| e.from_the_floor = true);
    })
}

fn card(world: &World) -> LoadCard {
    let View::Station(view) = world.view(&Watch::Station(vec![BENCH])) else { panic!("a station") };
    view.stations[0].turn.clone().unwrap().load.unwrap()
}

fn masses(plates: &[PlatePart]) -> Vec<Mass> {
    plates.iter().map(|plate| plate.mass).collect()
}

#[test]
fn what_only_small_plates_make_is_no_load_of_a_pull() {
    let mut world = pulled();
    // Greta's 30 kg are the bar and a pair of fives.
    let take = |group, revision| Act::TakeStations {
        group,
        block: 0,
        stations: vec![BENCH, ROW],
        revision,
        despite: None,
    };
    world.refuse(&coach(AYLA), take(LATER, 0), Refusal::StationUnfit { station: BENCH });
    world.accept(&coach(BRAM), take(SINGLE, 0));
    let light = card(&world);
    assert_eq!(
        (light.total, masses(&light.bar.unwrap().side)),
        (kilos(40), vec![kg(10)]),
        "the lightest there is"
    );
}

#[test]
fn small_plates_innermost_are_changed_though_they_weigh_the_same() {
    let mut world = pulled();
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.sets(BRAM, SINGLE, FARID, &[(0, 0), (0, 1)]);
    assert_eq!(masses(&card(&world).bar.unwrap().side), [kg(20), kg(5)]);
    let small_first =
        [(5, false), (20, true)].map(|(mass, full)| PlatePart { mass: kg(mass), full }).to_vec();
    world.accept(&kiosk(&[BENCH]), Act::PlatesOn { station: BENCH, side: small_first, bar: 0 });
    let asked = card(&world);
    assert_eq!((asked.on_now, asked.confirmed), (Some(kilos(70)), false));
    let change = asked.bar.unwrap();
    assert_eq!((masses(&change.strip), masses(&change.add)), (vec![kg(20), kg(5)], vec![kg(20), kg(5)]));
    world.begin(BRAM, turn(SINGLE, FARID, 1, 0));
}

#[test]
fn lighter_goes_down_to_the_lightest_pull_and_no_further() {
    let mut world = pulled();
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.sets(BRAM, SINGLE, FARID, &[(0, 0), (0, 1)]);
    let press = turn(SINGLE, FARID, 1, 0);
    for load in [60, 50, 40] {
        let revision = world.state.groups[&SINGLE].revision;
        world.accept(&kiosk(&[BENCH]), Act::Lighter { turn: press, revision });
        assert_eq!(card(&world).total, kilos(load));
    }
    let revision = world.state.groups[&SINGLE].revision;
    let lightest = Refusal::AtLightest { load: kilos(40) };
    world.refuse(&kiosk(&[BENCH]), Act::Lighter { turn: press, revision }, lightest);
    let unfit = Refusal::LoadUnfit { below: None, above: Some(kilos(40)) };
    world.refuse(&coach(BRAM), Act::SetLoad { turn: press, load: kilos(30), sure: true, revision }, unfit);
}
