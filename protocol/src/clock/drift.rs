//! How fast a display's own clock runs away from the floor's.

use super::Sample;

/// The least and the most that is believed of a drift: twice what a quartz is off at the worst. Beyond it something
/// else happened, such as a way through the network that changed.
pub const MOST_DRIFT: f64 = 200e-6;

/// One sample is kept for each so many milliseconds, that with the smallest delay.
pub const MARK_EVERY: f64 = 20_000.0;

/// So many of them are kept: ten minutes. The longer, the better noise is evened out; the shorter, the sooner a
/// machine that warms up is followed.
pub const MARKS: usize = 30;

/// What a quartz may be off before anything is known of it: 100 ppm.
const UNKNOWN: f64 = 100e-6;

/// A drift is never known better than this: it follows the temperature. The frequency tolerance of RFC 5905
/// (`PHI`, section 7.2).
const TOLERANCE: f64 = 15e-6;

/// How far off the offset of the quickest samples is, in milliseconds: the stamps are whole ones, and the best of
/// ten under delays of 20 ms is off by about so much.
const NOISE: f64 = 2.0;

/// The drift of a display's own clock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drift {
    rate: f64,
    doubt: f64,
}

impl Default for Drift {
    fn default() -> Self {
        Self { rate: 0.0, doubt: UNKNOWN }
    }
}

impl Drift {
    /// From samples and when they were received: the slope of the straight line through their offsets.
    ///
    /// Least squares, in which each counts by how far off it can be, and in which no drift at all is one more
    /// observation, off by [`UNKNOWN`] (ridge regression): samples of a short while say little, and no limit has to
    /// be set from when on they say something. An asymmetry that stays shifts the line and leaves its slope.
    #[must_use]
    pub(super) fn of(samples: impl Iterator<Item = (f64, Sample)> + Clone) -> Self {
        let quickest = samples.clone().map(|(_, sample)| sample.delay).fold(f64::INFINITY, f64::min);
        let weighed = samples.map(|(own, sample)| {
            let off = (sample.delay - quickest) / 2.0;
            (1.0 / (NOISE * NOISE + off * off), own, sample.offset)
        });
        let (mut all, mut at, mut offset) = (0.0, 0.0, 0.0);
        for (weight, own, of) in weighed.clone() {
            all += weight;
            at += weight * own;
            offset += weight * of;
        }
        let (at, offset) = (at / all, offset / all);
        let (mut spread, mut together) = (1.0 / (UNKNOWN * UNKNOWN), 0.0);
        for (weight, own, of) in weighed {
            spread += weight * (own - at) * (own - at);
            together += weight * (own - at) * (of - offset);
        }
        Self {
            rate: (together / spread).clamp(-MOST_DRIFT, MOST_DRIFT),
            doubt: spread.sqrt().recip().max(TOLERANCE),
        }
    }

    /// Milliseconds of floor time that are gained on the own clock in one of its milliseconds.
    #[must_use]
    pub const fn rate(self) -> f64 {
        self.rate
    }

    /// By how much the rate may be off.
    #[must_use]
    pub const fn doubt(self) -> f64 {
        self.doubt
    }
}
