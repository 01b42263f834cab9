//! What a station's gear says it can hold is what the search builds, and the other way round.

use proptest::prelude::*;
use turnabout_protocol::load::Load;
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_protocol::words::Words;
use turnabout_server::loading::bar::{BarNo, Finder, Free, Starts};
use turnabout_server::loading::gear::{Bar, Ends, Gear, OneBar, Plates};

use crate::world::kg;

fn one_bar() -> impl Strategy<Value = OneBar> {
    let mass = (4_i64..=50).prop_map(|halves| Mass::from_grams(500 * halves));
    let measured = (prop::option::of(0_u16..=150), prop::option::of(20_i64..=120));
    (mass, prop::bool::weighted(0.3), measured).prop_map(|(mass, fixed, (length_mm, rated))| {
        // Nobody rates a bar below what it weighs with its collars.
        let rated = rated.map(|kg| Mass::from_grams(1_000 * kg).max(mass + Mass::from_grams(5_000)));
        let ends = if fixed { Ends::Fixed } else { Ends::Sleeves { length_mm, rated } };
        OneBar { mass, name: None, ends }
    })
}

fn choice() -> impl Strategy<Value = Bar> {
    let plates = (1_i64..=40, 0_u8..=6, prop::option::of(prop::bool::ANY), prop::option::of(5_u16..=60));
    let plates = plates.prop_map(|(halves, count, full, thickness_mm)| Plates {
        mass: Mass::from_grams(500 * halves),
        count,
        full,
        thickness_mm,
    });
    let collar = prop_oneof![Just(Mass::ZERO), Just(kg(2.5))];
    let bars = prop::collection::vec(one_bar(), 0..4);
    (one_bar(), bars, collar, prop::collection::vec(plates, 0..5)).prop_map(
        |(bar, others, collar, mut plates)| {
            plates.sort_by_key(|kind| std::cmp::Reverse((kind.mass, kind.diameter())));
            plates.dedup_by_key(|kind| (kind.mass, kind.diameter()));
            Bar { unit: MassUnit::Kg, bar, collar, plates, others, tree: None, starts: Starts::Racked }
        },
    )
}

fn holds_what_is_built(bar: &Bar, starts: Starts) -> Result<(), TestCaseError> {
    let set = bar.set().unwrap();
    let finder = Finder::new(&set, &Free::all(set.inventory()), starts);
    let gear = Gear::Bar(bar.clone()).starting(starts).into_owned();
    let Gear::Bar(asked) = &gear else { panic!("a bar") };
    for wanted in (0..=u8::try_from(bar.others.len()).unwrap()).map(BarNo) {
        let loads = asked.loads_for(wanted, Mass::MAX);
        prop_assert!(loads.is_sorted());
        for load in &loads {
            let card = finder.find(*load, wanted, None);
            prop_assert_eq!(card.map(|card| set.total(&card.loaded)), Ok(Some(*load)));
        }
        // Every half kilogram that anything here could weigh; sides in halves make whole kilograms apart.
        for halves in 1..=600 {
            let target = Mass::from_grams(500 * halves);
            let built = finder.find(target, wanted, None).is_ok();
            prop_assert_eq!(built, loads.binary_search(&target).is_ok(), "{:?} {:?}", target, starts);
            if wanted == BarNo(0) {
                prop_assert_eq!(built, gear.can_hold(target));
            }
        }
    }
    prop_assert_eq!(gear.lightest(), gear.loads_up_to(Mass::MAX).first().copied().map(Load::Mass));
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]
    #[test]
    fn what_it_can_hold_is_what_the_search_builds(bar in choice()) {
        for starts in [Starts::Racked, Starts::FromTheFloor] {
            holds_what_is_built(&bar, starts)?;
        }
    }

    #[test]
    fn a_choice_is_kept_whole(bar in choice()) {
        let gear = Gear::Bar(bar);
        let kept = serde_json::to_string(&gear).unwrap();
        prop_assert_eq!(serde_json::from_str::<Gear>(&kept).unwrap(), gear);
    }
}

#[test]
fn a_bar_from_before_there_was_a_choice_is_read_and_written_as_it_was() {
    let old = serde_json::json!({
        "kind": "bar", "unit": "kg", "bar": 20_000_000_000_000_i64, "collar": 0,
        "plates": [{ "mass": 10_000_000_000_000_i64, "count": 2 }],
    });
    let gear: Gear = serde_json::from_value(old.clone()).unwrap();
    assert_eq!(gear, Gear::Bar(Bar::one(MassUnit::Kg, kg(20.0), Mass::ZERO, vec![Plates::new(kg(10.0), 2)])));
    assert_eq!(serde_json::to_value(&gear).unwrap(), old);
}

fn three_bars() -> Bar {
    let light = OneBar {
        mass: kg(15.0),
        name: Some(Words::same("Trap")),
        ends: Ends::Sleeves { length_mm: Some(60), rated: Some(kg(50.0)) },
    };
    let plates = vec![
        Plates { thickness_mm: Some(40), ..Plates::new(kg(10.0), 4) },
        Plates { thickness_mm: Some(20), ..Plates::new(kg(5.0), 2) },
    ];
    let others = vec![light, OneBar::fixed(kg(12.0))];
    Bar { others, ..Bar::one(MassUnit::Kg, kg(20.0), Mass::ZERO, plates) }
}

#[test]
fn what_is_lighter_than_the_usual_bar_is_set_on_a_lighter_one() {
    let bar = three_bars();
    let all = |wanted| bar.loads_for(BarNo(wanted), Mass::MAX);
    assert_eq!(all(0), [12.0, 15.0, 20.0, 30.0, 40.0, 50.0, 60.0, 70.0].map(kg));
    // 10 + 10 a side is 80 mm and does not fit; 10 + 5 does, and makes 45.
    assert_eq!(all(1), [12.0, 15.0, 25.0, 35.0, 45.0].map(kg));
    assert_eq!(all(2), [kg(12.0)]);
    assert_eq!(all(3), []);
    let gear = Gear::Bar(bar);
    assert_eq!((gear.lightest(), gear.unloaded()), (Some(kg(12.0).into()), Some(kg(20.0))));
    assert_eq!(gear.lighter_than(kg(20.0)), Some(kg(15.0).into()));
}
