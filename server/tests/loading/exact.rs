//! The search beside trying everything.

use proptest::prelude::*;
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_server::loading::bar::{
    Bar, BarNo, BarSet, Change, Diameter, Finder, Free, Inventory, LoadError, Loaded, Plate, PlateKind, Side,
    Sleeves, Starts, Takes, Why,
};

use crate::brute::{self, Rules};
use crate::world::{FIRST, bar, finder, full, kg, kind, loaded, numbers, plates_for, set, small};

/// A small set of plates, a bar, what is on now, and what is asked.
#[derive(Clone, Debug)]
struct Case {
    kinds: Vec<PlateKind>,
    bar: Bar,
    on_now: Vec<usize>,
    target: Mass,
    starts: Starts,
    lost: u8,
}

/// Masses of half kilograms, so that many sums can be made in several ways.
fn cases() -> impl Strategy<Value = Case> {
    let plate = (1_i64..9, any::<bool>(), 0_u8..6, 0_u16..4);
    let plates = prop::collection::vec(plate, 0..5);
    let ends = (0_i64..3, prop::option::of(0_u16..14), prop::option::of(20_i64..40));
    let rest = (prop::collection::vec(0_usize..5, 0..5), -2_i64..60, any::<bool>(), 0_u8..3);
    (plates, ends, rest).prop_map(|(plates, (collar, length_mm, rated), (on_now, above, floor, lost))| {
        let mut kinds: Vec<PlateKind> = Vec::new();
        for (halves, is_full, count, thick) in plates {
            let diameter = if is_full { Diameter::Full } else { Diameter::Small };
            let plate = Plate { mass: Mass::from_grams(500 * halves), diameter };
            if kinds.iter().all(|kind| kind.plate != plate) {
                kinds.push(PlateKind { plate, count, thickness_mm: (thick > 0).then_some(thick) });
            }
        }
        let collar = Mass::from_grams(250 * collar);
        let rated = rated.map(|rated| Mass::from_grams(1_000 * rated));
        let bar = Bar {
            mass: Mass::from_grams(10_000),
            takes: Takes::Plates(Sleeves { collar, length_mm, rated }),
        };
        let target = Mass::from_grams(10_000 + 500 * above);
        let starts = if floor { Starts::FromTheFloor } else { Starts::Racked };
        Case { kinds, bar, on_now, target, starts, lost }
    })
}

impl Case {
    fn set(&self) -> BarSet {
        BarSet::new(Inventory::new(MassUnit::Kg, self.kinds.clone()).unwrap(), vec![self.bar]).unwrap()
    }

    fn sleeves(&self) -> Sleeves {
        let Takes::Plates(sleeves) = self.bar.takes else { panic!("it takes plates") };
        sleeves
    }

    /// Plates of the inventory, and one that is none of them.
    fn now(&self, set: &BarSet) -> Vec<Plate> {
        let plate = |at: &usize| set.inventory().kinds().get(*at).map_or(small(7.0), |kind| kind.plate);
        self.on_now.iter().map(plate).collect()
    }

    fn free(&self, set: &BarSet) -> Free {
        let lost = set.inventory().kinds().first().map(|kind| kind.plate);
        lost.iter().fold(Free::all(set.inventory()), |free, plate| {
            free.without_plates(set.inventory(), *plate, self.lost)
        })
    }

    fn rules<'s>(&self, set: &'s BarSet, sleeve: Option<u16>, from_the_floor: bool) -> Rules<'s> {
        let kinds = set.inventory().kinds();
        let mut pairs: Vec<u8> = kinds.iter().map(|kind| kind.count / 2).collect();
        if let (Some(first), Some(kind)) = (pairs.first_mut(), kinds.first()) {
            *first = kind.count.saturating_sub(self.lost) / 2;
        }
        Rules { kinds, pairs, sleeve, from_the_floor }
    }
}

/// The nearest totals, by trying everything.
fn nearest(case: &Case, sides: &[Vec<Plate>]) -> [Option<Mass>; 2] {
    let rated = case.sleeves().rated.unwrap_or(Mass::MAX);
    let total = |side: &Vec<Plate>| case.bar.empty() + brute::mass(side) + brute::mass(side);
    let totals = || sides.iter().map(total).filter(|total| *total <= rated);
    let below = totals().filter(|total| *total < case.target).max();
    [below, totals().filter(|total| *total > case.target).min()]
}

