//! How long turns really take: around what is expected, and never less than a second.

use fastrand::Rng;
use turnabout_protocol::units::Secs;

use crate::timetable::instance::{Instance, Spot, Turn};

/// By how much the lengths of turns vary: their standard deviation in percent of what is expected.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Noise(u8);

impl Noise {
    /// The most that can be asked for.
    pub const MOST: u8 = 50;

    /// So many percent; nothing above [`Self::MOST`].
    #[must_use]
    pub fn percent(percent: u8) -> Option<Self> {
        (percent <= Self::MOST).then_some(Self(percent))
    }

    /// In percent.
    #[must_use]
    pub const fn in_percent(self) -> u8 {
        self.0
    }
}

/// The instance with lengths as they come out: each expected one times a number of its own from a lognormal
/// distribution of mean 1, rounded to a second. The same seed gives the same lengths.
///
/// A spotter who is needed to the end of a turn is needed to its real end; one who is needed for a part of it is
/// needed as many seconds after the start as was said, while the turn lasts.
#[must_use]
pub fn realised(instance: &Instance, noise: Noise, seed: u64) -> Instance {
    let mut dice = Dice::new(noise, seed);
    let mut real = instance.clone();
    let groups = real.groups.iter_mut();
    let members = groups.flat_map(|group| &mut group.members);
    let rounds = members.flat_map(|member| &mut member.rounds);
    for turn in rounds.flat_map(|round| round.legs.iter_mut().flatten()) {
        let length = dice.length(turn.length);
        turn.spot = turn.spot.map(|spot| spot_within(turn, spot, length));
        turn.length = length;
    }
    real
}

fn spot_within(turn: &Turn, spot: Spot, length: Secs) -> Spot {
    let to = if spot.to == turn.length { length } else { spot.to.min(length) };
    Spot { from: spot.from.min(Secs(to.0.saturating_sub(1))), to }
}

/// Draws lengths.
pub(crate) struct Dice {
    rng: Rng,
    noise: Noise,
}

impl Dice {
    /// The same seed gives the same lengths.
    pub(crate) fn new(noise: Noise, seed: u64) -> Self {
        Self { rng: Rng::with_seed(seed), noise }
    }

    /// How long something really takes.
    ///
    /// Of a lognormal distribution with mean 1 and standard deviation v the logarithm has variance ln(1 + v²) and mean
    /// minus half of that.
    pub(crate) fn length(&mut self, expected: Secs) -> Secs {
        if self.noise.0 == 0 {
            return expected;
        }
        let deviation = f64::from(self.noise.0) / 100.0;
        let variance = deviation.mul_add(deviation, 1.0).ln();
        let factor = variance.sqrt().mul_add(self.normal(), -variance / 2.0).exp();
        // A cast from a number that is too large stops at the largest second there is.
        Secs(((f64::from(expected.0) * factor).round() as u32).max(1))
    }

    /// A number of the standard normal distribution: G. E. P. Box and M. E. Muller, A Note on the Generation of Random
    /// Normal Deviates, Annals of Mathematical Statistics 29 (1958), of whose two numbers the first is used.
    fn normal(&mut self) -> f64 {
        // In (0, 1], where the logarithm is finite.
        let first = 1.0 - self.rng.f64();
        let second = self.rng.f64();
        (-2.0 * first.ln()).sqrt() * (std::f64::consts::TAU * second).cos()
    }
}
