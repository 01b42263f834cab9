//! Arguments as people write them. All are read as text, so that every refusal says the same: which argument,
//! what was found, what is allowed.

use std::str::FromStr;

use turnabout_protocol::text::Language;
use turnabout_protocol::units::{Mass, MassUnit, Secs, Stamped};

use super::error::{Allowed, BadInput, shortened};
use crate::setup::parse_duration;

/// A number of kilograms or pounds above zero and up to `most`.
pub(super) fn mass(field: &'static str, text: &str, unit: MassUnit, most: Mass) -> Result<Mass, BadInput> {
    plain(text, unit).filter(|mass| *mass > Mass::ZERO && *mass <= most).ok_or_else(|| {
        let allowed = Allowed::Above0 { most: Stamped { mass: most, unit } };
        BadInput::Field { field, found: shortened(text), allowed }
    })
}

/// A plain decimal number of kilograms or pounds, zero included; nothing where it is none.
pub(super) fn plain(text: &str, unit: MassUnit) -> Option<Mass> {
    format!("{} {}", text.trim(), unit.symbol()).parse::<Stamped>().ok().map(|stamped| stamped.mass)
}

/// A whole number within its range.
pub(super) fn whole(field: &'static str, text: &str, least: u8, most: u8) -> Result<u8, BadInput> {
    within(text, least, most).ok_or_else(|| {
        let allowed = Allowed::Whole { least: least.into(), most: most.into() };
        BadInput::Field { field, found: shortened(text), allowed }
    })
}

/// A whole number that may be large, within its range.
pub(super) fn large(field: &'static str, text: &str, least: u64, most: u64) -> Result<u64, BadInput> {
    within(text, least, most).ok_or_else(|| {
        let allowed = Allowed::Whole { least, most };
        BadInput::Field { field, found: shortened(text), allowed }
    })
}

/// A duration within its range.
pub(super) fn duration(field: &'static str, text: &str, least: Secs, most: Secs) -> Result<Secs, BadInput> {
    parse_duration(text).ok().filter(|found| (least..=most).contains(found)).ok_or_else(|| {
        let allowed = Allowed::Duration { least, most };
        BadInput::Field { field, found: shortened(text), allowed }
    })
}

/// A whole number within its range, or two of them in ascending order: `8`, `8-10`.
pub(super) fn range(field: &'static str, text: &str, least: u8, most: u8) -> Result<(u8, u8), BadInput> {
    let both = match text.split_once('-') {
        Some((from, to)) => within(from, least, most).zip(within(to, least, most)),
        None => within(text, least, most).map(|one| (one, one)),
    };
    both.filter(|(from, to)| from <= to).ok_or_else(|| {
        let allowed = Allowed::Range { least, most };
        BadInput::Field { field, found: shortened(text), allowed }
    })
}

fn within<T: FromStr + PartialOrd>(text: &str, least: T, most: T) -> Option<T> {
    let text = text.trim();
    let digits = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    text.parse().ok().filter(|number| digits && (least..=most).contains(number))
}

/// `kg` or `lb`.
pub(super) fn unit(text: &str) -> Result<MassUnit, BadInput> {
    [MassUnit::Kg, MassUnit::Lb].into_iter().find(|unit| unit.symbol() == text).ok_or_else(|| {
        BadInput::Field { field: "unit", found: shortened(text), allowed: Allowed::Word(&["kg", "lb"]) }
    })
}

/// `en` or `de`.
pub(super) fn language(text: &str) -> Result<Language, BadInput> {
    Language::ALL.into_iter().find(|language| language.tag() == text).ok_or_else(|| BadInput::Field {
        field: "language",
        found: shortened(text),
        allowed: Allowed::Word(&["en", "de"]),
    })
}
