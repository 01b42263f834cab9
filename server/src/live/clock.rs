//! Floor time: a monotone axis of its own, read through one trait.
//!
//! [`RunningClock`] counts on tokio's clock, which is the system's monotonic one and in tests whatever the
//! test makes of it. [`DrivenClock`] stands still until it is moved: its rate is 0.

use std::fmt;
use std::sync::Arc;

use futures_util::FutureExt;
use futures_util::future::BoxFuture;
use tokio::sync::watch;
use tokio::time::{Duration, Instant};
use turnabout_protocol::units::{FloorMs, Millis};

use crate::floor::state::ClockMapping;

/// The longest downtime that counts. A floor that was off for longer was closed: nobody has been resting
/// since yesterday.
pub const MOST_DOWN: Millis = Millis::secs(12 * 3_600);

/// The fastest a floor may run: at a hundredfold a set still takes as long as a few taps on their way.
pub const MOST_RATE: u32 = 100;

/// Where floor time comes from.
pub trait Clock: Send + Sync + 'static {
    /// Floor time now; never less than it said before.
    fn now(&self) -> FloorMs;

    /// Returns once [`Clock::now`] is `at` or later.
    fn sleep_until(&self, at: FloorMs) -> BoxFuture<'static, ()>;

    /// Floor milliseconds a real millisecond; 0 where the clock is driven by hand.
    fn rate(&self) -> u32;
}

/// A clock that runs by itself.
#[derive(Clone, Copy, Debug)]
pub struct RunningClock {
    base: FloorMs,
    since: Instant,
    rate: u32,
}

impl RunningClock {
    /// Starts at `base`; runs at `rate`, held between 1 and [`MOST_RATE`].
    #[must_use]
    pub fn start(base: FloorMs, rate: u32) -> Self {
        Self { base, since: Instant::now(), rate: rate.clamp(1, MOST_RATE) }
    }

    fn at(&self, instant: Instant) -> FloorMs {
        let micros = instant.duration_since(self.since).as_micros().saturating_mul(u128::from(self.rate));
        self.base + Millis(i64::try_from(micros / 1_000).unwrap_or(i64::MAX))
    }
}

impl Clock for RunningClock {
    fn now(&self) -> FloorMs {
        self.at(Instant::now())
    }

    fn sleep_until(&self, at: FloorMs) -> BoxFuture<'static, ()> {
        let clock = *self;
        async move {
            loop {
                let missing = at.since(clock.now()).0;
                // Waking a microsecond early would be waking twice, hence rounded up.
                match u64::try_from(missing) {
                    Err(_) | Ok(0) => return,
                    Ok(floor_ms) => {
                        let micros = floor_ms.saturating_mul(1_000).div_ceil(u64::from(clock.rate));
                        tokio::time::sleep(Duration::from_micros(micros)).await;
                    }
                }
            }
        }
        .boxed()
    }

    fn rate(&self) -> u32 {
        self.rate
    }
}

/// A clock that stands still until it is moved.
#[derive(Clone, Debug)]
pub struct DrivenClock {
    now: watch::Sender<FloorMs>,
}

impl DrivenClock {
    /// Stands at `base`.
    #[must_use]
    pub fn new(base: FloorMs) -> Self {
        Self { now: watch::Sender::new(base) }
    }

    /// Moves it to `to`, never back.
    pub fn set(&self, to: FloorMs) {
        self.now.send_if_modified(|now| {
            let forward = to > *now;
            *now = to.max(*now);
            forward
        });
    }

    /// Everybody who must hear of every move.
    #[must_use]
    pub fn moves(&self) -> watch::Receiver<FloorMs> {
        self.now.subscribe()
    }
}

impl Clock for DrivenClock {
    fn now(&self) -> FloorMs {
        *self.now.borrow()
    }

    fn sleep_until(&self, at: FloorMs) -> BoxFuture<'static, ()> {
        let mut now = self.now.subscribe();
        async move {
            if now.wait_for(|now| *now >= at).await.is_err() {
                // The clock is gone and with it whatever could come.
                std::future::pending::<()>().await;
            }
        }
        .boxed()
    }

    fn rate(&self) -> u32 {
        0
    }
}

/// Where UTC comes from. May jump either way, as wall clocks do.
pub trait Wall: Send + Sync + 'static {
    /// Milliseconds since 1970-01-01T00:00:00Z.
    fn utc_ms(&self) -> i64;
}

/// The system's wall clock.
#[derive(Clone, Copy, Debug, Default)]
pub struct SystemWall;

impl Wall for SystemWall {
    fn utc_ms(&self) -> i64 {
        jiff::Timestamp::now().as_millisecond()
    }
}

