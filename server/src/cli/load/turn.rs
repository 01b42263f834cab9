//! An order of turns, as somebody writes it: "Ayla 60 kg, Bram 42.5 kg, 60".

use turnabout_protocol::units::{Mass, MassUnit, Stamped};

use crate::cli::amount::Amount;
use crate::cli::error::{Allowed, BadInput, BadTurn, shortened};
use crate::cli::read;
use crate::floor::config::limits;
use crate::loading::bar::MOST_TURNS;

/// One turn of an order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Named {
    /// Whose; nothing where nobody is named.
    pub(super) name: Option<String>,
    /// In the unit that it was written in.
    pub(super) unit: MassUnit,
    /// Bar, collars and plates.
    pub(super) target: Mass,
}

impl Named {
    pub(super) fn amount(&self) -> Amount {
        Amount::new(self.target, self.unit)
    }

    /// Whether both are of one named client, however the name is spelt in capitals.
    pub(super) fn same_client(&self, other: &Self) -> bool {
        let lower = |turn: &Self| turn.name.as_ref().map(|name| name.to_lowercase());
        self.name.is_some() && lower(self) == lower(other)
    }
}

/// Reads an order. All turns that cannot be read are told; less than the lightest load has an answer later, what
/// is nearest.
pub(super) fn read(
    text: &str,
    unit: MassUnit,
    least: Stamped,
    most: Stamped,
) -> Result<Vec<Named>, BadInput> {
    let parts = parts(text);
    if parts.len() > MOST_TURNS {
        let (found, allowed) = (format!("{} turns", parts.len()), Allowed::Turns { most: MOST_TURNS });
        return Err(BadInput::Field { field: "turns", found, allowed });
    }
    let mut bad = Vec::new();
    let mut turns = Vec::with_capacity(parts.len());
    for (turn, part) in (1..).zip(parts) {
        let allowed = match one(part, unit) {
            None => Allowed::Turn,
            Some(named) if named.target == Mass::ZERO || named.target > most.mass => {
                Allowed::Masses { least, most }
            }
            Some(named) => {
                turns.push(named);
                continue;
            }
        };
        bad.push(BadTurn { turn, found: shortened(part), allowed });
    }
    if bad.is_empty() { Ok(turns) } else { Err(BadInput::Turns(bad)) }
}

/// Between the commas. Within a number, as in "42,5 kg", a comma parts nothing, so that nobody who means a decimal
/// mark is given two other loads.
fn parts(text: &str) -> Vec<&str> {
    let digit = |byte: Option<&u8>| byte.is_some_and(u8::is_ascii_digit);
    let bytes = text.as_bytes();
    let parts_here = |at: usize| {
        let before = at.checked_sub(1).and_then(|before| bytes.get(before));
        bytes[at] == b',' && !(digit(before) && digit(bytes.get(at + 1)))
    };
    let (mut parts, mut from) = (Vec::new(), 0);
    for at in (0..bytes.len()).filter(|at| parts_here(*at)) {
        parts.push(text[from..at].trim());
        from = at + 1;
    }
    parts.push(text[from..].trim());
    parts
}

/// A name or none, a number, a unit or none.
fn one(part: &str, unit: MassUnit) -> Option<Named> {
    let (name, mass) = part.split_at(part.find(|one: char| one.is_ascii_digit())?);
    let name = name.trim();
    let in_name = |one: char| one.is_alphabetic() || matches!(one, ' ' | '-' | '\'');
    let is_name = name.chars().count() <= limits::NAME
        && name.chars().all(in_name)
        && name.chars().next().is_none_or(char::is_alphabetic)
        // A sign before the number is none of a name.
        && !name.ends_with('-');
    let Stamped { mass: target, unit } = match mass.parse() {
        Ok(stamped) => stamped,
        Err(_) => Stamped { mass: read::plain(mass, unit)?, unit },
    };
    is_name.then(|| Named { name: (!name.is_empty()).then(|| name.to_owned()), unit, target })
}
