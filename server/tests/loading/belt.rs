//! Plates on a belt: one by one, and none is a load too.

use proptest::prelude::*;
use turnabout_protocol::card::GearKind;
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_server::loading::gear::{Belt, Gear, Hung};
use turnabout_server::training::loads::{Direction, Loads as _};

fn kg(kg: i64) -> Mass {
    Mass::from_grams(kg * 1_000)
}

fn belt(plates: &[(i64, u8)]) -> Belt {
    let plates = plates.iter().map(|(mass, count)| Hung { mass: kg(*mass), count: *count });
    Belt { unit: MassUnit::Kg, plates: plates.collect() }
}

#[test]
fn the_fewest_plates_make_a_load_and_none_is_body_mass_alone() {
    let belt = belt(&[(25, 1), (15, 2), (5, 1)]);
    // 25 + 5 and 15 + 15 are two plates each: the heaviest of them counts.
    assert_eq!(belt.plates_for(kg(30)), Some(vec![kg(25), kg(5)]));
    assert_eq!(belt.plates_for(kg(35)), Some(vec![kg(15), kg(15), kg(5)]));
    assert_eq!(belt.plates_for(Mass::ZERO), Some(Vec::new()));
    assert_eq!((belt.plates_for(kg(10)), belt.plates_for(kg(65))), (None, None));
    let gear = Gear::Belt(belt);
    assert_eq!(
        (gear.kind(), gear.direction(), gear.lightest()),
        (GearKind::Belt, Direction::Resists, Some(kg(0).into()))
    );
    assert_eq!(gear.loads_up_to(kg(25)), [0, 5, 15, 20, 25].map(kg));
    assert_eq!((gear.lighter_than(kg(5)), gear.lighter_than(kg(0))), (Some(kg(0).into()), None));
    assert_eq!((gear.at_most(kg(14)), gear.at_least(kg(61))), (Some(kg(5)), None));
    assert_eq!(gear.at_least(kg(51)), Some(kg(55)));
}

#[test]
fn a_belt_is_kept_whole() {
    let gear = Gear::Belt(belt(&[(20, 1), (10, 2)]));
    let kept = serde_json::to_string(&gear).unwrap();
    assert!(kept.contains("\"kind\":\"belt\""), "{kept}");
    assert_eq!(serde_json::from_str::<Gear>(&kept).unwrap(), gear);
}

proptest! {
    #[test]
    fn what_it_can_hold_is_what_its_plates_sum_to_with_the_fewest(
        counts in prop::collection::vec(0_u8..=3, 4), masses in prop::sample::subsequence(vec![25, 20, 15, 10, 5, 2, 1], 4),
    ) {
        let kinds: Vec<(i64, u8)> = masses.iter().copied().zip(counts).collect();
        let belt = belt(&kinds);
        let all = Gear::Belt(belt.clone()).loads_up_to(Mass::MAX);
        for target in 0..=200 {
            // Every choice of plates, one by one.
            let mut fewest: Vec<Option<usize>> = vec![None; 201];
            fewest[0] = Some(0);
            for (mass, count) in &kinds {
                for _ in 0..*count {
                    for sum in (usize::try_from(*mass).unwrap()..=200).rev() {
                        let with = fewest[sum - usize::try_from(*mass).unwrap()].map(|plates| plates + 1);
                        fewest[sum] = [fewest[sum], with].into_iter().flatten().min();
                    }
                }
            }
            let hung = belt.plates_for(kg(target));
            prop_assert_eq!(hung.as_ref().map(Vec::len), fewest[usize::try_from(target).unwrap()]);
            prop_assert_eq!(hung.is_some(), all.binary_search(&kg(target)).is_ok());
            let sum = hung.map(|hung| hung.into_iter().fold(Mass::ZERO, |all, plate| all + plate));
            prop_assert!(sum.is_none_or(|sum| sum == kg(target)));
        }
    }
}