/// How a floor's clock runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pace {
    /// By itself, so many floor milliseconds a real millisecond: 1, or more in a fast demo.
    Running(u32),
    /// Only when it is told to.
    Driven,
}

impl fmt::Debug for FloorClock {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("FloorClock").field("now", &self.now()).field("rate", &self.rate()).finish()
    }
}

/// A floor's clock, and the hand on it where it is driven.
#[derive(Clone)]
pub struct FloorClock {
    clock: Arc<dyn Clock>,
    driven: Option<DrivenClock>,
}

impl FloorClock {
    /// A clock of this pace that starts at `base`.
    #[must_use]
    pub fn start(pace: Pace, base: FloorMs) -> Self {
        match pace {
            Pace::Running(rate) => Self { clock: Arc::new(RunningClock::start(base, rate)), driven: None },
            Pace::Driven => {
                let driven = DrivenClock::new(base);
                Self { clock: Arc::new(driven.clone()), driven: Some(driven) }
            }
        }
    }

    /// The hand on a driven clock; `None` where it runs by itself.
    #[must_use]
    pub const fn driven(&self) -> Option<&DrivenClock> {
        self.driven.as_ref()
    }
}

impl Clock for FloorClock {
    fn now(&self) -> FloorMs {
        self.clock.now()
    }

    fn sleep_until(&self, at: FloorMs) -> BoxFuture<'static, ()> {
        self.clock.sleep_until(at)
    }

    fn rate(&self) -> u32 {
        self.clock.rate()
    }
}

/// Floor time at a restart: the last entry plus what the wall clock has gone on since, held between 0 and
/// [`MOST_DOWN`], since a wall clock may have been set to anything meanwhile.
///
/// The instant of the last entry follows from the last mapping, taken to have been made at the same rate. A
/// driven clock goes on from the last entry: nobody has moved it.
#[must_use]
pub fn after_restart(last: FloorMs, mapping: ClockMapping, utc_ms: i64, pace: Pace) -> FloorMs {
    match pace {
        Pace::Driven => last,
        Pace::Running(rate) => {
            let rate = i64::from(rate.clamp(1, MOST_RATE));
            // All of it at floor rate, so that nothing is lost by dividing.
            let since_mapping = utc_ms.saturating_sub(mapping.utc_ms).saturating_mul(rate);
            let progress = since_mapping.saturating_sub(last.since(mapping.floor).0);
            last + Millis(progress.clamp(0, MOST_DOWN.0))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[tokio::test(start_paused = true)]
    async fn a_running_clock_counts_at_its_rate_and_wakes_in_time() {
        for rate in [1, 10] {
            let clock = RunningClock::start(FloorMs(500), rate);
            let started = Instant::now();
            clock.sleep_until(FloorMs(10_500)).await;
            assert!(clock.now() >= FloorMs(10_500), "{:?} at rate {rate}", clock.now());
            let took = started.elapsed().as_millis();
            let wanted = 10_000 / u128::from(rate);
            assert!((wanted..=wanted + 2).contains(&took), "{took} ms at rate {rate}");
        }
    }

    #[tokio::test]
    async fn a_driven_clock_moves_only_by_hand_and_never_back() {
        let clock = DrivenClock::new(FloorMs(5));
        let sleep = clock.sleep_until(FloorMs(10));
        assert!(clock.sleep_until(FloorMs(5)).now_or_never().is_some());
        clock.set(FloorMs(9));
        clock.set(FloorMs(3));
        assert_eq!(clock.now(), FloorMs(9));
        let mut sleep = sleep;
        assert!((&mut sleep).now_or_never().is_none());
        clock.set(FloorMs(10));
        assert!((&mut sleep).now_or_never().is_some());
    }

    #[test]
    fn a_restart_counts_the_downtime_within_bounds() {
        let mapping = ClockMapping { floor: FloorMs(1_000), utc_ms: 1_000_000, ..ClockMapping::default() };
        let last = FloorMs(61_000);
        for (utc_ms, pace, expect) in [
            // The last entry was at UTC 1,060,000; five seconds down.
            (1_065_000, Pace::Running(1), 66_000),
            (1_060_000, Pace::Running(1), 61_000),
            // The wall clock went back, or far ahead.
            (0, Pace::Running(1), 61_000),
            (i64::MAX, Pace::Running(1), 61_000 + MOST_DOWN.0),
            // At ten times the last entry was at UTC 1,006,000; five seconds are fifty.
            (1_011_000, Pace::Running(10), 111_000),
            (1_065_000, Pace::Driven, 61_000),
        ] {
            assert_eq!(after_restart(last, mapping, utc_ms, pace), FloorMs(expect), "{utc_ms} {pace:?}");
        }
    }
}
