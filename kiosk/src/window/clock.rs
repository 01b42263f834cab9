//! The clock by which touches and keys are timed: that of the machine, or one that a test moves.

use std::fmt;
use std::rc::Rc;
use std::time::Instant;

use crate::link::socket::millis;

/// Real time since a display began.
#[derive(Clone)]
pub struct Clock {
    now: Rc<dyn Fn() -> Instant>,
    began: Instant,
}

impl Clock {
    /// A clock that goes by `now`, and begins with it.
    pub fn by(now: impl Fn() -> Instant + 'static) -> Self {
        Self { began: now(), now: Rc::new(now) }
    }

    /// Now.
    #[must_use]
    pub fn now(&self) -> Instant {
        (self.now)()
    }

    /// Milliseconds since it began.
    #[must_use]
    pub fn millis(&self) -> u64 {
        millis(self.began, self.now())
    }
}

impl Default for Clock {
    fn default() -> Self {
        Self::by(Instant::now)
    }
}

impl fmt::Debug for Clock {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Clock").field("began", &self.began).finish_non_exhaustive()
    }
}
