//! Plates on a tree that the bars of two stations share: what is on one is not free for the other.

use turnabout_protocol::card::{PlatePart, UnbuiltPart};
use turnabout_protocol::command::{Act, BarLeft};
use turnabout_protocol::ids::StationId;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_protocol::view::{StationPlates, View};
use turnabout_server::floor::changes::{InUse, set_floor};
use turnabout_server::floor::config::{Floor, Tree};
use turnabout_server::floor::event::Event;
use turnabout_server::floor::views::Watch;
use turnabout_server::loading::gear::{Gear, Plates};

use crate::world::*;

const TREE: &str = "tree-1";

/// Both benches load from one tree with two pairs each of 20, 10 and 5 kg.
fn share(floor: &mut Floor) {
    let plates = [20, 10, 5].map(|mass| Plates::new(kg(mass), 4)).to_vec();
    hang(floor, &plates);
}

fn hang(floor: &mut Floor, plates: &[Plates]) {
    for bench in [BENCH, BENCH_2] {
        let Gear::Bar(bar) = &mut floor.stations.get_mut(&bench).unwrap().gear else { panic!("a bar") };
        (bar.tree, bar.plates) = (Some(key(TREE)), plates.to_vec());
    }
    let tree = Tree { name: "Tree by the door".to_owned(), unit: MassUnit::Kg, plates: plates.to_vec() };
    floor.trees.insert(key(TREE), tree);
}

/// Farid, whose work is 70 kg, has bench 2; Dara and Edda have bench 1.
fn both_taken() -> World {
    let mut world = World::other_with_all(|floor, _| share(floor));
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    world.claim(BRAM, SINGLE, &[BENCH_2, ROW_2]);
    world.whole_set(BRAM, turn(SINGLE, FARID, 0, 0));
    world.whole_set(BRAM, turn(SINGLE, FARID, 0, 1));
    world
}

fn on(station: StationId, masses: &[i64]) -> Act {
    let side = masses.iter().map(|mass| PlatePart { mass: kg(*mass), full: *mass >= 10 }).collect();
    Act::PlatesOn { station, side, bar: 0 }
}

fn missing(station: StationId, mass: i64, count: u8) -> Act {
    Act::PlatesMissing { station, plate: PlatePart { mass: kg(mass), full: mass >= 10 }, count }
}

/// The plates of each side of the coming set at a station, or which loads there are instead.
fn asked(world: &World, station: StationId) -> Result<Vec<Mass>, UnbuiltPart> {
    let View::Station(view) = world.view(&Watch::Station(vec![station])) else { panic!("a station") };
    let card = view.stations[0].turn.clone().unwrap().load.unwrap();
    card.bar.map(|bar| bar.side.iter().map(|plate| plate.mass).collect()).ok_or_else(|| card.unbuilt.unwrap())
}

fn plates_of(world: &World) -> Vec<StationPlates> {
    let View::Coach(view) = world.view(&Watch::Coach(BRAM)) else { panic!("a coach's page") };
    view.plates
}

#[test]
fn what_is_on_another_bar_of_the_tree_is_not_free() {
    let mut world = both_taken();
    assert_eq!(asked(&world, BENCH_2), Ok(vec![kg(20), kg(5)]));
    world.accept(&kiosk(&[BENCH]), on(BENCH, &[20, 20]));
    assert_eq!(asked(&world, BENCH_2), Ok(vec![kg(10), kg(10), kg(5)]));
    // With the fives gone too, no plates that are free make 25 kg a side; the other bar has what would.
    world.accept(&kiosk(&[BENCH]), on(BENCH, &[20, 5, 5]));
    let instead = asked(&world, BENCH_2).unwrap_err();
    assert_eq!((instead.below, instead.above), (Some(kg(60)), Some(kg(80))));
    assert_eq!(instead.at, ["Bench 1"]);
    let press = turn(SINGLE, FARID, 1, 0);
    let unfit = Refusal::LoadUnfit { below: Some(kilos(60)), above: Some(kilos(80)) };
    world.refuse(&kiosk(&[BENCH_2]), Act::ConfirmLoad { turn: press }, unfit);
    // Lighter is what the free plates make.
    let mut lighter = world.clone();
    let revision = lighter.state.groups[&SINGLE].revision;
    lighter.accept(&kiosk(&[BENCH_2]), Act::Lighter { turn: press, revision });
    assert_eq!(asked(&lighter, BENCH_2), Ok(vec![kg(20)]));
    // What comes off the other bar is free again.
    world.accept(&kiosk(&[BENCH]), on(BENCH, &[10]));
    world.begin(BRAM, press);
}

