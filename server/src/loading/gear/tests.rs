use std::collections::BTreeSet;

use proptest::prelude::*;

use super::*;

fn kg(grams: i64) -> Mass {
    Mass::from_grams(grams)
}

fn bar(plates: &[(i64, u8)]) -> Gear {
    let plates = plates.iter().map(|&(g, count)| Plates::new(kg(g), count)).collect();
    Gear::Bar(Bar::one(MassUnit::Kg, kg(20_000), Mass::ZERO, plates))
}

#[test]
fn a_bar_holds_what_its_plates_make_and_no_more() {
    let gear = bar(&[(25_000, 2), (15_000, 4), (2_500, 2), (1_250, 2)]);
    // 15 + 15 a side where one 25 alone would leave 5 over: never greedy.
    assert!(gear.can_hold(kg(80_000)));
    assert!(gear.can_hold(kg(20_000)));
    assert!(!gear.can_hold(kg(61_000)));
    assert!(!gear.can_hold(kg(19_000)));
    assert_eq!(gear.lighter_than(kg(80_000)), Some(kg(77_500).into()));
    assert_eq!(gear.lighter_than(kg(20_000)), None);
    assert_eq!(gear.nearest_at_most(kg(1_000_000)), Some(kg(20_000 + 2 * 58_750)));
}

#[test]
fn an_odd_plate_is_left_over() {
    assert!(!bar(&[(5_000, 1)]).can_hold(kg(30_000)));
    assert!(bar(&[(5_000, 3)]).can_hold(kg(30_000)));
    assert!(!bar(&[(5_000, 3)]).can_hold(kg(40_000)));
}

#[test]
fn counted_collars_are_part_of_the_load() {
    // IWF rules, section 3.3: collars of 2.5 kg each, counted; 100 kg is 25 + 10 + 2.5 a side.
    let plates = [25_000, 10_000, 2_500].map(|g| Plates::new(kg(g), 2)).to_vec();
    let gear = Gear::Bar(Bar::one(MassUnit::Kg, kg(20_000), kg(2_500), plates));
    assert!(gear.can_hold(kg(100_000)));
    assert_eq!(gear.lightest(), Some(kg(25_000).into()));
}

#[test]
fn a_stack_holds_its_labels() {
    let stack = Stack::steps(MassUnit::Kg, kg(5_000), kg(7_500), 3);
    let gear = Gear::Stack(stack);
    assert!(gear.can_hold(kg(5_000)) && gear.can_hold(kg(12_500)) && gear.can_hold(kg(20_000)));
    assert!(!gear.can_hold(kg(10_000)) && !gear.can_hold(kg(27_500)));
    assert_eq!(gear.lighter_than(kg(12_500)), Some(kg(5_000).into()));
    assert_eq!(gear.lighter_than(kg(5_000)), None);
}

#[test]
fn nothing_to_set_holds_nothing() {
    assert_eq!((Gear::Plain.lightest(), Gear::Plain.can_hold(Mass::ZERO)), (None, false));
}

/// Every load by trying every number of pairs of every kind.
fn by_hand(bar: &Bar) -> BTreeSet<Mass> {
    let mut loads = BTreeSet::from([bar.empty()]);
    for kind in &bar.plates {
        let pairs = 0..=i64::from(kind.count / 2);
        let more = pairs.flat_map(|n| loads.iter().map(move |load| *load + kind.mass.times(2 * n).unwrap()));
        loads = more.collect();
    }
    loads
}

fn any_bar() -> impl Strategy<Value = Bar> {
    // Quarter kilograms make many equal loads, odd grams hardly any.
    let mass = prop_oneof![(1_i64..=100).prop_map(|n| n * 250), 1_i64..=25_000];
    let kinds = prop::collection::vec((mass, 0_u8..=9), 0..=5);
    (1_i64..=25_000, 0_i64..=2_500, kinds).prop_map(|(bar, collar, kinds)| {
        let mut plates: Vec<_> = kinds.into_iter().map(|(g, count)| Plates::new(kg(g), count)).collect();
        plates.sort_by_key(|kind| std::cmp::Reverse(kind.mass));
        plates.dedup_by_key(|kind| kind.mass);
        Bar::one(MassUnit::Kg, kg(bar), kg(collar), plates)
    })
}

proptest! {
    #[test]
    fn a_bar_holds_exactly_what_trying_everything_finds(bar in any_bar(), most in 0_i64..=300_000) {
        let all = by_hand(&bar);
        let gear = Gear::Bar(bar);
        prop_assert_eq!(gear.loads_up_to(Mass::MAX), all.iter().copied().collect::<Vec<_>>());
        let most = kg(most);
        let up_to: Vec<_> = all.iter().copied().filter(|load| *load <= most).collect();
        prop_assert_eq!(gear.nearest_at_most(most), up_to.last().copied());
        prop_assert_eq!(gear.can_hold(most), all.contains(&most));
        prop_assert_eq!(gear.lighter_than(most), up_to.iter().copied().rfind(|load| *load < most).map(Load::Mass));
        let all_of = |loads: &[Mass]| loads.iter().copied().map(Load::Mass).collect::<Vec<_>>();
        prop_assert!(gear.can_hold_all(&all_of(&up_to)));
        let heavier = *all.last().unwrap() + kg(1);
        prop_assert!(!gear.can_hold_all(&all_of(&[*all.first().unwrap(), heavier])));
    }
}

#[test]
fn of_more_loads_than_are_looked_at_the_lightest_are_kept() {
    // 1 kg and up to 1.5 g more, by tenths of a gram: a hundred of each make far too many.
    let plates = (0..16).map(|n| Plates::new(kg(1_000) + Mass::from_nanograms(n * 100_000_000), 100));
    let gear = Gear::Bar(Bar::one(MassUnit::Kg, kg(20_000), Mass::ZERO, plates.rev().collect()));
    let loads = gear.loads_up_to(Mass::MAX);
    assert_eq!(loads.len(), MOST_LOADS);
    assert_eq!(loads[..3], [kg(20_000), kg(22_000), kg(22_000) + Mass::from_nanograms(200_000_000)]);
    assert!(loads.is_sorted());
}
