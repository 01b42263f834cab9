//! A price that rises in steps, as the inner loop reads it.

use super::{NEVER, seconds};
use crate::timetable::instance::Price;

/// A price in steps, ready for the inner loop.
#[derive(Clone, Debug)]
pub struct Steps(Vec<(i32, i64)>);

impl Steps {
    pub(super) fn new(price: &Price) -> Self {
        Self(price.iter().map(|&(from, per)| (seconds(from.0), i64::from(per))).collect())
    }

    /// What so many seconds cost.
    #[inline]
    #[must_use]
    pub fn of(&self, seconds: i32) -> i64 {
        let mut sum = 0;
        for (i, &(from, per)) in self.0.iter().enumerate() {
            if seconds <= from {
                break;
            }
            let to = self.0.get(i + 1).map_or(seconds, |next| seconds.min(next.0));
            sum += per * i64::from(to - from);
        }
        sum
    }

    /// What one second more costs, and after how many seconds that changes.
    #[inline]
    #[must_use]
    pub fn next(&self, seconds: i32) -> (i64, i32) {
        let mut rate = 0;
        for &(from, per) in &self.0 {
            if seconds < from {
                return (rate, from - seconds);
            }
            rate = per;
        }
        (rate, NEVER)
    }

    /// What the last second cost, and for how many seconds back that holds.
    #[inline]
    #[must_use]
    pub fn previous(&self, seconds: i32) -> (i64, i32) {
        let mut back = (0, seconds);
        for &(from, per) in &self.0 {
            if seconds <= from {
                break;
            }
            back = (per, seconds - from);
        }
        back
    }
}
