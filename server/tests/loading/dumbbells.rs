//! Racks of dumbbells: what a rack holds, and that pairs somebody has taken are not free.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_server::loading::gear::{Dumbbells, Gear, Pairs};

use crate::world::kg;

fn rack(pairs: &[(f64, u8)]) -> Dumbbells {
    let pairs = pairs.iter().map(|(mass, count)| Pairs { mass: kg(*mass), count: *count });
    Dumbbells { unit: MassUnit::Kg, pairs: pairs.collect(), rack: None }
}

#[test]
fn a_rack_holds_its_pairs_and_nothing_between() {
    let gear = Gear::Dumbbells(rack(&[(10.0, 1), (12.5, 2), (20.0, 1)]));
    assert_eq!((gear.kind(), gear.unit()), (GearKind::Dumbbells, MassUnit::Kg));
    assert_eq!(gear.loads_up_to(Mass::MAX), [10.0, 12.5, 20.0].map(kg));
    assert!(gear.can_hold(kg(12.5)) && !gear.can_hold(kg(15.0)) && !gear.can_hold(kg(22.5)));
    assert_eq!((gear.lightest(), gear.unloaded()), (Some(kg(10.0).into()), None));
    assert_eq!((gear.lighter_than(kg(12.5)), gear.lighter_than(kg(10.0))), (Some(kg(10.0).into()), None));
    assert_eq!(
        (gear.nearest_at_most(kg(19.0)), gear.nearest_at_least(kg(19.0))),
        (Some(kg(12.5)), Some(kg(20.0)))
    );
}

#[test]
fn a_pair_that_is_taken_is_not_free() {
    let whole = rack(&[(10.0, 1), (12.5, 2), (20.0, 1)]);
    assert_eq!(whole.without(&[]), whole);
    let left = whole.without(&[kg(12.5), kg(20.0)]);
    assert_eq!(left, rack(&[(10.0, 1), (12.5, 1)]));
    assert!(!Gear::Dumbbells(left.clone()).can_hold(kg(20.0)));
    assert_eq!(left.without(&[kg(12.5)]), rack(&[(10.0, 1)]));
    // More than there are, and one that belongs elsewhere.
    let none = whole.without(&[10.0, 12.5, 12.5, 12.5, 20.0, 7.5].map(kg));
    assert_eq!(none, rack(&[]));
    assert_eq!(
        (Gear::Dumbbells(none.clone()).lightest(), Gear::Dumbbells(none).can_hold(kg(10.0))),
        (None, false)
    );
}

#[test]
fn a_rack_is_kept_whole() {
    let gear = Gear::Dumbbells(rack(&[(10.0, 1), (12.5, 2)]));
    let kept = serde_json::to_value(&gear).unwrap();
    assert_eq!(kept["kind"], "dumbbells");
    assert_eq!(serde_json::from_value::<Gear>(kept).unwrap(), gear);
}
