//! Stacks: labels, small weights on top, what reaches the hand, and stacks that help.

use std::collections::BTreeSet;

use proptest::prelude::*;
use turnabout_protocol::card::GearKind;
use turnabout_protocol::load::Load;
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_server::loading::gear::{AddOn, Gear, Numbered, Pins, Ratio, Stack};
use turnabout_server::training::loads::{Direction, Loads};

use crate::world::{kg, mass};

fn listed(labels: &[f64]) -> Stack {
    let pins = Pins::Listed { listed: labels.iter().map(|label| kg(*label)).collect() };
    Stack { pins, ..Stack::steps(MassUnit::Kg, kg(5.0), kg(5.0), 1) }
}

fn add_on(number: f64, count: u8) -> AddOn {
    AddOn { mass: kg(number), count }
}

#[test]
fn a_stack_may_have_irregular_labels() {
    let gear = Gear::Stack(listed(&[4.5, 9.0, 16.0, 23.0]));
    assert_eq!(gear.loads_up_to(Mass::MAX), [4.5, 9.0, 16.0, 23.0].map(kg));
    assert!(gear.can_hold(kg(16.0)) && !gear.can_hold(kg(15.0)));
    assert_eq!((gear.lightest(), gear.lighter_than(kg(16.0))), (Some(kg(4.5).into()), Some(kg(9.0).into())));
}

#[test]
fn small_weights_on_top_fill_the_gaps() {
    let stack = Stack { add_ons: vec![add_on(2.5, 1), add_on(1.25, 2)], ..listed(&[5.0, 10.0, 15.0]) };
    let loads = Gear::Stack(stack.clone()).loads_up_to(kg(12.0));
    assert_eq!(loads, [5.0, 6.25, 7.5, 8.75, 10.0, 11.25].map(kg));
    // 2.5 once rather than 1.25 twice; 10 alone rather than 5 with everything.
    let card = stack.pin(kg(7.5)).unwrap();
    assert_eq!((card.label, card.add_ons), (kg(5.0), vec![add_on(2.5, 1)]));
    let card = stack.pin(kg(10.0)).unwrap();
    assert_eq!((card.label, card.add_ons), (kg(10.0), vec![]));
    assert_eq!(stack.pin(kg(12.0)), None);
}

#[test]
fn pulleys_divide_what_reaches_the_hand() {
    // Pulley mechanics: the force at an ideal handle is that of the stack over the number of rope parts that
    // carry it; two to one makes 25 of 50 (reported by secondary texts, and computed).
    let two = Ratio::new(2, 1).unwrap();
    assert_eq!(two.at_hand(kg(50.0)), kg(25.0));
    assert_eq!(Ratio::default().at_hand(kg(50.0)), kg(50.0));
    assert_eq!(Ratio::new(1, 2).unwrap().at_hand(kg(50.0)), kg(100.0));
    assert_eq!(two.at_hand(mass("45 lb")), mass("22.5 lb"));
    assert_eq!([Ratio::new(0, 1), Ratio::new(1, 0), Ratio::new(9, 1)], [None; 3]);
    // What can be set is what the labels say, whatever reaches the hand.
    let stack = Stack { ratio: two, ..listed(&[10.0, 20.0]) };
    assert_eq!(Gear::Stack(stack).loads_up_to(Mass::MAX), [10.0, 20.0].map(kg));
}

#[test]
fn more_of_what_helps_is_easier() {
    let gear = Gear::Stack(Stack { assists: true, ..listed(&[10.0, 20.0, 30.0]) });
    assert_eq!(Loads::direction(&gear), Direction::Assists);
    assert_eq!(gear.lightest(), Some(kg(30.0).into()));
    assert_eq!(gear.lighter_than(kg(20.0)), Some(kg(30.0).into()));
    assert_eq!(gear.lighter_than(kg(30.0)), None);
    assert_eq!(gear.no_harder_than(kg(15.0)), Some(kg(20.0).into()));
    assert_eq!(gear.no_harder_than(kg(35.0)), Some(kg(30.0).into()));
}

#[test]
fn gear_answers_the_rules_of_training() {
    let gear = Gear::Stack(listed(&[10.0, 20.0, 30.0]));
    let loads: &dyn Loads = &gear;
    assert_eq!((loads.unit(), loads.direction()), (MassUnit::Kg, Direction::Resists));
    assert_eq!((loads.at_most(kg(25.0)), loads.at_least(kg(25.0))), (Some(kg(20.0)), Some(kg(30.0))));
    assert_eq!((loads.next_above(kg(20.0)), loads.next_below(kg(20.0))), (Some(kg(30.0)), Some(kg(10.0))));
    assert_eq!((loads.next_above(kg(30.0)), loads.next_below(kg(10.0))), (None, None));
    assert_eq!(Loads::at_least(&Gear::Plain, Mass::ZERO), None);
}

