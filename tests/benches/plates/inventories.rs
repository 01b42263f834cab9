//! The plates that are asked about.

use std::collections::BTreeSet;

use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_server::loading::bar::{
    Bar, BarNo, BarSet, Diameter, Inventory, Plate, PlateKind, Sleeves, Takes,
};

pub(crate) const FIRST: BarNo = BarNo(0);

/// IWF Technical and Competition Rules & Regulations, section 3.3: 450 mm from 10 kg on.
const FULL_FROM: i64 = 10_000;

/// Plates with a name.
pub(crate) struct Named {
    pub(crate) name: &'static str,
    pub(crate) set: BarSet,
}

impl Named {
    fn new(name: &'static str, plates: &[(i64, u8)], full_from: i64) -> Self {
        let kind = |(grams, count): &(i64, u8)| {
            let diameter = if *grams >= full_from { Diameter::Full } else { Diameter::Small };
            let plate = Plate { mass: Mass::from_grams(*grams), diameter };
            PlateKind { plate, count: *count, thickness_mm: None }
        };
        let inventory = Inventory::new(MassUnit::Kg, plates.iter().map(kind).collect());
        let sleeves = Sleeves { collar: Mass::ZERO, length_mm: None, rated: None };
        let bar = Bar { mass: Mass::from_grams(20_000), takes: Takes::Plates(sleeves) };
        let set = BarSet::new(inventory.expect("plates in order"), vec![bar]).expect("a bar in order");
        Self { name, set }
    }

    /// Tens of 90 mm on a sleeve of 250 mm, all else 25 mm: with the tens it is soon full, and thinner plates
    /// make the same load.
    fn with_thick_tens(mut self) -> Self {
        let measured = self.set.inventory().kinds().iter().map(|kind| {
            let thick = kind.plate.mass == Mass::from_grams(10_000);
            PlateKind { thickness_mm: Some(if thick { 90 } else { 25 }), ..*kind }
        });
        let inventory = Inventory::new(MassUnit::Kg, measured.collect()).expect("plates in order");
        let sleeves = Sleeves { collar: Mass::ZERO, length_mm: Some(250), rated: None };
        let bar = Bar { mass: Mass::from_grams(20_000), takes: Takes::Plates(sleeves) };
        self.set = BarSet::new(inventory, vec![bar]).expect("a bar in order");
        self
    }

    /// Whether a sleeve may be too short, of which the plain programme knows nothing.
    pub(crate) fn is_measured(&self) -> bool {
        self.set.inventory().kinds().iter().any(|kind| kind.thickness_mm.is_some())
    }

    /// Every load that can be put on, by trying every number of every plate.
    pub(crate) fn loads(&self) -> Vec<Mass> {
        let mut sides = BTreeSet::from([Mass::ZERO]);
        for kind in self.set.inventory().kinds() {
            let with = |side: &Mass| {
                let side = *side;
                (0..=i64::from(kind.count / 2)).filter_map(move |n| Some(side + kind.plate.mass.times(n)?))
            };
            sides = sides.iter().flat_map(with).collect();
        }
        sides.into_iter().map(|side| self.set.bars()[0].empty() + side + side).collect()
    }
}

/// Fourteen denominations and forty plates, as sold and as nobody sells them, and the most that a floor file
/// may hold.
pub(crate) fn named() -> Vec<Named> {
    let sold = [
        (50_000, 2),
        (25_000, 4),
        (20_000, 4),
        (15_000, 2),
        (10_000, 6),
        (7_500, 2),
        (5_000, 4),
        (2_500, 4),
        (2_000, 2),
        (1_500, 2),
        (1_250, 2),
        (1_000, 2),
        (500, 2),
        (250, 2),
    ];
    // Neighbours of the same size: as many ways to make a load as there can be.
    let alike: Vec<(i64, u8)> =
        (0..14).map(|at| (10_000 + 250 * at, if at % 7 < 3 { 4 } else { 2 })).collect();
    let odd =
        [23_350, 19_700, 17_150, 13_900, 11_450, 9_600, 8_050, 6_350, 4_800, 3_650, 2_900, 1_550, 950, 350];
    let odd: Vec<(i64, u8)> =
        (0..).zip(odd).map(|(at, g): (u8, i64)| (g, if at % 7 < 3 { 4 } else { 2 })).collect();
    let most: Vec<(i64, u8)> = (1..=16).map(|at| (500 * at, 100)).collect();
    vec![
        Named::new("14 sold kinds, 40 plates", &sold, FULL_FROM),
        Named::new("14 kinds nearly alike, 40 plates", &alike, FULL_FROM),
        Named::new("14 odd kinds, 40 plates", &odd, FULL_FROM),
        Named::new("14 sold kinds, 10 kg thick, short sleeve", &sold, FULL_FROM).with_thick_tens(),
        Named::new("16 kinds, 1,600 plates", &most, 4_000),
    ]
}
