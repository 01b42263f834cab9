//! Quantities with their units in the type: masses, durations and instants of the floor's own time.

use std::fmt;
use std::ops::{Add, Sub};
use std::str::FromStr;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A mass as a whole number of nanograms.
///
/// One pound is exactly 453,592,370,000 ng (the international pound of 1959, 0.45359237 kg), so kilograms
/// and fractional pounds are both exact. On the wire it is that integer; the largest value, 9,000 kg, stays
/// below 2^53 so that a page's JavaScript numbers hold it too.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(transparent)]
pub struct Mass(i64);

impl Mass {
    /// No mass at all.
    pub const ZERO: Self = Self(0);
    /// The most that can be stated: 9,000 kg.
    pub const MAX: Self = Self(9_000 * NG_PER_KG);

    /// From whole grams; saturates at the largest integer.
    #[must_use]
    pub const fn from_grams(grams: i64) -> Self {
        Self(grams.saturating_mul(NG_PER_G))
    }

    /// From nanograms.
    #[must_use]
    pub const fn from_nanograms(ng: i64) -> Self {
        Self(ng)
    }

    /// The whole number of nanograms.
    #[must_use]
    pub const fn nanograms(self) -> i64 {
        self.0
    }

    /// This mass so many times, or nothing where the result leaves the integer's range.
    #[must_use]
    pub const fn times(self, n: i64) -> Option<Self> {
        match self.0.checked_mul(n) {
            Some(ng) => Some(Self(ng)),
            None => None,
        }
    }

    /// The number in `unit` with no more than two decimals and no trailing zeros, as it is read on a display:
    /// `82.5`, `102.06`. Rounds half away from zero.
    #[must_use]
    pub fn in_unit(self, unit: MassUnit) -> String {
        let per = i128::from(unit.nanograms());
        let hundredths = {
            let scaled = i128::from(self.0) * 100;
            let half = if scaled >= 0 { per / 2 } else { -(per / 2) };
            (scaled + half) / per
        };
        let sign = if hundredths < 0 { "-" } else { "" };
        let (whole, rest) = (hundredths.abs() / 100, hundredths.abs() % 100);
        match rest {
            0 => format!("{sign}{whole}"),
            r if r % 10 == 0 => format!("{sign}{whole}.{}", r / 10),
            r => format!("{sign}{whole}.{r:02}"),
        }
    }

    /// This mass as people say it of about so much in `unit`: to whole pounds and half kilograms, which are about
    /// as fine as each other; below ten of the unit to tenths. Rounds half away from zero.
    #[must_use]
    pub const fn about_in(self, unit: MassUnit) -> Self {
        let tenth = unit.nanograms() / 10;
        let step = match unit {
            _ if self.0.saturating_abs() < 100 * tenth => tenth,
            MassUnit::Kg => 5 * tenth,
            MassUnit::Lb => 10 * tenth,
        };
        let half = if self.0 < 0 { -(step / 2) } else { step / 2 };
        Self(self.0.saturating_add(half) / step * step)
    }
}

impl Add for Mass {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Sub for Mass {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

const NG_PER_G: i64 = 1_000_000_000;
const NG_PER_KG: i64 = 1_000 * NG_PER_G;
/// 0.45359237 kg, exact by the international agreement of 1959.
const NG_PER_LB: i64 = 453_592_370_000;

/// The unit in which a mass is written and read.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum MassUnit {
    /// Kilogram.
    #[default]
    Kg,
    /// Avoirdupois pound.
    Lb,
}

impl MassUnit {
    /// How many nanograms one of this unit is.
    #[must_use]
    pub const fn nanograms(self) -> i64 {
        match self {
            Self::Kg => NG_PER_KG,
            Self::Lb => NG_PER_LB,
        }
    }

    /// The symbol shown and written: `kg` or `lb`.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Kg => "kg",
            Self::Lb => "lb",
        }
    }
}