#[test]
fn a_stack_from_before_there_were_lists_is_read_and_written_as_it_was() {
    let old = serde_json::json!({
        "kind": "stack", "unit": "lb", "first": 5_000_000_000_000_i64, "step": 2_000_000_000_000_i64, "labels": 3,
    });
    let gear: Gear = serde_json::from_value(old.clone()).unwrap();
    assert_eq!(gear, Gear::Stack(Stack::steps(MassUnit::Lb, kg(5.0), kg(2.0), 3)));
    assert_eq!(serde_json::to_value(&gear).unwrap(), old);
    let all = Stack {
        add_ons: vec![add_on(1.25, 2)],
        ratio: Ratio::new(2, 1).unwrap(),
        assists: true,
        ..listed(&[5.0, 12.0])
    };
    let kept = serde_json::to_string(&Gear::Stack(all.clone())).unwrap();
    assert_eq!(serde_json::from_str::<Gear>(&kept).unwrap(), Gear::Stack(all));
}

proptest! {
    #[test]
    fn every_load_of_a_stack_has_its_pin_and_no_other_has(
        labels in prop::collection::btree_set(1_i64..=80, 1..12),
        kinds in prop::collection::btree_map(1_i64..=6, 1_u8..=4, 0..4),
    ) {
        let quarters = |n: i64| Mass::from_grams(250 * n);
        let add_ons: Vec<_> =
            kinds.iter().rev().map(|(n, count)| AddOn { mass: quarters(*n), count: *count }).collect();
        let pins = Pins::Listed { listed: labels.iter().map(|n| quarters(*n)).collect() };
        let stack = Stack { pins, add_ons, ..Stack::steps(MassUnit::Kg, kg(5.0), kg(5.0), 1) };
        // Every label with every number of every kind.
        let mut all = labels.clone();
        for (n, count) in &kinds {
            all = (0..=i64::from(*count)).flat_map(|c| all.iter().map(move |l| l + n * c)).collect::<BTreeSet<_>>();
        }
        let loads: Vec<_> = all.iter().map(|n| quarters(*n)).collect();
        prop_assert_eq!(Gear::Stack(stack.clone()).loads_up_to(Mass::MAX), loads);
        for n in 1..=200 {
            let card = stack.pin(quarters(n));
            prop_assert_eq!(card.is_some(), all.contains(&n), "{}", n);
            let Some(card) = card else { continue };
            let on_top = card.add_ons.iter().map(|add_on| add_on.mass.times(i64::from(add_on.count)).unwrap());
            prop_assert_eq!(on_top.fold(card.label, |all, kind| all + kind), quarters(n));
            for taken in card.add_ons {
                let there = stack.add_ons.iter().find(|there| there.mass == taken.mass).unwrap();
                prop_assert!(there.count >= taken.count);
            }
        }
    }
}

#[test]
fn a_stack_of_numbers_has_pins_and_no_mass() {
    let pin = |pin| Load::Pin { pin };
    let gear = Gear::Numbered(Numbered { numbers: 12, assists: false });
    assert_eq!((gear.kind(), gear.direction()), (GearKind::Stack, Direction::Resists));
    assert_eq!((gear.lightest(), gear.unloaded()), (Some(pin(1)), None));
    assert!(gear.can_hold(pin(12)) && !gear.can_hold(pin(13)) && !gear.can_hold(pin(0)));
    assert!(!gear.can_hold(kg(12.0)) && !gear.can_hold_all(&[pin(3), kg(12.0).into()]));
    assert!(gear.can_hold_all(&[pin(3), pin(12)]) && gear.can_hold_all(&[]));
    assert_eq!((gear.lighter_than(pin(7)), gear.lighter_than(pin(1))), (Some(pin(6)), None));
    assert_eq!((gear.no_harder_than(pin(20)), gear.no_harder_than(kg(5.0))), (Some(pin(12)), None));
    assert_eq!((gear.loads_up_to(Mass::MAX), gear.nearest_at_most(Mass::MAX)), (Vec::new(), None));
    let helps = Gear::Numbered(Numbered { numbers: 12, assists: true });
    assert_eq!((helps.lightest(), helps.lighter_than(pin(7))), (Some(pin(12)), Some(pin(8))));
    assert_eq!(helps.no_harder_than(pin(20)), Some(pin(12)));
    // A pin says nothing of any other gear.
    let masses = Gear::Stack(listed(&[10.0, 20.0]));
    assert!(!masses.can_hold(pin(1)) && !masses.can_hold_all(&[kg(10.0).into(), pin(1)]));
    assert_eq!((masses.no_harder_than(pin(1)), masses.lighter_than(pin(2))), (None, None));
    assert!(!Gear::Plain.can_hold(pin(1)));
    let kept = serde_json::to_string(&gear).unwrap();
    assert_eq!(kept, r#"{"kind":"numbered","numbers":12}"#);
    assert_eq!(serde_json::from_str::<Gear>(&kept).unwrap(), gear);
}
