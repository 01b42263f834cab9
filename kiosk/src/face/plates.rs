//! The plates of a bar, in words: what is on each side, and what to change.

use turnabout_protocol::card::{BarPart, GearKind, LoadCard, PlatePart, UnbuiltPart};
use turnabout_protocol::text::{Language, message};
use turnabout_protocol::units::MassUnit;
use turnabout_protocol::view::StationPlates;

use super::words::{mass, stamped, with};

/// What goes on each side, from the inside out; nothing for gear without plates.
pub(super) fn each_side(language: Language, card: &LoadCard) -> String {
    match card.belt.as_deref() {
        Some([]) => return message(language, "label.body_alone").to_owned(),
        Some(hung) => {
            let plates: Vec<String> = hung.iter().map(|plate| stamped(*plate, card.unit)).collect();
            return with(language, "label.on_the_belt", &[("plates", &plates.join(" + "))]);
        }
        None => {}
    }
    let Some(bar) = &card.bar else { return String::new() };
    let plates = on_side(language, &bar.side, card.unit);
    if !bar.other_bar {
        return plates;
    }
    let other = with(language, "label.other_bar", &[("bar", &mass(language, bar.bar, card.unit))]);
    format!("{other}: {plates}")
}

/// These plates on each side, from the inside out.
pub(super) fn on_side(language: Language, side: &[PlatePart], unit: MassUnit) -> String {
    if side.is_empty() {
        return message(language, "label.bar_only").to_owned();
    }
    said(language, "label.each_side", side, unit)
}

/// What to take off and put on, or which loads can be made instead; nothing where nothing is to be done.
pub(super) fn change(language: Language, card: &LoadCard) -> String {
    match (&card.bar, &card.unbuilt) {
        (None, Some(unbuilt)) if card.gear == GearKind::Dumbbells => pair_out(language, unbuilt, card.unit),
        (Some(_), _) if card.confirmed => String::new(),
        (Some(bar), _) => hands(language, bar, card.unit),
        (None, Some(unbuilt)) => instead(language, unbuilt, card.unit),
        (None, None) => String::new(),
    }
}

/// How long the change takes, and that a bar with one side loaded tips: while there is something to change. What it
/// takes to strip what nobody knows, nobody knows either.
pub(super) fn notes(language: Language, bar: &BarPart) -> impl Iterator<Item = String> {
    let plates_move = !bar.known || !bar.strip.is_empty() || !bar.add.is_empty();
    let secs = (bar.known && bar.alone.0 > 0).then(|| {
        let places = [("alone", &*bar.alone.0.to_string()), ("together", &*bar.together.0.to_string())];
        with(language, "label.hands_secs", &places)
    });
    let in_turn = plates_move.then(|| message(language, "label.in_turn").to_owned());
    secs.into_iter().chain(in_turn)
}

/// How many kinds of missing plates are named at once: more would not be read, and the card says what can be done.
const MISSING_SHOWN: usize = 2;

/// Which plates of a station are missing, the heaviest first; nothing where all are there.
pub(super) fn missing(language: Language, rack: &StationPlates) -> String {
    let kinds = rack.kinds.iter().filter(|kind| kind.missing > 0);
    let mut said: Vec<String> = kinds
        .map(|kind| {
            let plate = format!("{} {}", stamped(kind.plate.mass, rack.unit), rack.unit.symbol());
            let n = kind.missing.to_string();
            with(language, "label.missing_plate", &[("n", &n), ("plate", &plate)])
        })
        .collect();
    if said.is_empty() {
        return String::new();
    }
    if said.len() > MISSING_SHOWN {
        said.truncate(MISSING_SHOWN);
        said.push("…".to_owned());
    }
    with(language, "label.missing", &[("plates", &said.join(", "))])
}

fn hands(language: Language, bar: &BarPart, unit: MassUnit) -> String {
    match (bar.known, bar.strip.is_empty(), bar.add.is_empty()) {
        (false, _, true) => message(language, "label.strip_all_only").to_owned(),
        (false, _, false) => said(language, "label.strip_all", &bar.add, unit),
        (true, strip, add) => {
            let off = (!strip).then(|| said(language, "label.strip", &bar.strip, unit));
            let on = (!add).then(|| said(language, "label.add", &bar.add, unit));
            off.into_iter().chain(on).collect::<Vec<_>>().join(", ")
        }
    }
}

fn instead(language: Language, unbuilt: &UnbuiltPart, unit: MassUnit) -> String {
    let loads = nearest(language, unbuilt, unit);
    if unbuilt.at.is_empty() {
        return loads;
    }
    format!("{loads}; {}", with(language, "label.unbuilt_at", &[("stations", &unbuilt.at.join(", "))]))
}

/// Where a pair of a shared rack is, and the nearest that are free.
fn pair_out(language: Language, unbuilt: &UnbuiltPart, unit: MassUnit) -> String {
    let free: Vec<String> =
        unbuilt.below.into_iter().chain(unbuilt.above).map(|load| mass(language, load, unit)).collect();
    let taken = with(language, "label.unbuilt_at", &[("stations", &unbuilt.at.join(", "))]);
    let mut said = format!("{}; {taken}", message(language, "label.pair_out"));
    if !free.is_empty() {
        said = format!("{said}; {}", with(language, "label.pairs_free", &[("loads", &free.join(", "))]));
    }
    said
}

fn nearest(language: Language, unbuilt: &UnbuiltPart, unit: MassUnit) -> String {
    match (unbuilt.below, unbuilt.above) {
        (Some(below), Some(above)) => {
            let places = [("below", &*mass(language, below, unit)), ("above", &*mass(language, above, unit))];
            with(language, "label.unbuilt", &places)
        }
        (Some(one), None) | (None, Some(one)) => {
            with(language, "label.unbuilt_one", &[("load", &mass(language, one, unit))])
        }
        (None, None) => message(language, "label.unbuilt_none").to_owned(),
    }
}

/// Plates by the numbers stamped on them.
fn said(language: Language, id: &str, plates: &[PlatePart], unit: MassUnit) -> String {
    let numbers: Vec<_> = plates.iter().map(|plate| stamped(plate.mass, unit)).collect();
    with(language, id, &[("plates", &numbers.join(" + "))])
}
