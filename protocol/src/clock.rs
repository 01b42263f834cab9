//! One clock on every display: how a display learns floor time over the network.
//!
//! The four stamps and the two formulas are those of RFC 5905, section 8. Of the last
//! [`WINDOW`] samples the one with the smallest delay is believed, since the asymmetry that spoils an offset
//! is never larger than its delay. What is shown follows that belief slowly ([`SLEW_PER_MILLE`]), so that
//! a countdown never jumps back; the first belief and one that is far off ([`STEP`]) are taken at once.
//!
//! All figures are milliseconds at floor rate: a display multiplies its own clock by the rate of `welcome`
//! before it comes here. Fractions matter (an offset is half a sum), so they are floating point.

use crate::units::FloorMs;

/// Samples kept. With one question every two seconds that is the last minute.
pub const WINDOW: usize = 32;

/// How fast what is shown may drift toward what is believed: 50 ms in a second, too little to be seen in a
/// countdown, enough to follow any quartz (100 ppm is 0.1 ms in a second).
pub const SLEW_PER_MILLE: f64 = 50.0;

/// A belief this far from what is shown is taken at once: nobody watched it creep there.
pub const STEP: f64 = 1_000.0;

/// One question and answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// How far floor time is ahead of the display's own clock.
    pub offset: f64,
    /// How long the question and the answer were on their way.
    pub delay: f64,
}

impl Sample {
    /// From the four stamps: asked (own clock), arrived and answered (floor time), received (own clock).
    ///
    /// RFC 5905, section 8: `offset = ((T2 - T1) + (T3 - T4)) / 2`, `delay = (T4 - T1) - (T3 - T2)`.
    #[must_use]
    pub fn from_stamps(t1: f64, t2: f64, t3: f64, t4: f64) -> Self {
        Self { offset: f64::midpoint(t2 - t1, t3 - t4), delay: (t4 - t1) - (t3 - t2) }
    }
}

/// What a display believes floor time to be.
#[derive(Clone, Debug, Default)]
pub struct Estimator {
    samples: std::collections::VecDeque<Sample>,
    /// What is shown: the offset at the own clock's instant, both in milliseconds.
    shown: Option<(f64, f64)>,
    /// The latest floor time given out; it is never undercut except by a step.
    given: Option<f64>,
}

impl Estimator {
    /// Knows nothing yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Forgets every sample, as after a new epoch. What is shown goes on from where it is.
    pub fn forget(&mut self) {
        self.samples.clear();
    }

    /// Takes a sample received when the own clock said `own`. A sample with a negative delay is impossible
    /// and dropped.
    pub fn take(&mut self, sample: Sample, own: f64) {
        if !(sample.delay >= 0.0 && sample.offset.is_finite()) {
            return;
        }
        if self.samples.len() == WINDOW {
            self.samples.pop_front();
        }
        self.samples.push_back(sample);
        let believed = self.believed().unwrap_or(sample.offset);
        let shown = self.shown_offset(own);
        match shown {
            Some(shown) if (shown - believed).abs() < STEP => self.shown = Some((shown, own)),
            Some(_) | None => {
                self.shown = Some((believed, own));
                self.given = None;
            }
        }
    }

    /// Takes floor time as told, at once: for a clock that a test drives by hand.
    pub fn set(&mut self, now: FloorMs, own: f64) {
        self.samples.clear();
        #[expect(clippy::cast_precision_loss, reason = "floor times stay far below 2^53")]
        let offset = now.0 as f64 - own;
        self.shown = Some((offset, own));
        self.given = None;
    }

    /// Floor time when the own clock says `own`; nothing before the first sample. Never goes back while
    /// `own` does not, except by a step.
    pub fn now(&mut self, own: f64) -> Option<FloorMs> {
        let offset = self.shown_offset(own)?;
        self.shown = Some((offset, own));
        let now = self.given.map_or(own + offset, |given| given.max(own + offset));
        self.given = Some(now);
        #[expect(clippy::cast_possible_truncation, reason = "floor times stay far below 2^63")]
        let now = now.floor() as i64;
        Some(FloorMs(now))
    }

