//! Published equipment and worked loads.

use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_server::loading::bar::standard::{Colour, Disc, IPF, IWF};
use turnabout_server::loading::bar::{
    Bar, BarSet, Diameter, Finder, Free, Inventory, LoadError, Plate, PlateKind, Sleeves, Starts, Takes, Why,
};

use crate::world::{FIRST, bar, finder, kg, mass, numbers, plates_for, set};

/// Discs of the IPF's set (IPF Technical Rules Book, "Bars and discs") that every gym has, four of each.
const USUAL: [(f64, u8); 7] = [(25.0, 8), (20.0, 4), (15.0, 4), (10.0, 4), (5.0, 4), (2.5, 4), (1.25, 4)];

#[test]
fn worked_loads_come_out_as_computed() {
    // Computed by hand from the discs of the IPF's set: target, bar, one collar, one side.
    let rows: [(f64, f64, f64, &[&str]); 7] = [
        (100.0, 20.0, 0.0, &["25", "15"]),
        (100.0, 20.0, 2.5, &["25", "10", "2.5"]),
        (60.0, 20.0, 0.0, &["20"]),
        (102.5, 20.0, 0.0, &["25", "15", "1.25"]),
        (77.5, 15.0, 0.0, &["25", "5", "1.25"]),
        (142.5, 20.0, 2.5, &["25", "25", "5", "2.5", "1.25"]),
        (27.5, 20.0, 0.0, &["2.5", "1.25"]),
    ];
    for (target, empty, collar, side) in rows {
        let finder = finder(&set(vec![bar(empty, collar)], &USUAL));
        let card = finder.find(kg(target), FIRST, None).unwrap();
        let total = kg(empty) + kg(collar) + kg(collar) + card.loaded.side.mass() + card.loaded.side.mass();
        assert_eq!((card.total, total), (kg(target), kg(target)), "{target}");
        // 40 kg a side are 25 + 15 and 20 + 20 alike: the heaviest is inside.
        assert_eq!(numbers(&card.loaded.side), side, "{target} on {empty} with {collar}");
    }
}

#[test]
fn what_is_half_a_kilogram_over_is_told_with_what_is_nearest() {
    // Computed: 61 kg on a bar of 20 leaves 0.5 kg a side over.
    let set = set(vec![bar(20.0, 0.0)], &USUAL);
    let Err(LoadError::NotBuilt(not)) = finder(&set).find(kg(61.0), FIRST, None) else { panic!() };
    assert_eq!(not.why, Why::NoPlatesMakeIt);
    assert_eq!(not.nearest.below.map(|near| near.total), Some(kg(60.0)));
    assert_eq!(not.nearest.above.map(|near| near.total), Some(kg(62.5)));
    assert_eq!(
        not.to_string(),
        "61 kg cannot be put on: the free plates do not make it; nearest: 60 kg and 62.5 kg"
    );
}

#[test]
fn pounds_are_their_own_set() {
    // Computed: 135, 185, 225 and 315 lb on a bar of 45 lb are 45 / 45+25 / 45+45 / 45+45+45 a side.
    let plate = |text: &str| Plate { mass: mass(text), diameter: Diameter::Small };
    let pounds = ["45 lb", "35 lb", "25 lb", "10 lb", "5 lb", "2.5 lb"];
    let kinds = pounds.map(|text| PlateKind { plate: plate(text), count: 6, thickness_mm: None });
    let inventory = Inventory::new(MassUnit::Lb, kinds.to_vec()).unwrap();
    let sleeves = Sleeves { collar: Mass::ZERO, length_mm: None, rated: None };
    let bar = Bar { mass: mass("45 lb"), takes: Takes::Plates(sleeves) };
    let set = BarSet::new(inventory, vec![bar]).unwrap();
    let finder = Finder::new(&set, &Free::all(set.inventory()), Starts::Racked);
    let rows: [(&str, &[&str]); 4] = [
        ("135 lb", &["45 lb"]),
        ("185 lb", &["45 lb", "25 lb"]),
        ("225 lb", &["45 lb", "45 lb"]),
        ("315 lb", &["45 lb", "45 lb", "45 lb"]),
    ];
    for (target, side) in rows {
        let card = finder.find(mass(target), FIRST, None).unwrap();
        let wanted: Vec<Plate> = side.iter().map(|text| plate(text)).collect();
        assert_eq!(card.loaded.side.plates(), wanted, "{target}");
    }
    // International pound: 225 lb is 102.05828 kg, so 102.5 kg is not among these loads, and 45 lb is no 20 kg.
    let Err(LoadError::NotBuilt(not)) = finder.find(kg(102.5), FIRST, None) else { panic!() };
    assert_eq!(not.nearest.below.map(|near| near.total), Some(mass("225 lb")));
    assert!(finder.find(kg(20.0), FIRST, None).is_err());
}

