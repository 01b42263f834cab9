//! Scenes of loads on every kind of gear.

use turnabout_protocol::card::{AboutPart, OnTopPart, PinPart, StackPart};
use turnabout_protocol::load::Load;

use super::*;

/// One mass, as it is stamped.
pub(crate) fn stamped(text: &str) -> Mass {
    text.parse::<Stamped>().unwrap().mass
}

/// A pin at a label in kg, with small weights on top: `2x1.25 0.75`.
pub(crate) fn pin(label: &str, on_top: &str) -> PinPart {
    let weight = |text: &str| {
        let (count, mass) = text.split_once('x').unwrap_or(("1", text));
        OnTopPart { mass: stamped(&format!("{mass} kg")), count: count.parse().unwrap() }
    };
    // A stack of twenty labels of five kilograms each.
    let five = label.parse::<u16>().unwrap_or(0) / 5;
    PinPart {
        label: stamped(&format!("{label} kg")).into(),
        at: five.clamp(1, 20),
        on_top: on_top.split_whitespace().map(weight).collect(),
    }
}

/// A load on a stack with its pin there, now somewhere else or nobody knows where.
pub(crate) fn on_stack(total: &str, wanted: PinPart, now: Option<(&str, PinPart)>) -> LoadCard {
    let plain = card(total, now.as_ref().map(|(on, _)| *on), false);
    let stack =
        StackPart { pin: wanted, now: now.map(|(_, pin)| pin), at_hand: None, assists: false, of: 20 };
    LoadCard { gear: GearKind::Stack, stack: Some(stack), ..plain }
}

/// A load on a stack whose labels are mere numbers, now at another or nobody knows where.
pub(crate) fn on_numbers(wanted: u16, now: Option<u16>) -> LoadCard {
    let at = |pin| PinPart { label: Load::Pin { pin }, at: pin, on_top: Vec::new() };
    let stack = StackPart { pin: at(wanted), now: now.map(at), at_hand: None, assists: false, of: 20 };
    let on_now = now.map(|pin| Load::Pin { pin });
    let plain = LoadCard::new(GearKind::Stack, Load::Pin { pin: wanted }, MassUnit::Kg);
    LoadCard { stack: Some(stack), on_now, ..plain }
}

/// The row with this load, about to begin.
pub(crate) fn row_with(load: LoadCard) -> StationPart {
    let mut part = row_1(coming(rest(34), 34, 34, &[]));
    part.turn.as_mut().unwrap().load = Some(load);
    part
}

/// The same of which half reaches the hand.
pub(crate) fn halved(load: LoadCard, at_hand: &str) -> LoadCard {
    let stack = load.stack.map(|stack| StackPart { at_hand: Some(stamped(at_hand)), ..stack });
    LoadCard { stack, ..load }
}

/// The same on a stack that carries part of the body.
pub(crate) fn assisting(load: LoadCard) -> LoadCard {
    let stack = load.stack.map(|stack| StackPart { assists: true, ..stack });
    LoadCard { stack, ..load }
}

/// A pair of dumbbells, one of this mass.
pub(crate) fn pair(one: &str) -> LoadCard {
    LoadCard { gear: GearKind::Dumbbells, ..card(one, Some("12 kg"), false) }
}

/// A load of a client who counts in pounds.
pub(crate) fn in_pounds(load: LoadCard) -> LoadCard {
    let about =
        Some(AboutPart { mass: load.total.mass().unwrap().about_in(MassUnit::Lb), unit: MassUnit::Lb });
    LoadCard { about, ..load }
}

/// Every scene of them.
pub(crate) fn cards() -> Vec<Sample> {
    let on = |name, load| Sample::new(name, view(vec![row_with(load)]));
    let moved = on_stack("56.25 kg", pin("55", "1.25"), Some(("42.5 kg", pin("40", "2x1.25"))));
    let strip = vec![row_with(halved(moved.clone(), "28 kg")), bench_1(under_way(-5))];
    vec![
        on("pin", on_stack("55 kg", pin("55", ""), Some(("40 kg", pin("40", ""))))),
        on("pin-on-top", halved(moved, "28 kg")),
        Sample::new("pin-two", view(strip)),
        on("assisting", assisting(on_stack("30 kg", pin("30", ""), Some(("35 kg", pin("35", "")))))),
        on("dumbbells", pair("22.5 kg")),
        on("dumbbells-pounds", in_pounds(pair("14 kg"))),
        Sample::new("bar-pounds", view(vec![in_pounds_at_the_bench()])),
    ]
}

fn in_pounds_at_the_bench() -> StationPart {
    let mut part = bench_1(coming(rest(34), 34, 34, &[Need::ConfirmLoad, Need::Spotter]));
    let load = with_plates(&card("60 kg", Some("82.5 kg"), false), "20", "1.25 10", "");
    part.turn.as_mut().unwrap().load = Some(in_pounds(load));
    part
}
