//! A load in words: how heavy, how it is set, and what to change.

use serde::{Deserialize, Serialize};
use turnabout_protocol::card::{GearKind, LoadCard};
use turnabout_protocol::load::Load as Set;
use turnabout_protocol::text::{Language, message};

use super::sleeve::{Disc, sleeve};
use super::words::{mass, number, with};
use super::{pin, plates};

/// A load in words.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Load {
    /// The number, or of a pair of dumbbells twice that of one, or a pin whose label is a mere number; empty without
    /// a load.
    pub number: String,
    /// Its unit; empty of a pin.
    pub unit: String,
    /// About so much in the client's own unit, where the gear is stamped in another.
    pub about: String,
    /// How it is set: the plates of each side from the inside out on a bar or of a belt, where the pin of a stack
    /// goes, or which rack the pair is taken from.
    pub how: String,
    /// What to change, or else what is on the gear instead, while nobody has confirmed the load.
    pub on_now: String,
    /// What else to know of it, in lines: how long the change takes and how it is done safely, what reaches the
    /// hand, that more is easier, that one goes in each hand.
    pub notes: String,
    /// The plates of each side as a picture, while there is something to change or to confirm.
    pub sleeve: Vec<Disc>,
    /// The picture says all that is to be changed. Where nobody knows what is on, it does not.
    pub drawn: bool,
}

/// What a station shows of a load.
pub(super) fn load(language: Language, card: &LoadCard) -> Load {
    let (amount, unit) = match card.total {
        Set::Mass(mass) => (number(language, mass, card.unit), card.unit.symbol()),
        pin @ Set::Pin { .. } => (pin.read(language, card.unit), ""),
    };
    Load {
        number: many(amount, card.gear),
        unit: unit.to_owned(),
        about: card.about.map_or_else(String::new, |about| {
            with(language, "label.about", &[("at", &many(mass(language, about.mass, about.unit), card.gear))])
        }),
        how: how(language, card),
        on_now: change(language, card),
        notes: notes(language, card).join("\n"),
        drawn: card.bar.as_ref().is_some_and(|bar| bar.known) && !card.confirmed,
        sleeve: sleeve(card),
    }
}

fn how(language: Language, card: &LoadCard) -> String {
    match (&card.stack, &card.rack) {
        // A number is all that there is to say of where the pin goes.
        (Some(stack), _) if stack.pin.label.pin().is_some() => String::new(),
        (Some(stack), _) => pin::at(language, &stack.pin, card.unit),
        (None, Some(rack)) => with(language, "label.from_rack", &[("rack", rack)]),
        (None, None) => plates::each_side(language, card),
    }
}

/// Dumbbells are taken in pairs, and one of them carries the number.
pub(super) fn many(one: String, gear: GearKind) -> String {
    match gear {
        GearKind::Dumbbells => format!("2 × {one}"),
        GearKind::Bar | GearKind::Stack | GearKind::Belt | GearKind::Plain => one,
    }
}

/// A load in short: the number with its unit.
pub(super) fn short(language: Language, card: &LoadCard) -> String {
    many(card.total.read(language, card.unit), card.gear)
}

fn change(language: Language, card: &LoadCard) -> String {
    if card.bar.is_some() || card.unbuilt.is_some() {
        return plates::change(language, card);
    }
    let moved = card.stack.as_ref().and_then(|stack| Some((&stack.pin, stack.now.as_ref()?)));
    match (card.on_now, moved) {
        (None, _) => String::new(),
        // A pair is taken as it is: what somebody took before is no work.
        (Some(_), None) if card.gear == GearKind::Dumbbells => String::new(),
        (Some(on), _) if card.confirmed || on == card.total => String::new(),
        (Some(_), Some((pin, now))) => pin::change(language, now, pin, card.unit),
        (Some(on), None) => with(language, "label.on_now", &[("load", &on.read(language, card.unit))]),
    }
}

fn notes(language: Language, card: &LoadCard) -> Vec<String> {
    let load = |load| mass(language, load, card.unit);
    let stack = card.stack.as_ref();
    let at_hand = stack.and_then(|stack| stack.at_hand);
    let at_hand = at_hand.map(|at_hand| with(language, "label.at_hand", &[("load", &load(at_hand))]));
    let assists = stack.filter(|stack| stack.assists);
    let assists = assists.map(|_| match card.total {
        Set::Mass(total) => with(language, "label.assists", &[("load", &load(total))]),
        Set::Pin { .. } => message(language, "label.assists_pins").to_owned(),
    });
    let pair = (card.gear == GearKind::Dumbbells).then(|| message(language, "label.each_hand").to_owned());
    let change = card.bar.iter().filter(|_| !card.confirmed).flat_map(|bar| plates::notes(language, bar));
    change.chain(at_hand).chain(assists).chain(pair).collect()
}
