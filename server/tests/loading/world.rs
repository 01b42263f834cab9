//! Short ways to say what bars and plates there are.

use turnabout_protocol::units::{Mass, MassUnit, Stamped};
use turnabout_server::loading::bar::{
    Bar, BarNo, BarSet, Diameter, Finder, Free, Inventory, Loaded, Plate, PlateKind, Side, Sleeves, Starts,
    Takes,
};

pub(crate) const FIRST: BarNo = BarNo(0);

/// `82.5 kg`, `45 lb`.
pub(crate) fn mass(text: &str) -> Mass {
    text.parse::<Stamped>().unwrap().mass
}

pub(crate) fn kg(kg: f64) -> Mass {
    mass(&format!("{kg} kg"))
}

/// A small plate of so many kilograms.
pub(crate) fn small(number: f64) -> Plate {
    Plate { mass: kg(number), diameter: Diameter::Small }
}

/// A full plate of so many kilograms.
pub(crate) fn full(number: f64) -> Plate {
    Plate { mass: kg(number), diameter: Diameter::Full }
}

pub(crate) fn kind(plate: Plate, count: u8) -> PlateKind {
    PlateKind { plate, count, thickness_mm: None }
}

/// A bar of so many kilograms with collars.
pub(crate) fn bar(number: f64, collar: f64) -> Bar {
    let sleeves = Sleeves { collar: kg(collar), length_mm: None, rated: None };
    Bar { mass: kg(number), takes: Takes::Plates(sleeves) }
}

/// Bars, and small plates of so many kilograms.
pub(crate) fn set(bars: Vec<Bar>, plates: &[(f64, u8)]) -> BarSet {
    let kinds = plates.iter().map(|(number, count)| kind(small(*number), *count)).collect();
    BarSet::new(Inventory::new(MassUnit::Kg, kinds).unwrap(), bars).unwrap()
}

/// With all plates free, from a rack.
pub(crate) fn finder(set: &BarSet) -> Finder {
    Finder::new(set, &Free::all(set.inventory()), Starts::Racked)
}

/// The first bar with small plates of so many kilograms, from the inside out.
pub(crate) fn loaded(plates: &[f64]) -> Loaded {
    Loaded { bar: FIRST, side: Side::new(plates.iter().map(|number| small(*number)).collect()) }
}

/// The numbers on the plates, in kilograms, from the inside out.
pub(crate) fn numbers(side: &Side) -> Vec<String> {
    side.plates().iter().map(|plate| plate.mass.in_unit(MassUnit::Kg)).collect()
}

/// The numbers of the plates that make a load on the first bar.
pub(crate) fn plates_for(finder: &Finder, target: f64, on_now: Option<&Loaded>) -> Vec<String> {
    numbers(&finder.find(kg(target), FIRST, on_now).unwrap().loaded.side)
}