    /// The offset of the sample with the smallest delay in the window.
    fn believed(&self) -> Option<f64> {
        self.samples.iter().min_by(|a, b| a.delay.total_cmp(&b.delay)).map(|s| s.offset)
    }

    fn shown_offset(&self, own: f64) -> Option<f64> {
        let (shown, at) = self.shown?;
        let Some(believed) = self.believed() else {
            return Some(shown);
        };
        let most = (own - at).max(0.0) * SLEW_PER_MILLE / 1_000.0;
        Some(shown + (believed - shown).clamp(-most, most))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn offset_and_delay_follow_rfc_5905() {
        // RFC 5905 section 8. The first row is the verifier's example in its erratum 5020 (rejected in 2022);
        // the others are computed from the formula, the last with true offset 250, 10 up, 40 down.
        for ((t1, t2, t3, t4), offset, delay) in [
            ((0.0, 50.0, 50.0, 100.0), 0.0, 100.0),
            ((1000.0, 1065.0, 1067.0, 1032.0), 50.0, 30.0),
            ((1000.0, 1350.0, 1352.0, 1042.0), 330.0, 40.0),
            ((0.0, 260.0, 262.0, 52.0), 235.0, 50.0),
        ] {
            assert_eq!(Sample::from_stamps(t1, t2, t3, t4), Sample { offset, delay });
        }
    }

    fn sample(offset: f64, delay: f64) -> Sample {
        Sample { offset, delay }
    }

    #[test]
    fn the_first_sample_is_taken_at_once_and_the_smallest_delay_is_believed() {
        let mut clock = Estimator::new();
        assert_eq!(clock.now(5.0), None);
        clock.take(sample(1_000.0, 80.0), 0.0);
        assert_eq!(clock.now(0.0), Some(FloorMs(1_000)));
        clock.take(sample(1_020.0, 10.0), 0.0);
        clock.take(sample(1_300.0, 90.0), 0.0);
        // 20 ms to catch up at 50 ms a second take 400 ms.
        assert_eq!(clock.now(200.0), Some(FloorMs(1_210)));
        assert_eq!(clock.now(400.0), Some(FloorMs(1_420)));
        assert_eq!(clock.now(4_000.0), Some(FloorMs(5_020)));
    }

    #[test]
    fn a_correction_backwards_is_slewed_and_time_never_goes_back() {
        let mut clock = Estimator::new();
        clock.take(sample(500.0, 50.0), 0.0);
        let mut last = clock.now(0.0).unwrap();
        clock.take(sample(100.0, 1.0), 0.0);
        for own in 1..20_000 {
            let now = clock.now(f64::from(own)).unwrap();
            assert!(now >= last, "{now:?} after {last:?}");
            last = now;
        }
        assert_eq!(last, FloorMs(19_999 + 100));
    }

    #[test]
    fn what_is_far_off_or_driven_by_hand_is_taken_at_once() {
        let mut clock = Estimator::new();
        clock.take(sample(0.0, 10.0), 0.0);
        clock.take(sample(90_000.0, 5.0), 0.0);
        assert_eq!(clock.now(0.0), Some(FloorMs(90_000)));
        clock.set(FloorMs(7), 50.0);
        assert_eq!(clock.now(50.0), Some(FloorMs(7)));
    }

    #[test]
    fn an_old_best_leaves_the_window() {
        let mut clock = Estimator::new();
        clock.take(sample(0.0, 1.0), 0.0);
        for n in 1_u8..=32 {
            clock.take(sample(10.0, 2.0), f64::from(n) * 2_000.0);
        }
        // The first sample is gone, and 10 ms are followed within 200 ms.
        assert_eq!(clock.now(66_000.0), Some(FloorMs(66_010)));
    }

    #[test]
    fn an_impossible_sample_is_dropped() {
        let mut clock = Estimator::new();
        clock.take(sample(5.0, -1.0), 0.0);
        clock.take(sample(f64::NAN, 1.0), 0.0);
        assert_eq!(clock.now(0.0), None);
    }
}