/// A mass as somebody wrote it: the number with its unit, such as `82.5 kg` or `45 lb`.
///
/// The unit is kept because plates and pins are always read as stamped.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
pub struct Stamped {
    /// The exact mass.
    pub mass: Mass,
    /// The unit it was written in.
    pub unit: MassUnit,
}

/// Why a written mass could not be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MassError {
    /// It does not end in a unit that is known.
    #[error("a mass needs its unit, kg or lb: `82.5 kg`")]
    Unit,
    /// What stands before the unit is not a plain decimal number.
    #[error("expected a decimal number before the unit, such as `82.5 kg`")]
    Number,
    /// More decimals than can be kept exactly.
    #[error("at most {MAX_DECIMALS} decimals")]
    Decimals,
    /// Above [`Mass::MAX`].
    #[error("at most 9000 kg")]
    TooMuch,
}

/// Decimals kept of a written mass: 0.0001 of either unit is a whole number of nanograms.
const MAX_DECIMALS: usize = 4;

impl FromStr for Stamped {
    type Err = MassError;

    /// Reads `82.5 kg`, `45lb`; no sign, no exponent, a point as decimal mark.
    fn from_str(text: &str) -> Result<Self, MassError> {
        let text = text.trim();
        let (number, unit) = if let Some(n) = text.strip_suffix("kg") {
            (n, MassUnit::Kg)
        } else if let Some(n) = text.strip_suffix("lb") {
            (n, MassUnit::Lb)
        } else {
            return Err(MassError::Unit);
        };
        let number = number.trim_end();
        let (whole, part) = number.split_once('.').unwrap_or((number, "0"));
        let digits = |s: &str| !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit());
        if !digits(whole) || !digits(part) {
            return Err(MassError::Number);
        }
        if part.len() > MAX_DECIMALS {
            return Err(MassError::Decimals);
        }
        if whole.len() > 9 {
            return Err(MassError::TooMuch);
        }
        let whole: i128 = whole.parse().map_err(|_| MassError::Number)?;
        let scale = 10_i128.pow(u32::try_from(part.len()).map_err(|_| MassError::Decimals)?);
        let part: i128 = part.parse().map_err(|_| MassError::Number)?;
        let ng = (whole * scale + part) * i128::from(unit.nanograms()) / scale;
        if ng > i128::from(Mass::MAX.0) {
            return Err(MassError::TooMuch);
        }
        let ng = i64::try_from(ng).map_err(|_| MassError::TooMuch)?;
        Ok(Self { mass: Mass(ng), unit })
    }
}

impl fmt::Display for Stamped {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.mass.in_unit(self.unit), self.unit.symbol())
    }
}

/// A duration in whole seconds, at most about 136 years.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(transparent)]
pub struct Secs(pub u32);

impl Secs {
    /// The same in milliseconds.
    #[must_use]
    pub const fn millis(self) -> Millis {
        Millis(self.0 as i64 * 1_000)
    }
}

/// A duration in milliseconds; negative where one instant lies before another.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(transparent)]
pub struct Millis(pub i64);

impl Millis {
    /// From whole seconds.
    #[must_use]
    pub const fn secs(secs: i64) -> Self {
        Self(secs.saturating_mul(1_000))
    }

    /// Whole seconds, rounded up: what a countdown shows, so that it reads zero only at zero.
    #[must_use]
    pub const fn ceil_secs(self) -> i64 {
        self.0.saturating_add(999).div_euclid(1_000)
    }

    /// Whole seconds, rounded down: what a clock that counts up shows.
    #[must_use]
    pub const fn floor_secs(self) -> i64 {
        self.0.div_euclid(1_000)
    }
}

