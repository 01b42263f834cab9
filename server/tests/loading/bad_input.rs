//! What is no load, no plate and no bar.

use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_server::loading::bar::{
    Bar, BarNo, BarSet, BarSetError, Finder, Free, Inventory, InventoryError, LoadError, MOST_KINDS, Plate,
    PlateKind, Sleeves, Starts, Takes, Why,
};
use turnabout_server::setup::limits;

use crate::world::{FIRST, bar, finder, kg, kind, set, small};

#[test]
fn what_is_no_load_is_refused_with_the_allowed_range() {
    let finder = finder(&set(vec![bar(20.0, 0.0), bar(15.0, 0.0)], &[(10.0, 4)]));
    for target in [Mass::ZERO, Mass::ZERO - kg(5.0), Mass::MAX + kg(1.0)] {
        let error = finder.find(target, FIRST, None).unwrap_err();
        let LoadError::Target { given, least, most } = error else { panic!("{error}") };
        assert_eq!((given.mass, least.mass, most.mass), (target, kg(15.0), Mass::MAX));
    }
    let error = finder.find(Mass::ZERO, FIRST, None).unwrap_err();
    assert_eq!(error.to_string(), "target: 0 kg is outside 15 kg to 9000 kg");
    let error = finder.find(kg(40.0), BarNo(7), None).unwrap_err();
    assert_eq!(error.to_string(), "bar: number 7 is outside 0 to 1");
}

#[test]
fn without_plates_only_the_bar_is_there() {
    for plates in [&[][..], &[(10.0, 1)], &[(10.0, 0)]] {
        let finder = finder(&set(vec![bar(20.0, 0.0)], plates));
        assert_eq!(finder.find(kg(20.0), FIRST, None).unwrap().loaded.side.plates(), []);
        let Err(LoadError::NotBuilt(not)) = finder.find(kg(40.0), FIRST, None) else { panic!() };
        assert_eq!(not.why, Why::NoPlates);
        assert_eq!(not.nearest.below.map(|near| near.total), Some(kg(20.0)));
        assert_eq!(not.nearest.above, None);
    }
}

#[test]
fn more_than_the_sleeve_or_the_bar_takes_is_its_own_answer() {
    let sleeves = Sleeves { collar: Mass::ZERO, length_mm: Some(100), rated: Some(kg(180.0)) };
    let thick = |number, thickness| PlateKind { thickness_mm: Some(thickness), ..kind(small(number), 10) };
    let inventory = Inventory::new(MassUnit::Kg, vec![thick(25.0, 40), thick(10.0, 15)]).unwrap();
    let bar = Bar { mass: kg(20.0), takes: Takes::Plates(sleeves) };
    let set = BarSet::new(inventory, vec![bar]).unwrap();
    let finder = Finder::new(&set, &Free::all(set.inventory()), Starts::Racked);
    let not = |target| match finder.find(kg(target), FIRST, None) {
        Err(LoadError::NotBuilt(not)) => not,
        other => panic!("{other:?}"),
    };
    assert_eq!(not(170.0).why, Why::SleeveFull { length_mm: 100 });
    assert_eq!(not(190.0).why, Why::AboveRating { rated: kg(180.0) });
    assert_eq!(not(170.0).nearest.below.map(|near| near.total), Some(kg(150.0)));
    // Two 25 and one 10 are 95 mm; one 25 and four 10, which make 150, fill the sleeve.
    assert_eq!(finder.find(kg(140.0), FIRST, None).unwrap().loaded.side.plates().len(), 3);
}

#[test]
fn thinner_plates_are_taken_where_the_fewest_do_not_fit() {
    let sleeves = Sleeves { collar: Mass::ZERO, length_mm: Some(50), rated: None };
    let thick = |number, thickness| PlateKind { thickness_mm: Some(thickness), ..kind(small(number), 4) };
    let inventory = Inventory::new(MassUnit::Kg, vec![thick(20.0, 60), thick(10.0, 20)]).unwrap();
    let bar = Bar { mass: kg(20.0), takes: Takes::Plates(sleeves) };
    let set = BarSet::new(inventory, vec![bar]).unwrap();
    let finder = Finder::new(&set, &Free::all(set.inventory()), Starts::Racked);
    let card = finder.find(kg(60.0), FIRST, None).unwrap();
    assert_eq!(card.loaded.side.plates(), [small(10.0), small(10.0)]);
}

#[test]
fn what_is_no_inventory_is_refused() {
    let new = |kinds: Vec<PlateKind>| Inventory::new(MassUnit::Kg, kinds).unwrap_err();
    let weightless = Plate { mass: Mass::ZERO, ..small(5.0) };
    assert!(matches!(new(vec![kind(weightless, 2)]), InventoryError::Mass { .. }));
    let twice = new(vec![kind(small(5.0), 2), kind(small(10.0), 2), kind(small(5.0), 4)]);
    assert_eq!(twice.to_string(), "plates: 5 kg stands there twice");
    assert_eq!(new(vec![kind(small(2_000.0), 6)]), InventoryError::TooHeavy);
    let most = |count: u8| (1..=count).map(|number| kind(small(f64::from(number)), 2)).collect();
    assert_eq!(new(most(17)), InventoryError::TooManyKinds(17));
    // Powers of two of a tenth of a gram: every number of them is a load of its own.
    let powers = (0..13).map(|power| {
        let mass = Mass::from_nanograms(100_000_000 << power);
        kind(Plate { mass, ..small(5.0) }, 2)
    });
    assert_eq!(new(powers.collect()), InventoryError::TooManyLoads);
}

#[test]
fn what_is_no_choice_of_bars_is_refused() {
    let inventory = Inventory::new(MassUnit::Kg, vec![kind(small(1_000.0), 8)]).unwrap();
    let new = |bars| BarSet::new(inventory.clone(), bars).unwrap_err();
    assert_eq!(new(Vec::new()), BarSetError::Count(0));
    assert_eq!(new(vec![bar(1.0, 0.0); 33]), BarSetError::Count(33));
    assert!(matches!(new(vec![bar(0.0, 0.0)]), BarSetError::Bar(_)));
    assert!(matches!(new(vec![bar(2_000.0, 0.0)]), BarSetError::Bar(_)));
    let mut below = bar(20.0, 0.0);
    below.takes = Takes::Plates(Sleeves { collar: Mass::ZERO - kg(1.0), length_mm: None, rated: None });
    assert!(matches!(new(vec![below]), BarSetError::Collar(_)));
}

#[test]
fn an_inventory_takes_as_many_kinds_as_a_floor_file() {
    assert_eq!(MOST_KINDS, limits::PLATE_KINDS);
}
