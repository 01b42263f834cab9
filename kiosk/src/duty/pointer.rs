//! When the arrow of a mouse is shown: while somebody moves it, and never on a screen that is touched.

use std::time::{Duration, Instant};

/// How long an arrow is there that nobody moves.
pub const STILL: Duration = Duration::from_secs(3);
/// How often it is looked at.
pub const LOOK: Duration = Duration::from_millis(250);

/// Where the arrow was, and since when.
#[derive(Clone, Copy, Debug)]
pub struct Arrow {
    touched: bool,
    at: (i16, i16),
    /// Since when it is there; nothing before anybody moved it.
    moved: Option<Instant>,
}

impl Arrow {
    /// One that nobody has moved yet. On a screen that is `touched` it jumps with every finger and points at nothing.
    #[must_use]
    pub const fn new(touched: bool, at: (i16, i16)) -> Self {
        Self { touched, at, moved: None }
    }

    /// Whether it is to be seen, now that it is there.
    pub fn shows(&mut self, at: (i16, i16), now: Instant) -> bool {
        if at != self.at {
            self.at = at;
            self.moved = Some(now);
        }
        !self.touched && self.moved.is_some_and(|moved| now.saturating_duration_since(moved) < STILL)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_arrow_is_there_while_it_moves_and_three_seconds_after() {
        let start = Instant::now();
        let after = |secs: f32| start + Duration::from_secs_f32(secs);
        let mut arrow = Arrow::new(false, (5, 5));
        assert!(!arrow.shows((5, 5), start), "nobody has a mouse yet");
        assert!(arrow.shows((6, 5), after(1.0)));
        assert!(arrow.shows((6, 5), after(3.9)));
        assert!(!arrow.shows((6, 5), after(4.0)));
        assert!(arrow.shows((6, 4), after(9.0)));
    }

    #[test]
    fn a_finger_brings_no_arrow() {
        let mut arrow = Arrow::new(true, (5, 5));
        assert!(!arrow.shows((600, 400), Instant::now()));
    }
}
