//! By how much a set of so many repetitions is multiplied.

use turnabout_protocol::units::Mass;

use super::Equation;

/// A ratio of whole numbers, so that an estimate is exact to the nanogram and linear in the load, and the same on
/// every machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Factor {
    top: i128,
    bottom: i128,
}

impl Factor {
    /// The mass times this ratio, half a nanogram rounded up.
    pub(super) fn of(self, mass: Mass) -> Mass {
        let product = i128::from(mass.nanograms()) * self.top;
        let rounded = (product * 2 + self.bottom).div_euclid(self.bottom * 2);
        Mass::from_nanograms(i64::try_from(rounded).unwrap_or(i64::MAX))
    }
}

/// The equation's multiplier for 2 to 10 repetitions.
pub(super) fn factor(equation: Equation, reps: u8) -> Factor {
    let r = i128::from(reps);
    match equation {
        Equation::Brzycki => Factor { top: 36, bottom: 37 - r },
        Equation::Epley => Factor { top: 30 + r, bottom: 30 },
        Equation::Lander => Factor { top: 10_000_000, bottom: 10_130_000 - 267_123 * r },
        Equation::Oconner => Factor { top: 40 + r, bottom: 40 },
        Equation::Lombardi => rounded(f64::from(reps).powf(0.10)),
        Equation::Wathan => rounded(100.0 / (48.8 + 53.8 * (-0.075 * f64::from(reps)).exp())),
        Equation::Mayhew => rounded(100.0 / (52.2 + 41.9 * (-0.055 * f64::from(reps)).exp())),
    }
}

/// A power or an exponential to nine decimals: far finer than any estimate is good for, and far coarser than what
/// machines disagree about. The only floats of this room.
fn rounded(factor: f64) -> Factor {
    const BILLION: i128 = 1_000_000_000;
    #[expect(clippy::cast_possible_truncation, reason = "between 1 and 2, times a billion")]
    let top = (factor * 1e9).round() as i64;
    Factor { top: i128::from(top), bottom: BILLION }
}
