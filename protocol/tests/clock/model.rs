//! A display, its clock and its network.

use std::collections::BTreeMap;

use turnabout_protocol::clock::{Estimator, Sample};
use turnabout_protocol::frame::limits::{TIME_BURST, TIME_EVERY_MS};
use turnabout_protocol::units::FloorMs;

/// The least delay one way, and the mean of what comes on top of it, exponentially distributed: milliseconds. The
/// model of a bad wireless network in which the bar is stated (20 ms apart at the 95th percentile, 50 ms at worst).
const LEAST: f64 = 20.0;
const MEAN: f64 = 20.0;

/// The worst drift of a display's clock: 100 ppm either way.
const WORST_DRIFT: f64 = 100e-6;

/// One answer in fifty never comes. Not part of the bar's model, and worse than it.
const LOST: f64 = 0.02;

/// Chance that repeats: SplitMix64 (Steele, Lea, Flood 2014; constants from memory).
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// From 0 to 1, never 1.
    pub(crate) fn roll(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        #[expect(clippy::cast_precision_loss, reason = "53 bits fit")]
        let roll = ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64;
        roll
    }

    fn between(&mut self, least: f64, most: f64) -> f64 {
        least + self.roll() * (most - least)
    }

    fn delay(&mut self) -> f64 {
        LEAST - MEAN * (1.0 - self.roll()).ln()
    }
}

/// A display that is switched on at some true instant. Floor time is true time.
pub(crate) struct Display {
    dice: Dice,
    began: f64,
    drift: f64,
    clock: Estimator,
    /// The true instant at which each second of the floor was first shown.
    pub(crate) turned: BTreeMap<i64, f64>,
    /// Up to where the seconds were looked at, on the own clock in whole milliseconds.
    own: u64,
}

impl Display {
    pub(crate) fn new(seed: u64) -> Self {
        let mut dice = Dice::new(seed);
        let (began, drift) = (dice.between(0.0, 3_000.0), dice.between(-WORST_DRIFT, WORST_DRIFT));
        Self { dice, began, drift, clock: Estimator::new(), turned: BTreeMap::new(), own: 0 }
    }

    /// The own clock reads whole milliseconds since it was switched on.
    fn own(&self, truth: f64) -> u64 {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "small and not negative")]
        let own = ((truth - self.began) * (1.0 + self.drift)).max(0.0).floor() as u64;
        own
    }

    fn truth(&self, own: u64) -> f64 {
        self.began + float(own) / (1.0 + self.drift)
    }
    /// Has a link from one true instant to another, as the kiosk's link asks: a burst, then at intervals.
    pub(crate) fn linked(&mut self, from: f64, to: f64) {
        let mut burst = TIME_BURST;
        let mut asks = self.own(from.max(self.began));
        while self.truth(asks) < to {
            let sent = self.truth(asks);
            let arrived = sent + self.dice.delay();
            let back = arrived + self.dice.delay();
            let (lost, t4) = (self.dice.roll() < LOST, self.own(back));
            let next = asks + TIME_EVERY_MS;
            if lost {
                asks = next;
                continue;
            }
            self.watch(t4);
            let floor = arrived.floor();
            let own = float(t4);
            self.clock.take(Sample::from_stamps(float(asks), floor, floor, own), own);
            burst = burst.saturating_sub(1);
            asks = if burst > 0 { t4 } else { next.max(t4) };
        }
    }

    /// Goes on alone until a true instant.
    pub(crate) fn alone(&mut self, to: f64) {
        self.watch(self.own(to));
    }

    /// Takes down when each second turned, up to an instant of the own clock.
    fn watch(&mut self, to: u64) {
        while self.own < to {
            let Some(FloorMs(now)) = self.clock.now(float(self.own)) else {
                self.own = to;
                return;
            };
            let next = now - now.rem_euclid(1_000) + 1_000;
            let there = |own: u64| self.clock.ahead(float(own)).is_some_and(|ahead| ahead.0 >= next);
            if !there(to) {
                self.own = to;
                return;
            }
            let (mut before, mut after) = (self.own, to);
            while after - before > 1 {
                let middle = before.midpoint(after);
                if there(middle) { after = middle } else { before = middle }
            }
            let turned = self.truth(after);
            self.turned.entry(next / 1_000).or_insert(turned);
            self.own = after;
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "a test's times are small")]
fn float(own: u64) -> f64 {
    own as f64
}