#[test]
fn a_bar_keeps_its_own_plates_whatever_the_other_takes() {
    let mut world = both_taken();
    let press = turn(SINGLE, FARID, 1, 0);
    world.accept(&coach(BRAM), Act::ConfirmLoad { turn: press });
    assert_eq!(asked(&world, BENCH_2), Ok(vec![kg(20), kg(5)]));
    // Dara's light set takes nothing; her 60 kg then take the pair of twenties that is left.
    world.accept(&kiosk(&[BENCH]), on(BENCH, &[20, 5]));
    assert_eq!(asked(&world, BENCH_2), Ok(vec![kg(20), kg(5)]));
    world.accept(&coach(BRAM), Act::Go { turn: press });
}

#[test]
fn a_stripped_bar_gives_its_plates_back() {
    let mut world = both_taken();
    world.accept(&kiosk(&[BENCH_2]), on(BENCH_2, &[20, 20, 10, 10, 5, 5]));
    let light = asked(&world, BENCH);
    assert_eq!(light, Ok(vec![]), "the empty bar needs none");
    world.sets(BRAM, SINGLE, FARID, &[(1, 0), (1, 1), (2, 0), (2, 1)]);
    let free = Act::FreeStations { group: SINGLE, block: 0, bar: Some(BarLeft::Stripped) };
    world.accept(&coach(BRAM), free);
    for client in [DARA, EDDA] {
        world.sets(AYLA, PAIR, client, &[(0, 0), (0, 1)]);
    }
    assert_eq!(asked(&world, BENCH), Ok(vec![kg(20)]));
}

#[test]
fn a_plate_that_is_missing_is_missing_at_every_station_of_the_tree() {
    let mut world = both_taken();
    world.accept(&kiosk(&[BENCH]), missing(BENCH, 5, 3));
    world.refuse(&kiosk(&[BENCH_2]), missing(BENCH_2, 5, 5), Refusal::NoSuchPlates { there: 4 });
    let instead = asked(&world, BENCH_2).unwrap_err();
    assert!(instead.at.is_empty(), "no other bar has them: {instead:?}");
    let plates = plates_of(&world);
    assert_eq!(plates[0].tree.as_deref(), Some("Tree by the door"));
    let kinds: Vec<_> =
        plates[0].kinds.iter().map(|kind| (kind.plate.mass, kind.count, kind.missing)).collect();
    assert_eq!(kinds, [(kg(20), 4, 0), (kg(10), 4, 0), (kg(5), 4, 3)]);
    // One of the two who share it says that they are back.
    world.accept(&kiosk(&[BENCH_2]), missing(BENCH_2, 5, 0));
    assert!(asked(&world, BENCH_2).is_ok());
    world.refuse(&kiosk(&[BENCH]), missing(BENCH, 5, 0), Refusal::NoPlatesMissing);
    assert_eq!(world.state, world.replayed());
}

#[test]
fn a_tree_that_changes_is_a_change_at_all_of_its_stations() {
    let mut world = World::other_with_all(|floor, _| share(floor));
    world.accept(&kiosk(&[BENCH]), missing(BENCH, 5, 3));
    world.accept(&kiosk(&[BENCH]), on(BENCH, &[20]));
    let other = |world: &World, change: fn(&mut Floor)| {
        let mut floor = world.state.floor.clone();
        change(&mut floor);
        floor
    };
    // Another name of the tree, or a bar that leaves it, says nothing about its plates.
    let renamed = other(&world, |floor| floor.trees.values_mut().for_each(|tree| tree.name.push('!')));
    let mut named = world.clone();
    named.take(Actor::Floor, named.now, Event::FloorSet(Box::new(renamed)));
    assert_eq!((named.state.trees.len(), named.state.stations[&BENCH].plates.is_some()), (1, true));
    // Other plates do: nobody has said yet which of them are missing, or on which bar.
    let more = other(&world, |floor| hang(floor, &[Plates::new(kg(20), 8)]));
    let mut more_plates = world.clone();
    more_plates.take(Actor::Floor, world.now, Event::FloorSet(Box::new(more.clone())));
    assert!(more_plates.state.trees.is_empty());
    assert_eq!(more_plates.state.stations[&BENCH].plates, None);
    // In use it must stay.
    world.claim(AYLA, PAIR, &[BENCH, ROW]);
    let in_use = InUse::Station { station: key("bench-1"), group: PAIR };
    assert_eq!(set_floor(&world.state, more), Err(vec![in_use]));
}

#[test]
fn floors_from_before_there_were_trees_read_as_they_did() {
    let mut old = serde_json::to_value(floor()).unwrap();
    assert!(old.as_object().unwrap().get("trees").is_none(), "a floor without trees writes none");
    let read: Floor = serde_json::from_value(old.take()).unwrap();
    assert_eq!(read, floor());
    let mut shared = floor();
    share(&mut shared);
    let text = serde_json::to_string(&shared).unwrap();
    assert_eq!(serde_json::from_str::<Floor>(&text).unwrap(), shared);
}
