//! The pin of a stack, in words: where it goes, what lies on top, and what to change.

use turnabout_protocol::card::{OnTopPart, PinPart};
use turnabout_protocol::load::Load;
use turnabout_protocol::text::Language;
use turnabout_protocol::units::MassUnit;

use super::words::{stamped, with};

/// Where the pin goes, and what is put on top.
pub(super) fn at(language: Language, pin: &PinPart, unit: MassUnit) -> String {
    let at = with(language, "label.pin", &[("label", &labelled(pin.label, unit))]);
    if pin.on_top.is_empty() {
        return at;
    }
    let on_top = with(language, "label.on_top", &[("weights", &weights(&pin.on_top, unit))]);
    format!("{at}, {on_top}")
}

/// Where the pin is moved to, and what comes off and on the top.
pub(super) fn change(language: Language, now: &PinPart, wanted: &PinPart, unit: MassUnit) -> String {
    let label = |label: Load| labelled(label, unit);
    let moved = (now.label != wanted.label).then(|| {
        with(language, "label.pin_from", &[("from", &label(now.label)), ("to", &label(wanted.label))])
    });
    let top = |id: &str, more: &PinPart, than: &PinPart| {
        let more = beyond(&more.on_top, &than.on_top);
        (!more.is_empty()).then(|| with(language, id, &[("weights", &weights(&more, unit))]))
    };
    let (off, on) = (top("label.top_off", now, wanted), top("label.top_on", wanted, now));
    moved.into_iter().chain(off).chain(on).collect::<Vec<_>>().join(", ")
}

/// What a label says: a mass, or a mere number.
fn labelled(label: Load, unit: MassUnit) -> String {
    match label {
        Load::Mass(mass) => stamped(mass, unit),
        Load::Pin { pin } => pin.to_string(),
    }
}

/// What there is more of here than there.
fn beyond(here: &[OnTopPart], there: &[OnTopPart]) -> Vec<OnTopPart> {
    let more = |one: &OnTopPart| {
        let kept = there.iter().find(|other| other.mass == one.mass).map_or(0, |other| other.count);
        let count = one.count.saturating_sub(kept);
        (count > 0).then_some(OnTopPart { count, ..*one })
    };
    here.iter().filter_map(more).collect()
}

/// `2 × 1.25 + 0.75 kg`.
fn weights(on_top: &[OnTopPart], unit: MassUnit) -> String {
    let one = |one: &OnTopPart| match (one.count, stamped(one.mass, unit)) {
        (1, number) => number,
        (count, number) => format!("{count} × {number}"),
    };
    let all = on_top.iter().map(one).collect::<Vec<_>>().join(" + ");
    format!("{all} {}", unit.symbol())
}
