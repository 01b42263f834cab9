//! Body mass with added load: what the card of a belt says.

use turnabout_protocol::card::{GearKind, LoadCard};
use turnabout_protocol::command::Act;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_protocol::view::View;
use turnabout_server::floor::views::Watch;
use turnabout_server::loading::gear::{Belt, Gear, Hung};

use crate::world::*;

/// The rows are done with a belt. Farid's 55 kg are three plates.
fn with_belts() -> World {
    let mut world = World::other_with_all(|floor, _| {
        let plates = [(25, 2), (10, 1), (5, 1)].map(|(mass, count)| Hung { mass: kg(mass), count }).to_vec();
        for row in [ROW, ROW_2] {
            let belt = Belt { unit: MassUnit::Kg, plates: plates.clone() };
            floor.stations.get_mut(&row).unwrap().gear = Gear::Belt(belt);
        }
        floor
            .exercises
            .values_mut()
            .filter(|e| e.gear == GearKind::Stack)
            .for_each(|e| e.gear = GearKind::Belt);
    });
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world
}

fn card(world: &World) -> LoadCard {
    let View::Station(view) = world.view(&Watch::Station(vec![ROW])) else { panic!("a station") };
    view.stations[0].turn.clone().unwrap().load.unwrap()
}

#[test]
fn the_card_names_the_plates_and_body_mass_alone_needs_none() {
    let mut world = with_belts();
    world.sets(BRAM, SINGLE, FARID, &[(0, 0)]);
    // The light set of an exercise without one of its own is the lightest there is.
    let light = card(&world);
    assert_eq!((light.total, light.belt), (Mass::ZERO.into(), Some(Vec::new())));
    world.sets(BRAM, SINGLE, FARID, &[(0, 1), (1, 0)]);
    assert_eq!(card(&world).belt, Some(vec![kg(25), kg(25), kg(5)]));
    let row = turn(SINGLE, FARID, 1, 1);
    // Nobody confirms a belt: whoever trains hangs it.
    world.refuse(&kiosk(&[ROW]), Act::ConfirmLoad { turn: row }, Refusal::NothingToConfirm);
    let revision = world.state.groups[&SINGLE].revision;
    world.accept(&kiosk(&[ROW]), Act::Lighter { turn: row, revision });
    assert_eq!(card(&world).belt, Some(vec![kg(25), kg(25)]));
    world.accept(
        &coach(BRAM),
        Act::SetLoad { turn: row, load: Mass::ZERO.into(), sure: true, revision: revision + 1 },
    );
    let lightest = Refusal::AtLightest { load: Mass::ZERO.into() };
    world.refuse(&kiosk(&[ROW]), Act::Lighter { turn: row, revision: revision + 2 }, lightest);
    world.begin(BRAM, row);
    assert_eq!((world.current(row).load, world.state.stations[&ROW].load), (Some(kilos(0)), Some(kilos(0))));
}
