//! How measured times are spread.

use std::time::Duration;

/// Measured times, in order.
pub(crate) struct Spread(Vec<Duration>);

impl Spread {
    /// Of at least one time.
    pub(crate) fn of(mut times: Vec<Duration>) -> Self {
        assert!(!times.is_empty(), "nothing was measured");
        times.sort_unstable();
        Self(times)
    }

    /// The time that so many percent of all do not exceed (nearest rank); 100 gives the longest.
    pub(crate) fn at(&self, percent: usize) -> Duration {
        let rank = (self.0.len() * percent).div_ceil(100).max(1);
        self.0[rank - 1]
    }
}

/// Milliseconds, as the tables show them.
pub(crate) fn ms(time: Duration) -> String {
    format!("{:.2}", time.as_secs_f64() * 1_000.0)
}
