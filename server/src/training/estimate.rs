//! What a client could lift once, estimated from a set to failure. An estimate, never a target: nobody is asked
//! to try it.
//!
//! The equations agree within a few percent up to ten repetitions and come apart above; so nothing above ten is
//! taken (Reynolds et al. 2006, J Strength Cond Res 20(3):584-592: not above 10 repetitions). Total error in
//! practice 10.6 to 13.5 % of the mean (Hutchins & Gearhart 2010), and validity falls as repetitions rise
//! (Whisenant et al. 2003, J Strength Cond Res 17(2):221-227): show no more digits than the gear has steps
//! ([`shown`]).

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use turnabout_protocol::units::{Mass, MassUnit};

use super::loads::Loads;

mod factor;
pub mod reynolds;

use factor::factor;

/// Bounds of a set that anything is estimated from.
pub mod limits {
    use turnabout_protocol::units::Mass;

    /// Repetitions: the equations hold up to ten; Brzycki's has a pole at 37, Lander's near 38.
    pub const REPS: u8 = 10;
    /// The most mass of a set: a tonne. No bar or stack holds it; above it, somebody has mistyped.
    pub const LOAD: Mass = Mass::from_grams(1_000_000);
}

/// A set to failure that an estimate can be made from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Performed {
    load: Mass,
    reps: u8,
}

/// Why nothing can be estimated.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum EstimateError {
    /// No load, or more than anybody moves.
    #[error("load: found {} kg, allowed above 0 and at most {} kg", kg(.found), kg(.most))]
    Load {
        /// What was given.
        found: Mass,
        /// The most.
        most: Mass,
    },
    /// No repetitions, or more than the equations hold for.
    #[error("reps: found {found}, allowed 1 to {most}: above that the equations come apart")]
    Reps {
        /// What was given.
        found: i64,
        /// The most.
        most: u8,
    },
}

fn kg(mass: &Mass) -> String {
    mass.in_unit(MassUnit::Kg)
}

impl Performed {
    /// A set of so many repetitions to failure.
    ///
    /// # Errors
    /// Where the load is not above zero or above [`limits::LOAD`], or the repetitions not 1 to [`limits::REPS`].
    pub fn new(load: Mass, reps: i64) -> Result<Self, EstimateError> {
        if load <= Mass::ZERO || load > limits::LOAD {
            return Err(EstimateError::Load { found: load, most: limits::LOAD });
        }
        let few = u8::try_from(reps).ok().filter(|reps| (1..=limits::REPS).contains(reps));
        let reps = few.ok_or(EstimateError::Reps { found: reps, most: limits::REPS })?;
        Ok(Self { load, reps })
    }

    /// The load.
    #[must_use]
    pub const fn load(self) -> Mass {
        self.load
    }

    /// The repetitions.
    #[must_use]
    pub const fn reps(self) -> u8 {
        self.reps
    }

    /// What the equation makes of it, to the nanogram. One repetition is the maximum itself, whatever an
    /// equation says of it: five of the seven say something else.
    #[must_use]
    pub fn by(self, equation: Equation) -> Mass {
        if self.reps == 1 { self.load } else { factor(equation, self.reps).of(self.load) }
    }

    /// What all equations make of it, in their order.
    #[must_use]
    pub fn by_all(self) -> [(Equation, Mass); 7] {
        Equation::ALL.map(|equation| (equation, self.by(equation)))
    }

    /// The lowest of all equations: the one to be careful with.
    #[must_use]
    pub fn lowest(self) -> Mass {
        Equation::ALL.into_iter().map(|equation| self.by(equation)).fold(Mass::MAX, Mass::min)
    }
}

/// A prediction equation of the one-repetition maximum. Formulas as secondary texts report them; original
/// references from memory unless a page is named in [`Equation::source`].
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Equation {
    /// `36 w / (37 - r)`; printed also with decimals, `w / (1.0278 - 0.0278 r)`.
    #[default]
    Brzycki,
    /// `w (1 + r / 30)`; printed also with 0.033 or 0.0333.
    Epley,
    /// `100 w / (101.3 - 2.67123 r)`.
    Lander,
    /// `w r^0.10`.
    Lombardi,
    /// `w (1 + 0.025 r)`.
    Oconner,
    /// `100 w / (48.8 + 53.8 e^(-0.075 r))`.
    Wathan,
    /// `100 w / (52.2 + 41.9 e^(-0.055 r))`.
    Mayhew,
}

impl Equation {
    /// All of them.
    pub const ALL: [Self; 7] =
        [Self::Brzycki, Self::Epley, Self::Lander, Self::Lombardi, Self::Oconner, Self::Wathan, Self::Mayhew];

    /// Its author, as it is called.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Brzycki => "Brzycki",
            Self::Epley => "Epley",
            Self::Lander => "Lander",
            Self::Lombardi => "Lombardi",
            Self::Oconner => "O'Conner",
            Self::Wathan => "Wathan",
            Self::Mayhew => "Mayhew",
        }
    }

    /// Where it was published.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            Self::Brzycki => "Brzycki M. 1993, JOPERD 64(1):88-90",
            Self::Epley => "Epley B. 1985, Boyd Epley Workout, Lincoln NE",
            Self::Lander => "Lander J. 1985, NSCA J 6(6):60-61",
            Self::Lombardi => "Lombardi V.P. 1989, Beginning Weight Training",
            Self::Oconner => "O'Conner B., Simmons J., O'Shea P. 1989, Weight Training Today",
            Self::Wathan => "Wathen D. 1994, in Essentials of Strength Training and Conditioning",
            Self::Mayhew => "Mayhew J.L. et al. 1992, J Appl Sport Sci Res 6(4):200-206",
        }
    }
}

/// An estimate as it may be shown: the nearest load of the gear below it. It deserves no finer steps than the
/// gear has. Nothing where the gear has no load so light.
#[must_use]
pub fn shown(estimate: Mass, loads: &dyn Loads) -> Option<Mass> {
    loads.at_most(estimate)
}
