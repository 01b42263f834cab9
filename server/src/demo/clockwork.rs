//! Floor time at one display, and how long to wait for an instant of it.

use std::time::Duration;

use tokio::time::Instant;
use turnabout_protocol::clock::{Estimator, Sample};
use turnabout_protocol::frame::limits::{TIME_BURST, TIME_EVERY_MS};
use turnabout_protocol::units::FloorMs;
use uuid::Uuid;

/// The clock of one display.
#[derive(Debug)]
pub(super) struct Clockwork {
    start: Instant,
    estimator: Estimator,
    server: Option<(Uuid, u32)>,
    burst_left: usize,
    asked: Option<i64>,
    next_question: Instant,
}

impl Clockwork {
    pub(super) fn new(start: Instant) -> Self {
        Self {
            start,
            estimator: Estimator::new(),
            server: None,
            burst_left: 0,
            asked: None,
            next_question: start,
        }
    }

    /// A server said who it is. Samples of an older start say nothing about its clock.
    pub(super) fn welcome(&mut self, epoch: Uuid, rate: u32, now: FloorMs, at: Instant) {
        match self.server {
            Some((_, old)) if old != rate => self.estimator = Estimator::new(),
            Some((old, _)) if old != epoch => self.estimator.forget(),
            Some(_) | None => {}
        }
        self.server = Some((epoch, rate));
        self.burst_left = TIME_BURST;
        self.asked = None;
        self.next_question = at;
        if rate == 0 {
            self.estimator.set(now, self.own(at));
        }
    }

    /// Floor time was moved by hand.
    pub(super) fn told(&mut self, now: FloorMs, at: Instant) {
        self.estimator.set(now, self.own(at));
    }

    /// When to ask for the time next.
    pub(super) fn next_question(&self) -> Instant {
        self.next_question
    }

    /// The stamp of a question that goes out now.
    pub(super) fn question(&mut self, at: Instant) -> i64 {
        #[expect(clippy::cast_possible_truncation, reason = "an own clock stays far below 2^53")]
        let t1 = self.own(at) as i64;
        self.asked = Some(t1);
        self.next_question = at + Duration::from_millis(TIME_EVERY_MS);
        t1
    }

    /// Takes an answer. Of a burst the next question is due at once.
    pub(super) fn answer(&mut self, t1: i64, t2: FloorMs, t3: FloorMs, at: Instant) {
        if self.asked.take_if(|asked| *asked == t1).is_none() {
            return;
        }
        if self.rate() > 0 {
            let own = self.own(at);
            #[expect(clippy::cast_precision_loss, reason = "floor times stay far below 2^53")]
            let sample = Sample::from_stamps(t1 as f64, t2.0 as f64, t3.0 as f64, own);
            self.estimator.take(sample, own);
        }
        self.burst_left = self.burst_left.saturating_sub(1);
        if self.burst_left > 0 {
            self.next_question = at;
        }
    }

    /// Floor time; nothing before the first answer.
    pub(super) fn now(&mut self, at: Instant) -> Option<FloorMs> {
        let own = self.own(at);
        self.server.and_then(|_| self.estimator.now(own))
    }

    /// When it will be `then`, as far as is known at `at`; nothing where time is driven by hand.
    pub(super) fn when(&mut self, then: FloorMs, at: Instant) -> Option<Instant> {
        let now = self.now(at)?;
        let rate = u64::from(self.rate());
        let wait = u64::try_from(then.since(now).0).unwrap_or(0);
        // Rounded up, or the person is asked a moment too early and again at once.
        (rate > 0).then(|| at + Duration::from_millis(wait.div_ceil(rate)))
    }

    fn rate(&self) -> u32 {
        self.server.map_or(1, |(_, rate)| rate)
    }

    /// The own clock in milliseconds at floor rate.
    fn own(&self, at: Instant) -> f64 {
        at.saturating_duration_since(self.start).as_secs_f64() * 1_000.0 * f64::from(self.rate().max(1))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_instant_of_a_fast_floor_comes_soon() {
        let start = Instant::now();
        let mut clock = Clockwork::new(start);
        assert_eq!(clock.now(start), None);
        clock.welcome(Uuid::nil(), 10, FloorMs(0), start);
        assert_eq!(clock.now(start), None, "no answer yet");
        let t1 = clock.question(start);
        clock.answer(t1, FloorMs(5_000), FloorMs(5_000), start);
        assert_eq!(clock.now(start), Some(FloorMs(5_000)));
        let second = start + Duration::from_secs(1);
        assert_eq!(clock.now(second), Some(FloorMs(15_000)));
        assert_eq!(clock.when(FloorMs(25_000), second), Some(second + Duration::from_secs(1)));
        assert_eq!(clock.when(FloorMs(1), second), Some(second), "long past");
    }

    #[test]
    fn time_driven_by_hand_is_taken_as_told_and_never_waited_for() {
        let start = Instant::now();
        let mut clock = Clockwork::new(start);
        clock.welcome(Uuid::nil(), 0, FloorMs(7), start);
        assert_eq!(clock.now(start), Some(FloorMs(7)));
        clock.told(FloorMs(90), start);
        assert_eq!(clock.now(start), Some(FloorMs(90)));
        assert_eq!(clock.when(FloorMs(100), start), None);
    }
}
