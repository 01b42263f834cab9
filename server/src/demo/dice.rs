//! Chance that repeats: the same seed gives the same evening.
//!
//! The generator is splitmix64 (Steele, Lea and Flood 2014, "Fast splittable pseudorandom number
//! generators"). It is for invented people only, never for ids or secrets.

use turnabout_protocol::units::Millis;

/// A seeded generator.
#[derive(Clone, Debug)]
pub struct Dice(u64);

const GOLDEN: u64 = 0x9e37_79b9_7f4a_7c15;

impl Dice {
    /// From a seed; any seed will do.
    #[must_use]
    pub const fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// An independent generator for the n-th person of an evening.
    #[must_use]
    pub fn for_person(seed: u64, n: u64) -> Self {
        let mut mixed = Self(seed ^ n.wrapping_add(1).wrapping_mul(GOLDEN));
        Self(mixed.roll())
    }

    /// The next 64 bits.
    pub fn roll(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(GOLDEN);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number of 0 to `below` - 1; 0 where `below` is 0. The bias is far below what anybody sees.
    pub fn below(&mut self, below: u64) -> u64 {
        if below == 0 { 0 } else { self.roll() % below }
    }

    /// Yes in so many of a thousand cases.
    pub fn chance(&mut self, per_mille: u64) -> bool {
        self.below(1_000) < per_mille
    }

    /// A duration from `least` to `most`, both included; `least` where the two are the wrong way round.
    pub fn between(&mut self, least: Millis, most: Millis) -> Millis {
        let span = u64::try_from(most.0.saturating_sub(least.0)).unwrap_or(0);
        let more = self.below(span.saturating_add(1));
        least + Millis(i64::try_from(more).unwrap_or(0))
    }

    /// `whole`, varied as people vary: lognormal with about ten per cent of spread, 70 to 140 per cent.
    pub fn varied(&mut self, whole: Millis) -> Millis {
        // Twelve uniform numbers less six are near enough to a normal one (the Irwin-Hall sum).
        let sum: u64 = (0..12).map(|_| self.below(1 << 20)).sum();
        #[expect(clippy::cast_precision_loss, reason = "below 2^24")]
        let normal = sum as f64 / f64::from(1_u32 << 20) - 6.0;
        let factor = (SPREAD * normal).exp().clamp(0.7, 1.4);
        #[expect(clippy::cast_possible_truncation, reason = "between 700 and 1,400")]
        let per_mille = (factor * 1_000.0) as i64;
        Millis(whole.0.saturating_mul(per_mille) / 1_000)
    }
}

/// The standard deviation of the logarithm of a set's length.
const SPREAD: f64 = 0.1;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_splitmix64() {
        // The first outputs for seed 1234567 of the reference C code that is in the public domain, from memory.
        let mut dice = Dice::new(1_234_567);
        let rolls = [dice.roll(), dice.roll(), dice.roll()];
        assert_eq!(rolls, [6_457_827_717_110_365_317, 3_203_168_211_198_807_973, 9_817_491_932_198_370_423]);
    }

    #[test]
    fn durations_stay_within_their_bounds_and_reach_both() {
        let mut dice = Dice::new(1);
        let drawn: Vec<i64> = (0..200).map(|_| dice.between(Millis(3), Millis(6)).0).collect();
        assert_eq!((drawn.iter().min(), drawn.iter().max()), (Some(&3), Some(&6)));
        assert_eq!(dice.between(Millis(5), Millis(1)), Millis(5));
    }

    #[test]
    fn sets_vary_by_about_a_tenth() {
        let mut dice = Dice::new(7);
        let drawn: Vec<i64> = (0..2_000).map(|_| dice.varied(Millis::secs(40)).0).collect();
        let mean = drawn.iter().sum::<i64>() / 2_000;
        let off = drawn.iter().map(|d| (d - mean).pow(2)).sum::<i64>() / 2_000;
        assert!((39_500..=40_900).contains(&mean), "{mean}");
        // Ten per cent of 40 s is 4 s.
        assert!((3_600_i64.pow(2)..=4_500_i64.pow(2)).contains(&off), "{off}");
        assert!(drawn.iter().all(|d| (28_000..=56_000).contains(d)));
    }

    #[test]
    fn people_of_one_evening_differ_and_an_evening_repeats() {
        let first = |n| Dice::for_person(3, n).roll();
        assert_eq!(first(0), first(0));
        assert_ne!(first(0), first(1));
    }
}
