//! Loads with and without their plates.

use turnabout_protocol::card::{BarPart, GearKind, LoadCard, PlatePart, UnbuiltPart};
use turnabout_protocol::units::{Mass, MassUnit, Secs};

pub(crate) fn load(grams: i64, on_now: Option<i64>, confirmed: bool) -> LoadCard {
    LoadCard {
        total: Mass::from_grams(grams),
        unit: MassUnit::Kg,
        gear: GearKind::Bar,
        on_now: on_now.map(Mass::from_grams),
        confirmed,
        bar: None,
        unbuilt: None,
        belt: None,
        rack: None,
    }
}

pub(crate) fn plate(grams: i64, full: bool) -> PlatePart {
    PlatePart { mass: Mass::from_grams(grams), full }
}

pub(crate) fn unbuilt() -> UnbuiltPart {
    UnbuiltPart { below: Some(Mass::from_grams(57_500)), above: None, at: vec!["Bench 2".to_owned()] }
}

/// 42.5 kg on a 20 kg bar that has 30 kg on it now.
pub(crate) fn with_plates(card: &LoadCard) -> LoadCard {
    let (ten, five, small) = (plate(10_000, true), plate(5_000, false), plate(1_250, false));
    let bar = BarPart {
        bar: Mass::from_grams(20_000),
        other_bar: false,
        collar: Mass::ZERO,
        side: vec![ten, small],
        known: true,
        strip: vec![five],
        add: vec![ten, small],
        alone: Secs(35),
        together: Secs(13),
    };
    LoadCard { bar: Some(bar), ..card.clone() }
}