impl Add for Millis {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

/// An instant of floor time: milliseconds on the floor's own monotone axis.
///
/// The axis starts at zero with the first journal entry and has nothing to do with any wall clock; the
/// mapping to UTC is kept beside it.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(transparent)]
pub struct FloorMs(pub i64);

impl FloorMs {
    /// The time from `earlier` to this instant; negative where `earlier` is the later one.
    #[must_use]
    pub const fn since(self, earlier: Self) -> Millis {
        Millis(self.0.saturating_sub(earlier.0))
    }
}

impl Add<Millis> for FloorMs {
    type Output = Self;
    fn add(self, d: Millis) -> Self {
        Self(self.0.saturating_add(d.0))
    }
}

impl Sub<Millis> for FloorMs {
    type Output = Self;
    fn sub(self, d: Millis) -> Self {
        Self(self.0.saturating_sub(d.0))
    }
}

impl Add<Secs> for FloorMs {
    type Output = Self;
    fn add(self, d: Secs) -> Self {
        self + d.millis()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kg(text: &str) -> Mass {
        text.parse::<Stamped>().unwrap().mass
    }

    #[test]
    fn a_pound_is_exact() {
        // International yard and pound agreement, 1959: 1 lb = 0.45359237 kg.
        assert_eq!(kg("1 lb").nanograms(), 453_592_370_000);
        assert_eq!(kg("100 lb"), Mass::from_nanograms(45_359_237_000_000));
        assert_eq!(kg("2.5 lb").times(2), Some(kg("5lb")));
        assert_ne!(kg("45 lb"), kg("20 kg"));
    }

    #[test]
    fn a_mass_reads_as_on_a_plate() {
        for (text, unit, shown) in [
            ("82.5 kg", MassUnit::Kg, "82.5"),
            ("1.25 kg", MassUnit::Kg, "1.25"),
            ("20 kg", MassUnit::Kg, "20"),
            ("225 lb", MassUnit::Kg, "102.06"),
            ("20 kg", MassUnit::Lb, "44.09"),
        ] {
            assert_eq!(kg(text).in_unit(unit), shown, "{text}");
        }
    }

    #[test]
    fn about_so_much_in_another_unit_is_as_fine_as_people_say_it() {
        // NIST Special Publication 811 (2008), appendix B.8: one avoirdupois pound is 0.453 592 37 kg exactly. With
        // it 60 kg are 132.277 lb, 100 kg 220.462 lb, 20 kg 44.092 lb, 225 lb 102.058 kg, 135 lb 61.235 kg and
        // 45 lb 20.412 kg.
        for (text, unit, about) in [
            ("60 kg", MassUnit::Lb, "132"),
            ("100 kg", MassUnit::Lb, "220"),
            ("20 kg", MassUnit::Lb, "44"),
            ("1.25 kg", MassUnit::Lb, "2.8"),
            ("225 lb", MassUnit::Kg, "102"),
            ("135 lb", MassUnit::Kg, "61"),
            // A bar of 45 lb is not one of 20 kg.
            ("45 lb", MassUnit::Kg, "20.5"),
            ("10 lb", MassUnit::Kg, "4.5"),
            ("28.125 kg", MassUnit::Kg, "28"),
            ("28.25 kg", MassUnit::Kg, "28.5"),
        ] {
            assert_eq!(kg(text).about_in(unit).in_unit(unit), about, "{text}");
        }
    }

    #[test]
    fn what_is_not_a_mass_is_refused() {
        for (text, error) in [
            ("82.5", MassError::Unit),
            ("-5 kg", MassError::Number),
            ("1e3 kg", MassError::Number),
            ("kg", MassError::Number),
            ("1. kg", MassError::Number),
            ("1.00001 kg", MassError::Decimals),
            ("9001 kg", MassError::TooMuch),
            ("99999999999999999999 kg", MassError::TooMuch),
        ] {
            assert_eq!(text.parse::<Stamped>(), Err(error), "{text}");
        }
    }

    #[test]
    fn a_countdown_reaches_zero_only_at_zero() {
        for (ms, up, down) in [(0, 0, 0), (1, 1, 0), (1_000, 1, 1), (1_001, 2, 1), (-1, 0, -1)] {
            assert_eq!((Millis(ms).ceil_secs(), Millis(ms).floor_secs()), (up, down), "{ms}");
        }
    }
}
