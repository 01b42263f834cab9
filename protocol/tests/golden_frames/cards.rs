//! Loads with and without their plates.

use turnabout_protocol::card::{
    AboutPart, BarPart, GearKind, LoadCard, OnTopPart, PinPart, PlatePart, StackPart, UnbuiltPart,
};
use turnabout_protocol::ids::StationId;
use turnabout_protocol::units::{Mass, MassUnit, Secs};
use turnabout_protocol::view::{BarChoice, PlateChoice, StationPlates};
use turnabout_protocol::words::Words;

pub(crate) fn load(grams: i64, on_now: Option<i64>, confirmed: bool) -> LoadCard {
    LoadCard {
        on_now: on_now.map(|on| Mass::from_grams(on).into()),
        confirmed,
        ..LoadCard::new(GearKind::Bar, Mass::from_grams(grams), MassUnit::Kg)
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

/// 28.25 kg on a stack of 2:1 that is at 25 kg now: the pin at 25, two small weights and one smaller on top.
pub(crate) fn at_the_pin() -> LoadCard {
    let (total, now) = (Mass::from_grams(28_250), Mass::from_grams(25_000));
    let on_top = |grams, count| OnTopPart { mass: Mass::from_grams(grams), count };
    let stack = StackPart {
        pin: PinPart { label: now.into(), at: 5, on_top: vec![on_top(1_250, 2), on_top(750, 1)] },
        now: Some(PinPart { label: now.into(), at: 5, on_top: Vec::new() }),
        at_hand: Some(Mass::from_grams(14_000)),
        assists: true,
        of: 20,
    };
    // A pound is 453,592,370,000 ng.
    let about = AboutPart { mass: Mass::from_nanograms(62 * 453_592_370_000), unit: MassUnit::Lb };
    let plain = LoadCard::new(GearKind::Stack, total, MassUnit::Kg);
    LoadCard { on_now: Some(now.into()), stack: Some(stack), about: Some(about), ..plain }
}

/// Plates of a station that shares them and has a choice of bars.
pub(crate) fn plates() -> StationPlates {
    StationPlates {
        station: StationId(1),
        unit: MassUnit::Kg,
        tree: Some("Tree by the door".to_owned()),
        bars: vec![
            BarChoice { mass: Mass::from_grams(20_000), name: None },
            BarChoice { mass: Mass::from_grams(25_000), name: Some(Words::same("Trap bar")) },
        ],
        bar: 1,
        kinds: vec![
            PlateChoice { plate: plate(10_000, true), count: 4, missing: 0, on: 0 },
            PlateChoice { plate: plate(5_000, false), count: 2, missing: 2, on: 1 },
        ],
    }
}
