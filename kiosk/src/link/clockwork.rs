//! Floor time at this display: what to ask, when, and what the answers say.

use turnabout_protocol::clock::{Estimator, Sample};
use turnabout_protocol::frame::limits::{TIME_BURST, TIME_EVERY_MS};
use turnabout_protocol::units::FloorMs;
use uuid::Uuid;

/// The clock of one display. Real time is milliseconds since the display started.
#[derive(Debug, Default)]
pub(super) struct Clockwork {
    estimator: Estimator,
    /// Epoch and rate of the last welcome.
    server: Option<(Uuid, u32)>,
    burst_left: usize,
    /// The open question: its stamp by the own clock.
    asked: Option<i64>,
    next_question: u64,
}

impl Clockwork {
    /// A server said who it is. Samples of an older start say nothing about its clock.
    pub(super) fn welcome(&mut self, epoch: Uuid, rate: u32, now: FloorMs, real: u64) {
        match self.server {
            Some((_, old_rate)) if old_rate != rate => self.estimator = Estimator::new(),
            Some((old_epoch, _)) if old_epoch != epoch => self.estimator.forget(),
            Some(_) | None => {}
        }
        self.server = Some((epoch, rate));
        self.burst_left = TIME_BURST;
        self.asked = None;
        self.next_question = real;
        if rate == 0 {
            self.estimator.set(now, 0.0);
        }
    }

    /// Which start of the server was heard last.
    pub(super) fn epoch(&self) -> Option<Uuid> {
        self.server.map(|(epoch, _)| epoch)
    }

    /// Whether a test drives floor time by hand.
    pub(super) fn by_hand(&self) -> bool {
        self.rate() == Some(0)
    }

    /// Floor time as told by hand; ignored where time runs by itself.
    pub(super) fn told(&mut self, now: FloorMs) {
        if self.by_hand() {
            self.estimator.set(now, 0.0);
        }
    }

    /// The stamp of a question, if one is due.
    pub(super) fn question(&mut self, real: u64) -> Option<i64> {
        if self.by_hand() || real < self.next_question {
            return None;
        }
        #[expect(clippy::cast_possible_truncation, reason = "an own clock stays far below 2^53")]
        let t1 = self.own(real)? as i64;
        self.asked = Some(t1);
        self.next_question = real + TIME_EVERY_MS;
        Some(t1)
    }

    /// Takes an answer. Of a burst the next question is due at once.
    pub(super) fn answer(&mut self, t1: i64, t2: FloorMs, t3: FloorMs, real: u64) {
        if self.asked != Some(t1) {
            return;
        }
        self.asked = None;
        let Some(own) = self.own(real) else { return };
        #[expect(clippy::cast_precision_loss, reason = "floor times stay far below 2^53")]
        let sample = Sample::from_stamps(t1 as f64, t2.0 as f64, t3.0 as f64, own);
        self.estimator.take(sample, own);
        self.burst_left = self.burst_left.saturating_sub(1);
        if self.burst_left > 0 {
            self.next_question = real;
        }
    }

    /// Floor time now; nothing before the first sample.
    pub(super) fn now(&mut self, real: u64) -> Option<FloorMs> {
        let own = self.own(real)?;
        self.estimator.now(own)
    }

    /// What [`Clockwork::now`] will say, if nothing is heard until then.
    pub(super) fn ahead(&self, real: u64) -> Option<FloorMs> {
        self.estimator.ahead(self.own(real)?)
    }

    /// When the next question is due; never while a test drives the clock.
    pub(super) fn due(&self) -> Option<u64> {
        (!self.by_hand()).then_some(self.next_question)
    }

    /// How many floor milliseconds go by in one of real time; nothing before the first welcome.
    pub(super) fn rate(&self) -> Option<u32> {
        self.server.map(|(_, rate)| rate)
    }

    /// So many real milliseconds in floor milliseconds.
    pub(super) fn at_floor_rate(&self, real: u64) -> i64 {
        i64::try_from(real).unwrap_or(i64::MAX).saturating_mul(i64::from(self.rate().unwrap_or(1)))
    }

    /// The display's own clock at floor rate.
    #[expect(clippy::cast_precision_loss, reason = "an own clock stays far below 2^53")]
    fn own(&self, real: u64) -> Option<f64> {
        self.rate().map(|rate| real as f64 * f64::from(rate))
    }
}
