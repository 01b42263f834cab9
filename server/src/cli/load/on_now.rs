//! What is on now, as somebody says it.

use turnabout_protocol::units::{Mass, MassUnit, Stamped};

use crate::cli::error::{Allowed, BadInput, shortened};
use crate::cli::read;
use crate::loading::bar::{BarSet, PlateKind, Side};

/// The plates of one side from the inside out, `20,5`; an empty text is an empty bar.
pub(super) fn side(text: &str, set: &BarSet) -> Result<Side, BadInput> {
    let kinds = set.inventory().kinds();
    let unit = set.unit();
    let stamped = |kind: &PlateKind| Stamped { mass: kind.plate.mass, unit };
    if text.trim().is_empty() {
        return Ok(Side::default());
    }
    let mut plates = Vec::new();
    for one in text.split(',') {
        let mass = read::plain(one, unit);
        let kind = kinds.iter().find(|kind| Some(kind.plate.mass) == mass).ok_or_else(|| {
            let allowed = Allowed::AnyOf(kinds.iter().map(stamped).collect());
            BadInput::Field { field: "on", found: shortened(one.trim()), allowed }
        })?;
        plates.push(kind.plate);
        let (used, pairs) = (plates.iter().filter(|plate| **plate == kind.plate).count(), kind.count / 2);
        if used > usize::from(pairs) {
            return Err(BadInput::TooMany { plate: stamped(kind), pairs });
        }
    }
    Ok(Side::new(plates))
}

/// The number of the pin, counted from 1 at the lightest, at a label.
pub(super) fn pin(text: &str, unit: MassUnit, labels: &[Mass]) -> Result<u16, BadInput> {
    let mass = read::plain(text, unit);
    labels.iter().position(|label| Some(*label) == mass).map(number).ok_or_else(|| {
        let allowed = Allowed::AnyOf(labels.iter().map(|label| Stamped { mass: *label, unit }).collect());
        BadInput::Field { field: "on", found: shortened(text), allowed }
    })
}

/// The number of a pin, from its place among the labels; a floor file has far fewer than can be counted.
pub(super) fn number(place: usize) -> u16 {
    u16::try_from(place + 1).unwrap_or(u16::MAX)
}