fn check(case: &Case) -> Result<(), TestCaseError> {
    let set = case.set();
    let finder = Finder::new(&set, &case.free(&set), case.starts);
    let now = case.now(&set);
    let on_now = Loaded { bar: FIRST, side: Side::new(now.clone()) };
    let found = finder.find(case.target, FIRST, Some(&on_now));
    let from_the_floor = case.starts == Starts::FromTheFloor;
    let sides = brute::all_sides(&case.rules(&set, case.sleeves().length_mm, from_the_floor));
    let room = (case.target - case.bar.empty()).nanograms();
    let wanted = (room >= 0 && room % 2 == 0).then(|| Mass::from_nanograms(room / 2));
    let allowed = case.target <= case.sleeves().rated.unwrap_or(Mass::MAX);
    let best = wanted.filter(|_| allowed).and_then(|side| brute::best(&sides, side, &now));
    match (found, best) {
        (Ok(card), Some(best)) => {
            prop_assert_eq!(card.loaded.side.plates(), &best[..]);
            prop_assert_eq!(card.total, case.target);
            prop_assert_eq!(set.total(&card.loaded), Some(case.target));
            let moves = u32::try_from(2 * brute::moves(&now, best)).unwrap();
            prop_assert_eq!(card.change.effort().moves, moves);
            prop_assert_eq!(card.change, Change::between(&set, Some(&on_now), &card.loaded));
        }
        (Err(LoadError::NotBuilt(not)), None) => {
            let [below, above] = nearest(case, &sides);
            prop_assert_eq!(not.nearest.below.map(|near| near.total), below);
            prop_assert_eq!(not.nearest.above.map(|near| near.total), above);
            let makes = |sleeve, floor| {
                let sides = brute::all_sides(&case.rules(&set, sleeve, floor));
                wanted.is_some_and(|wanted| sides.iter().any(|side| brute::mass(side) == wanted))
            };
            let why = match not.why {
                Why::BelowTheBar { empty } => empty == case.bar.empty() && case.target < empty,
                Why::AboveRating { rated } => Some(rated) == case.sleeves().rated && case.target > rated,
                Why::NoPlates => case.rules(&set, None, false).pairs.iter().all(|pairs| *pairs == 0),
                Why::NoPlatesMakeIt => !makes(None, false),
                Why::NeedsFullPlates => from_the_floor && makes(case.sleeves().length_mm, false),
                Why::SleeveFull { .. } => makes(None, false) && !makes(case.sleeves().length_mm, false),
                Why::FixedBar => false,
            };
            prop_assert!(why, "{:?}", not.why);
        }
        (found, best) => prop_assert!(false, "{:?} beside {:?}", found, best),
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(6_000))]

    #[test]
    fn the_search_finds_what_trying_everything_finds(case in cases()) {
        check(&case)?;
    }
}

#[test]
fn fewest_plates_come_before_everything() {
    let set = set(vec![bar(20.0, 0.0)], &[(20.0, 2), (10.0, 4), (5.0, 4)]);
    // One 20, though two 10 are on already.
    assert_eq!(plates_for(&finder(&set), 60.0, Some(&loaded(&[10.0, 10.0]))), ["20"]);
}

#[test]
fn of_as_few_plates_those_stay_that_are_on() {
    let set = set(vec![bar(20.0, 0.0)], &[(25.0, 4), (20.0, 4), (15.0, 4), (10.0, 4), (5.0, 4)]);
    let finder = finder(&set);
    assert_eq!(plates_for(&finder, 100.0, None), ["25", "15"]);
    assert_eq!(plates_for(&finder, 100.0, Some(&loaded(&[20.0]))), ["20", "20"]);
    // The 15 stays inside, and the 25 goes outside it.
    assert_eq!(plates_for(&finder, 100.0, Some(&loaded(&[15.0, 5.0]))), ["15", "25"]);
}

#[test]
fn an_odd_plate_is_left_over() {
    let set = set(vec![bar(20.0, 0.0)], &[(10.0, 3), (5.0, 1)]);
    let finder = finder(&set);
    assert_eq!(plates_for(&finder, 40.0, None), ["10"]);
    let Err(LoadError::NotBuilt(not)) = finder.find(kg(30.0), FIRST, None) else { panic!() };
    assert_eq!(not.nearest.below.map(|near| near.total), Some(kg(20.0)));
    assert_eq!(not.nearest.above.map(|near| near.total), Some(kg(40.0)));
}

