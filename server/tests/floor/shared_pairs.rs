//! Dumbbells on a rack that two stations share: a pair that is out at one is not free at the other.

use turnabout_protocol::card::{GearKind, LoadCard};
use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{StationId, TurnId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::MassUnit;
use turnabout_protocol::view::{Need, TurnPart, TurnPhase, View};
use turnabout_server::floor::config::{Floor, Programme, Rack};
use turnabout_server::floor::views::Watch;
use turnabout_server::loading::gear::{Dumbbells, Gear, Pairs};

use crate::world::*;

/// Both rows are done with dumbbells of one rack: one pair of 35, of 50 and of 55 kg, and enough of 25 kg.
fn share(floor: &mut Floor, _: &mut Programme) {
    let pairs =
        || [(25, 3), (35, 1), (50, 1), (55, 1)].map(|(mass, count)| Pairs { mass: kg(mass), count }).to_vec();
    let unit = MassUnit::Kg;
    for row in [ROW, ROW_2] {
        let dumbbells = Dumbbells { unit, pairs: pairs(), rack: Some(key("rack-a")) };
        floor.stations.get_mut(&row).unwrap().gear = Gear::Dumbbells(dumbbells);
    }
    floor.racks.insert(key("rack-a"), Rack { name: "Rack A".to_owned(), unit, pairs: pairs() });
    floor
        .exercises
        .values_mut()
        .filter(|e| e.gear == GearKind::Stack)
        .for_each(|e| e.gear = GearKind::Dumbbells);
}

/// Dara, whose rows are with 50 kg, and Edda have row 1; Farid, whose rows are with 55 kg, has row 2. All have done
/// their light sets with 25 kg.
fn both_taken() -> World {
    let mut world = World::other_with_all(share);
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    for client in [DARA, EDDA] {
        world.sets(AYLA, PAIR, client, &[(0, 0), (0, 1)]);
    }
    world.sets(BRAM, SINGLE, FARID, &[(0, 0), (0, 1), (1, 0)]);
    world
}

/// Farid is to row with the pair that Dara has, and his coach says GO.
pub(crate) fn wants_what_is_out() -> (World, Act) {
    let mut world = both_taken();
    let fifty = set_farid(&world, 50);
    world.accept(&coach(BRAM), fifty);
    world.sets(AYLA, PAIR, DARA, &[(1, 0), (1, 1)]);
    (world, Act::Go { turn: ROW_1 })
}

/// Farid's first working set at row 2.
const ROW_1: TurnId = TurnId { group: SINGLE, client: FARID, block: 0, round: 1, leg: 1 };

fn part(world: &World, station: StationId) -> TurnPart {
    let View::Station(view) = world.view(&Watch::Station(vec![station])) else { panic!("a station") };
    view.stations[0].turn.clone().unwrap()
}

fn card(world: &World, station: StationId) -> LoadCard {
    part(world, station).load.unwrap()
}

/// Farid is to row with this much from now on.
fn set_farid(world: &World, mass: i64) -> Act {
    let revision = world.state.groups[&SINGLE].revision;
    Act::SetLoad { turn: ROW_1, load: kilos(mass), sure: true, revision }
}

#[test]
fn a_pair_that_is_out_at_another_station_is_refused_and_the_card_says_so_before() {
    let mut world = both_taken();
    let fifty = set_farid(&world, 50);
    world.accept(&coach(BRAM), fifty);
    let free = card(&world, ROW_2);
    assert_eq!((free.rack.as_deref(), free.unbuilt), (Some("Rack A"), None));
    world.sets(AYLA, PAIR, DARA, &[(1, 0), (1, 1)]);
    let out = card(&world, ROW_2).unbuilt.unwrap();
    assert_eq!((out.below, out.above, out.at), (Some(kg(35)), Some(kg(55)), vec!["Row 1".to_owned()]));
    let TurnPhase::Coming { needs, .. } = part(&world, ROW_2).phase else { panic!("it has not begun") };
    assert!(needs.contains(&Need::Pair), "{needs:?}");
    let refusal = Refusal::PairOut { load: kg(50), station: ROW };
    world.refuse(&coach(BRAM), Act::Go { turn: ROW_1 }, refusal);
    // It stays with Dara between her sets, also while Edda goes with another. Her own goes on.
    world.sets(AYLA, PAIR, EDDA, &[(1, 0), (1, 1)]);
    assert!(card(&world, ROW_2).unbuilt.is_some());
    let mut on = world.clone();
    on.sets(AYLA, PAIR, DARA, &[(2, 0)]);
    assert_eq!(card(&on, ROW).unbuilt, None);
    // Lighter is the next pair that is free: Edda has the 35.
    let mut lighter = world.clone();
    let revision = lighter.state.groups[&SINGLE].revision;
    lighter.accept(&kiosk(&[ROW_2]), Act::Lighter { turn: ROW_1, revision });
    assert_eq!(card(&lighter, ROW_2).total, kilos(25));
    // A coach may give another that is free, and none that is out.
    let unfit = Refusal::LoadUnfit { below: Some(kilos(25)), above: Some(kilos(55)) };
    let (out, free) = (set_farid(&world, 35), set_farid(&world, 55));
    world.refuse(&coach(BRAM), out, unfit);
    world.accept(&coach(BRAM), free);
    world.accept(&coach(BRAM), Act::Go { turn: ROW_1 });
}

#[test]
fn a_pair_is_back_when_its_client_goes_with_another() {
    let mut world = both_taken();
    let fifty = set_farid(&world, 50);
    world.accept(&coach(BRAM), fifty);
    world.sets(AYLA, PAIR, DARA, &[(1, 0), (1, 1), (2, 0)]);
    let second = turn(PAIR, DARA, 2, 1);
    let revision = world.state.groups[&PAIR].revision;
    world.accept(&coach(AYLA), Act::SetLoad { turn: second, load: kilos(55), sure: true, revision });
    assert!(card(&world, ROW_2).unbuilt.is_some(), "she has not gone yet");
    world.accept(&coach(AYLA), Act::Go { turn: second });
    assert_eq!(card(&world, ROW_2).unbuilt, None);
    // A count-in that is called off was no set: what she had before is out again.
    world.accept(&coach(AYLA), Act::NotYet { turn: second });
    assert!(card(&world, ROW_2).unbuilt.is_some());
    assert_eq!(world.state, world.replayed());
}

#[test]
fn a_pair_is_back_when_its_client_leaves_or_the_group_gives_the_station_back() {
    let (mut world, go) = wants_what_is_out();
    let mut left = world.clone();
    left.accept(&coach(AYLA), Act::Leave { group: PAIR, client: DARA });
    assert_eq!(card(&left, ROW_2).unbuilt, None);
    for client in [EDDA, DARA] {
        let from = if client == EDDA { 1 } else { 2 };
        let sets: Vec<_> = (from..=2).flat_map(|round| [(round, 0), (round, 1)]).collect();
        world.sets(AYLA, PAIR, client, &sets);
    }
    assert!(card(&world, ROW_2).unbuilt.is_some(), "nobody has given the row back");
    world.accept(&coach(AYLA), Act::FreeStations { group: PAIR, block: 0, bar: None });
    assert_eq!(card(&world, ROW_2).unbuilt, None);
    world.accept(&coach(BRAM), go);
}
