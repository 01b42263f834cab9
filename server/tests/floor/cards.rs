//! How a load is set on gear without plates: where the pin goes, and what reaches the hand.

use turnabout_protocol::card::{LoadCard, OnTopPart, PinPart, StackPart};
use turnabout_protocol::ids::StationId;
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_protocol::view::View;
use turnabout_server::floor::views::Watch;
use turnabout_server::loading::gear::{AddOn, Gear, Ratio, Stack};
use turnabout_server::training::block::Target;
use turnabout_server::training::rule::LoadRule;

use crate::world::*;

/// The floor with something changed at its first row, before Farid's second working set there: 56.25 kg after 22.5 kg.
fn before_rows(change: impl FnOnce(&mut Stack)) -> World {
    let mut world = World::other_with_all(|floor, programme| {
        let Gear::Stack(stack) = &mut floor.stations.get_mut(&ROW).unwrap().gear else { panic!("a stack") };
        stack.add_ons = vec![AddOn { mass: Mass::from_grams(1_250), count: 2 }];
        change(stack);
        let row = &mut programme.groups.get_mut(&SINGLE).unwrap().blocks[0].legs[1];
        let farid = row.sets.get_mut(&FARID).unwrap();
        let target = |grams| Target {
            load: Some(LoadRule::Fixed { load: Mass::from_grams(grams).into() }),
            ..farid.rounds[0]
        };
        farid.rounds = vec![target(22_500), target(56_250)];
    });
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.sets(BRAM, SINGLE, FARID, &[(0, 0), (0, 1), (1, 0), (1, 1), (2, 0)]);
    world
}

/// The card of the set to come or under way at a station.
fn card_at(world: &World, station: StationId) -> LoadCard {
    let View::Station(view) = world.view(&Watch::Station(vec![station])) else { panic!("a station") };
    view.stations[0].turn.clone().unwrap().load.unwrap()
}

/// The same on the coach's page.
fn card_of_coach(world: &World) -> LoadCard {
    let View::Coach(view) = world.view(&Watch::Coach(BRAM)) else { panic!("a coach's page") };
    let mut clients = view.groups.iter().flat_map(|group| &group.clients);
    clients.find(|c| c.client == FARID).unwrap().turn.clone().unwrap().load.unwrap()
}

fn pin(label: i64, small: u8) -> PinPart {
    let on_top = OnTopPart { mass: Mass::from_grams(1_250), count: small };
    PinPart {
        label: kilos(label),
        at: u16::try_from(label / 5).unwrap(),
        on_top: if small == 0 { Vec::new() } else { vec![on_top] },
    }
}

#[test]
fn a_stack_is_set_at_a_label_with_small_weights_on_top() {
    let world = before_rows(|_| {});
    let load = card_at(&world, ROW);
    // The set before, of 22.5 kg, was done at 20 with two small weights.
    let stack = StackPart { pin: pin(55, 1), now: Some(pin(20, 2)), at_hand: None, assists: false, of: 20 };
    assert_eq!((load.total, load.stack.clone()), (Mass::from_grams(56_250).into(), Some(stack)));
    assert_eq!(card_of_coach(&world), load);
}

#[test]
fn nobody_knows_where_a_pin_is_that_nobody_has_set() {
    let mut world = World::new();
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.whole_set(BRAM, turn(SINGLE, FARID, 0, 0));
    let stack = card_at(&world, ROW).stack.unwrap();
    assert_eq!((stack.now, stack.pin.on_top), (None, vec![]));
}

#[test]
fn pulleys_and_a_stack_that_assists_are_said() {
    let world = before_rows(|stack| {
        stack.ratio = Ratio::new(2, 1).unwrap();
        stack.assists = true;
    });
    let stack = card_at(&world, ROW).stack.unwrap();
    // The force at an ideal handle is that of the stack over the rope parts that carry it (textbook statics): half
    // of 56.25 kg is 28.125 kg, said to half kilograms.
    assert_eq!((stack.at_hand, stack.assists), (Some(kg(28)), true));
}

#[test]
fn no_board_is_told_where_a_pin_goes() {
    let text = serde_json::to_string(&before_rows(|_| {}).view(&Watch::Board)).unwrap();
    assert!(text.contains("\"total\":56250000000000") && !text.contains("\"pin\""), "{text}");
}

#[test]
fn who_counts_in_pounds_reads_about_how_many_and_plates_and_labels_stay_as_stamped() {
    let mut world = World::other_with_all(|_, programme| {
        programme.clients.get_mut(&FARID).unwrap().unit = Some(MassUnit::Lb);
    });
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    world.sets(BRAM, SINGLE, FARID, &[(0, 0), (0, 1)]);
    // NIST Special Publication 811 (2008), appendix B.8: 1 lb is 0.453 592 37 kg exactly; 70 kg are 154.324 lb.
    let load = card_at(&world, BENCH);
    let about = load.about.unwrap();
    assert_eq!((about.mass.in_unit(about.unit).as_str(), about.unit), ("154", MassUnit::Lb));
    assert_eq!((load.total, load.unit, load.bar.unwrap().side.len()), (kilos(70), MassUnit::Kg, 2));
}

#[test]
fn who_counts_as_the_gear_is_stamped_reads_nothing_more() {
    let mut world = World::other_with_all(|_, programme| {
        programme.clients.get_mut(&FARID).unwrap().unit = Some(MassUnit::Kg);
    });
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    assert_eq!(card_at(&world, BENCH).about, None);
}

#[test]
fn a_board_reads_loads_as_they_are_stamped() {
    let mut world = World::other_with_all(|_, programme| {
        programme.clients.get_mut(&FARID).unwrap().unit = Some(MassUnit::Lb);
    });
    world.claim(BRAM, SINGLE, &[BENCH, ROW]);
    let text = serde_json::to_string(&world.view(&Watch::Board)).unwrap();
    assert!(text.contains("\"total\"") && !text.contains("\"about\""), "{text}");
}