#[test]
fn what_another_bar_carries_is_not_free() {
    let set = set(vec![bar(20.0, 0.0)], &[(20.0, 4), (10.0, 8)]);
    let other = loaded(&[20.0, 20.0]);
    let free = Free::all(set.inventory()).without(set.inventory(), &other.side);
    let finder = Finder::new(&set, &free, Starts::Racked);
    assert_eq!(plates_for(&finder, 60.0, None), ["10", "10"]);
}

#[test]
fn what_is_lighter_than_the_bar_takes_a_lighter_bar() {
    let fixed = Bar { mass: kg(12.0), takes: Takes::Nothing };
    let set = set(vec![bar(20.0, 2.5), bar(10.0, 0.0), bar(15.0, 0.0), fixed], &[(2.5, 4), (1.25, 4)]);
    let finder = finder(&set);
    let card = finder.find(kg(17.5), FIRST, None).unwrap();
    // 15 comes before 10.
    assert_eq!((card.loaded.bar, card.instead_of), (BarNo(2), Some(FIRST)));
    assert_eq!(numbers(&card.loaded.side), ["1.25"]);
    assert_eq!(finder.find(kg(12.5), FIRST, None).unwrap().loaded.bar, BarNo(1));
    assert_eq!(finder.find(kg(12.0), FIRST, None).unwrap().loaded.bar, BarNo(3));
    let Err(LoadError::NotBuilt(not)) = finder.find(kg(8.0), FIRST, None) else { panic!() };
    assert_eq!(not.why, Why::BelowTheBar { empty: kg(25.0) });
    assert_eq!(not.nearest.below, None);
    assert_eq!(not.nearest.above.map(|near| (near.total, near.bar)), Some((kg(10.0), BarNo(1))));
}

#[test]
fn fixed_bars_stand_in_for_each_other() {
    let fixed = |number| Bar { mass: kg(number), takes: Takes::Nothing };
    let set = set(vec![fixed(20.0), fixed(25.0), fixed(30.0)], &[]);
    let finder = finder(&set);
    assert_eq!(finder.find(kg(30.0), FIRST, None).unwrap().loaded.bar, BarNo(2));
    let Err(LoadError::NotBuilt(not)) = finder.find(kg(27.5), FIRST, None) else { panic!() };
    assert_eq!(not.why, Why::FixedBar);
    let near = [not.nearest.below, not.nearest.above].map(|near| near.map(|near| near.bar));
    assert_eq!(near, [Some(BarNo(1)), Some(BarNo(2))]);
}

#[test]
fn a_pull_from_the_floor_has_full_plates_innermost() {
    let kinds = vec![kind(full(10.0), 2), kind(small(15.0), 2), kind(small(5.0), 4)];
    let set = BarSet::new(Inventory::new(MassUnit::Kg, kinds).unwrap(), vec![bar(20.0, 0.0)]).unwrap();
    let finder = Finder::new(&set, &Free::all(set.inventory()), Starts::FromTheFloor);
    let side = |target| finder.find(kg(target), FIRST, None).unwrap().loaded.side;
    assert_eq!(side(70.0).plates(), [full(10.0), small(15.0)]);
    // 15 would do but for the height of the bar.
    assert_eq!(side(50.0).plates(), [full(10.0), small(5.0)]);
    // What is on stays only with a full plate innermost.
    let on_now = Loaded { bar: FIRST, side: Side::new(vec![small(5.0), full(10.0)]) };
    let card = finder.find(kg(50.0), FIRST, Some(&on_now)).unwrap();
    assert_eq!((card.loaded.side.plates(), card.change.effort().moves), (&[full(10.0), small(5.0)][..], 8));
}

#[test]
fn what_only_full_plates_stand_in_the_way_of_is_told() {
    let kinds = vec![kind(full(20.0), 2), kind(small(10.0), 2)];
    let set = BarSet::new(Inventory::new(MassUnit::Kg, kinds).unwrap(), vec![bar(20.0, 0.0)]).unwrap();
    let finder = Finder::new(&set, &Free::all(set.inventory()), Starts::FromTheFloor);
    for target in [20.0, 40.0] {
        let Err(LoadError::NotBuilt(not)) = finder.find(kg(target), FIRST, None) else { panic!() };
        assert_eq!(not.why, Why::NeedsFullPlates);
        assert_eq!(not.nearest.below, None);
        assert_eq!(not.nearest.above.map(|near| near.total), Some(kg(60.0)));
    }
}
