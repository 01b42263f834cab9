//! A load on the wire: a mass as the integer that it has always been, a pin as what no mass can be taken for.

use proptest::prelude::*;
use serde_json::{Value, from_value, json, to_value};
use turnabout_protocol::load::Load;
use turnabout_protocol::next::{LoadQuestion, NextReason, PerMille, SetTo};
use turnabout_protocol::text::Language;
use turnabout_protocol::units::{Mass, MassUnit};

fn load() -> impl Strategy<Value = Load> {
    prop_oneof![
        any::<i64>().prop_map(|ng| Load::Mass(Mass::from_nanograms(ng))),
        any::<u16>().prop_map(|pin| Load::Pin { pin }),
    ]
}

proptest! {
    #[test]
    fn what_is_written_is_read_as_it_was(load in load()) {
        prop_assert_eq!(from_value::<Load>(to_value(load).unwrap()).unwrap(), load);
        let text = serde_json::to_string(&load).unwrap();
        prop_assert_eq!(serde_json::from_str::<Load>(&text).unwrap(), load);
        prop_assert_eq!(SetTo::from(load).load(), load);
    }

    #[test]
    fn a_mass_is_written_as_the_integer_it_is_by_itself(ng in any::<i64>()) {
        let mass = Mass::from_nanograms(ng);
        prop_assert_eq!(to_value(Load::from(mass)).unwrap(), json!(ng));
        prop_assert_eq!(to_value(Load::from(mass)).unwrap(), to_value(mass).unwrap());
        prop_assert_eq!(from_value::<Load>(json!(ng)).unwrap().mass(), Some(mass));
    }

    #[test]
    fn a_share_of_a_pin_is_a_pin_that_is_no_higher(pin in any::<u16>(), share in 0_u16..=1_000) {
        let some = PerMille(share).of_pins(pin);
        prop_assert!(some <= pin);
        prop_assert!(u32::from(some) * 1_000 <= u32::from(pin) * u32::from(share));
        prop_assert!((u32::from(some) + 1) * 1_000 > u32::from(pin) * u32::from(share));
    }
}

#[test]
fn a_pin_is_never_a_mass() {
    let pin = Load::Pin { pin: 7 };
    assert_eq!(to_value(pin).unwrap(), json!({ "pin": 7 }));
    assert_eq!((pin.mass(), pin.pin()), (None, Some(7)));
    assert!(!pin.is_like(Load::from(Mass::from_nanograms(7))) && pin.is_like(Load::Pin { pin: 8 }));
    let none = [
        json!({ "pin": -1 }),
        json!({ "pin": 7, "kg": 40 }),
        json!({}),
        json!("pin 7"),
        json!(7.5),
        Value::Null,
    ];
    for none in none {
        assert!(from_value::<Load>(none.clone()).is_err(), "{none}");
    }
}

#[test]
fn a_pin_reads_in_every_language() {
    let (pin, last) = (Load::Pin { pin: 7 }, Load::Pin { pin: 4 });
    assert_eq!(pin.read(Language::En, MassUnit::Lb), "pin 7");
    assert_eq!(pin.read(Language::De, MassUnit::Kg), "Pin 7");
    let mass = Load::from(Mass::from_grams(82_500));
    assert_eq!(mass.read(Language::De, MassUnit::Kg), "82,5 kg");
    let far = LoadQuestion::FarFromLast { load: pin, below: last };
    assert_eq!(
        far.sentence(Language::En, MassUnit::Kg),
        "Pin 7 is far from the pin 4 done here last. Really?"
    );
    let gone = NextReason::NotOnGear { load: pin };
    assert_eq!(gone.sentence(Language::De, MassUnit::Kg), "Pin 7 geht hier nicht: die nächstleichtere Last.");
}
