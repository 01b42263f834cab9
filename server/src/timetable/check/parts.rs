//! What the objective is made of.

use super::super::instance::{Price, Weights};

/// What a timetable costs, part by part. Seconds, where nothing else is said.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Parts {
    /// Rests beyond the longest ones.
    pub overrun: i64,
    /// What these cost at their rising price.
    pub overrun_price: i64,
    /// Waiting between two legs, beyond the walk and up to the limit.
    pub changeover_wait: i64,
    /// Waiting beyond the limit of members who were between two legs before now.
    pub late: i64,
    /// From each member's release to the end of their last turn. Below zero only where rule 1 is broken.
    pub flow: i64,
    /// The end of the last turn of all.
    pub makespan: i64,
    /// From release to the first start of those who have not begun.
    pub door: i64,
    /// What that costs at its rising price.
    pub door_price: i64,
    /// Finishing after one is due.
    pub tardy: i64,
    /// Starts that differ from what was told, beyond the first 5 s of each.
    pub told: i64,
    /// Plates and pins moved; no seconds.
    pub handling: i64,
}

impl Parts {
    /// The objective by these weights. It stands still at the ends of its type, where nothing within the limits of
    /// the format ever comes.
    #[must_use]
    pub fn price(&self, weights: &Weights) -> i64 {
        let priced = [
            (self.changeover_wait, weights.changeover_wait),
            (self.late, weights.late),
            (self.flow, weights.flow),
            (self.makespan, weights.makespan),
            (self.tardy, weights.tardy),
            (self.told, weights.told),
            (self.handling, weights.handling),
        ];
        let sum = self.overrun_price.saturating_add(self.door_price);
        priced
            .iter()
            .fold(sum, |sum, (part, weight)| sum.saturating_add(part.saturating_mul(i64::from(*weight))))
    }
}

/// What `secs` seconds cost at a price that rises in steps; nothing below the first step.
pub(super) fn rising(price: &Price, secs: i64) -> i64 {
    let ends = price.iter().skip(1).map(|(from, _)| i64::from(from.0)).chain([i64::MAX]);
    price.iter().zip(ends).fold(0_i64, |sum, ((from, each), end)| {
        let within = secs.min(end) - i64::from(from.0);
        sum.saturating_add(within.max(0).saturating_mul(i64::from(*each)))
    })
}