#[test]
fn the_greediest_choice_is_not_always_right() {
    // Computed: 30 kg a side from one 25 and two 15 is 15 + 15; whoever takes the 25 first fails.
    let set = set(vec![bar(20.0, 0.0)], &[(25.0, 2), (15.0, 4)]);
    assert_eq!(plates_for(&finder(&set), 80.0, None), ["15", "15"]);
}

#[test]
fn federations_discs_carry_their_number_with_their_colour() {
    // IWF Technical and Competition Rules & Regulations, section 3.3; IPF Technical Rules Book, "Bars and discs".
    let marks = |discs: &[Disc], colour| {
        let marked = discs.iter().map(Disc::marked).filter(|(_, is)| *is == Some(colour));
        marked.map(|(mass, _)| mass.in_unit(MassUnit::Kg)).collect::<Vec<_>>()
    };
    assert_eq!(marks(IWF.discs, Colour::Red), ["25", "2.5"]);
    assert_eq!(marks(IWF.discs, Colour::Blue), ["20", "2"]);
    assert_eq!(marks(IWF.discs, Colour::Yellow), ["15", "1.5"]);
    assert_eq!(marks(IWF.discs, Colour::Green), ["10", "1"]);
    assert_eq!(marks(IWF.discs, Colour::White), ["5", "0.5"]);
    // From memory: the colours of the IPF's heavy discs.
    assert_eq!(marks(IPF.discs, Colour::Green), ["50"]);
    let ten = |discs: &[Disc]| discs.iter().find(|disc| disc.mass() == kg(10.0)).map(|disc| disc.marked().1);
    assert_eq!((ten(IWF.discs), ten(IPF.discs)), (Some(Some(Colour::Green)), Some(None)));
}

#[test]
fn federations_bars_weigh_what_the_rules_say() {
    // IWF section 3.3: 20 kg with sleeves of 415 mm, 15 kg with 320 mm, collars of 2.5 kg each.
    let bars: Vec<_> = IWF.bars.iter().map(|bar| (bar.mass, bar.sleeve_mm)).collect();
    assert_eq!(bars, [(kg(20.0), Some(415)), (kg(15.0), Some(320))]);
    // IPF "Bars and discs": bar and collars are 25 kg.
    assert_eq!(IPF.bars[0].mass + IPF.collar + IPF.collar, kg(25.0));
    // IWF section 3.3: discs of 10 kg and more are 450 mm wide.
    assert_eq!(IWF.full_from, Some(kg(10.0)));
}

#[test]
fn every_half_kilogram_can_be_put_on_with_the_iwfs_discs() {
    // Two of each disc of IWF section 3.3 make every 0.5 kg a side from 0.5 to 81 and then up to 81.5: a whole
    // kilogram in the total, from the empty bar with collars on.
    let kinds = IWF.discs.iter().map(|disc| {
        let diameter = if IWF.full_from.is_some_and(|from| disc.mass() >= from) {
            Diameter::Full
        } else {
            Diameter::Small
        };
        PlateKind { plate: Plate { mass: disc.mass(), diameter }, count: 2, thickness_mm: None }
    });
    let inventory = Inventory::new(MassUnit::Kg, kinds.collect()).unwrap();
    let sleeves = Sleeves { collar: IWF.collar, length_mm: IWF.bars[0].sleeve_mm, rated: None };
    let bar = Bar { mass: IWF.bars[0].mass, takes: Takes::Plates(sleeves) };
    let set = BarSet::new(inventory, vec![bar]).unwrap();
    let finder = Finder::new(&set, &Free::all(set.inventory()), Starts::Racked);
    for total in 25..=188 {
        let target = Mass::from_grams(1_000 * total);
        let card = finder.find(target, FIRST, None).unwrap();
        assert_eq!(set.total(&card.loaded), Some(target), "{total}");
    }
}
