//! Two lifts with equations of their own, from a five-repetition maximum.
//!
//! Reynolds J.M., Gordon T.J., Robergs R.A. 2006, J Strength Cond Res 20(3):584-592 (verified): bench press
//! `1.1307 x 5RM + 0.6999` kg, R2 .993; leg press `1.0970 x 5RM + 14.2546` kg. Made for masses in kilograms: the
//! constant is a mass, so the result is not linear in the load.

use turnabout_protocol::units::Mass;

use super::{EstimateError, limits};

/// A lift with an equation of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Lift {
    /// Bench press.
    BenchPress,
    /// Leg press.
    LegPress,
}

impl Lift {
    /// The one-repetition maximum from the most that was moved five times.
    ///
    /// # Errors
    /// Where the load is not above zero or above [`limits::LOAD`].
    pub fn from_five(self, five: Mass) -> Result<Mass, EstimateError> {
        if five <= Mass::ZERO || five > limits::LOAD {
            return Err(EstimateError::Load { found: five, most: limits::LOAD });
        }
        let (slope, constant) = match self {
            Self::BenchPress => (11_307, DECIGRAM.times(6_999)),
            Self::LegPress => (10_970, DECIGRAM.times(142_546)),
        };
        let product = (i128::from(five.nanograms()) * slope + 5_000).div_euclid(10_000);
        let product = Mass::from_nanograms(i64::try_from(product).unwrap_or(i64::MAX));
        Ok(product + constant.unwrap_or(Mass::MAX))
    }

    /// Standard error of the estimate.
    #[must_use]
    pub const fn standard_error(self) -> Mass {
        match self {
            Self::BenchPress => Mass::from_grams(2_980),
            Self::LegPress => Mass::from_grams(16_160),
        }
    }
}

/// The fourth decimal of a kilogram.
const DECIGRAM: Mass = Mass::from_nanograms(100_000_000);
