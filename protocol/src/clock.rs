//! One clock on every display: how a display learns floor time over the network.
//!
//! The four stamps and the two formulas are those of RFC 5905, section 8. Of the last [`WINDOW`] samples the one
//! that can be wrong by the least is believed: by half its delay, since the asymmetry that spoils an offset is
//! never larger than its delay, and by what the display's own clock may have drifted since. How fast that clock
//! drifts is estimated over ten minutes (see [`Drift`]), so that floor time is still told well when the link has
//! been lost for as long.
//!
//! What is shown follows that belief slowly ([`SLEW_PER_MILLE`]), so that a countdown never jumps back; the first
//! belief and one that is far off ([`STEP`]) are taken at once.
//!
//! All figures are milliseconds at floor rate: a display multiplies its own clock by the rate of `welcome`
//! before it comes here. Fractions matter (an offset is half a sum), so they are floating point. The own clock is
//! one that is never put right: a step of the machine's time of day must not show.

mod drift;

use std::collections::VecDeque;

pub use self::drift::{Drift, MARK_EVERY, MARKS, MOST_DRIFT};
use crate::units::FloorMs;

/// Samples kept. With one question every two seconds that is the last minute.
pub const WINDOW: usize = 32;

/// How fast what is shown is moved toward what is believed: 50 ms in a second.
///
/// A second on the display then lasts 0.95 to 1.05 s, which is about the least difference of length that people
/// notice (from memory). The 0.5 ms in a second that `adjtime` takes would leave a display that began 30 ms wrong
/// so for a minute: longer than a countdown of ten seconds by far. Any quartz is followed (100 ppm is 0.1 ms in a
/// second).
pub const SLEW_PER_MILLE: f64 = 50.0;

/// A belief this far from what is shown is taken at once. From a whole second on a wrong digit is shown either way,
/// and a slew of it would go on for twenty seconds and more: a machine that slept, or a floor of another day.
pub const STEP: f64 = 1_000.0;

/// A sample that is farther from what is believed than both can be wrong, and by this much more, says that a clock
/// stood still or was moved: what was learned before is forgotten. As coarse as the stamps of the fastest floor,
/// which are whole milliseconds of real time a hundredfold.
pub const MOVED: f64 = 100.0;

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

/// A sample, and what the own clock said when it was received.
#[derive(Clone, Copy, Debug)]
struct Kept {
    sample: Sample,
    own: f64,
}

/// What a display believes floor time to be.
#[derive(Clone, Debug, Default)]
pub struct Estimator {
    samples: VecDeque<Kept>,
    /// The sample with the smallest delay of each while: what the drift is read off.
    marks: VecDeque<Kept>,
    drift: Drift,
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
        self.marks.clear();
    }

    /// Takes a sample received when the own clock said `own`. A sample with a negative delay is impossible
    /// and dropped.
    pub fn take(&mut self, sample: Sample, own: f64) {
        if !(sample.delay >= 0.0 && sample.offset.is_finite()) {
            return;
        }
        // What is shown up to now was by what was known up to now.
        let shown = self.shown_offset(own);
        if let Some((believed, doubt)) = self.believed(own)
            && (sample.offset - believed).abs() > sample.delay / 2.0 + doubt + MOVED
        {
            self.forget();
        }
        if self.samples.len() == WINDOW {
            self.samples.pop_front();
        }
        let kept = Kept { sample, own };
        self.samples.push_back(kept);
        self.mark(kept);
        let believed = self.believed(own).map_or(sample.offset, |(offset, _)| offset);
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
        self.forget();
        self.drift = Drift::default();
        #[expect(clippy::cast_precision_loss, reason = "floor times stay far below 2^53")]
        let offset = now.0 as f64 - own;
        self.shown = Some((offset, own));
        self.given = None;
    }

    /// Floor time when the own clock says `own`; nothing before the first sample. Never goes back while
    /// `own` does not, except by a step.
    pub fn now(&mut self, own: f64) -> Option<FloorMs> {
        let offset = self.shown_offset(own)?;
        let now = self.never_back(own + offset);
        self.shown = Some((offset, own));
        self.given = Some(now);
        Some(whole(now))
    }

    /// What [`Estimator::now`] will say when the own clock says `own`, if nothing is heard until then.
    #[must_use]
    pub fn ahead(&self, own: f64) -> Option<FloorMs> {
        Some(whole(self.never_back(own + self.shown_offset(own)?)))
    }

    /// How fast the own clock is thought to drift.
    #[must_use]
    pub const fn drift(&self) -> Drift {
        self.drift
    }

    fn never_back(&self, now: f64) -> f64 {
        self.given.map_or(now, |given| given.max(now))
    }

    /// The sample of each while with the smallest delay says what the drift is.
    fn mark(&mut self, kept: Kept) {
        let while_of = |kept: &Kept| (kept.own / MARK_EVERY).floor();
        match self.marks.back_mut() {
            Some(last) if while_of(last) >= while_of(&kept) => {
                if kept.sample.delay < last.sample.delay {
                    *last = kept;
                }
            }
            Some(_) | None => {
                if self.marks.len() == MARKS {
                    self.marks.pop_front();
                }
                self.marks.push_back(kept);
            }
        }
        // Of a single one nothing follows: after a restart of the server what was known of the drift stands.
        if self.marks.len() > 1 {
            self.drift = Drift::of(self.marks.iter().map(|mark| (mark.own, mark.sample)));
        }
    }

    /// The offset by the sample that can be wrong by the least, and by how much that is.
    fn believed(&self, own: f64) -> Option<(f64, f64)> {
        let doubt = |kept: &Kept| kept.sample.delay / 2.0 + self.drift.doubt() * (own - kept.own).abs();
        let best = self.samples.iter().min_by(|a, b| doubt(a).total_cmp(&doubt(b)))?;
        Some((best.sample.offset + self.drift.rate() * (own - best.own), doubt(best)))
    }

    fn shown_offset(&self, own: f64) -> Option<f64> {
        let (shown, at) = self.shown?;
        let gone = (own - at).max(0.0);
        let Some((believed, _)) = self.believed(own) else {
            return Some(shown + self.drift.rate() * gone);
        };
        let most = gone * SLEW_PER_MILLE / 1_000.0;
        Some(shown + (believed - shown).clamp(-most, most))
    }
}

fn whole(now: f64) -> FloorMs {
    #[expect(clippy::cast_possible_truncation, reason = "floor times stay far below 2^63")]
    let now = now.floor() as i64;
    FloorMs(now)
}
