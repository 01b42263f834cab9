//! Wiping the screen: for twenty seconds no touch does anything, and everybody sees that.

/// So long no touch counts.
pub const WIPE_MS: u64 = 20_000;

/// Whether the screen is being wiped. It ends by itself.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Wipe {
    until: Option<u64>,
}

impl Wipe {
    /// Begins. What goes on already is not made longer.
    pub fn begin(&mut self, now: u64) {
        if !self.is_on(now) {
            self.until = Some(now + WIPE_MS);
        }
    }

    /// Is over at once.
    pub fn end(&mut self) {
        self.until = None;
    }

    /// Whether it goes on.
    #[must_use]
    pub fn is_on(self, now: u64) -> bool {
        self.until.is_some_and(|until| now < until)
    }

    /// How many seconds are left, a begun one counted; nothing while nobody wipes.
    #[must_use]
    pub fn left(self, now: u64) -> Option<u64> {
        let until = self.until.filter(|until| now < *until)?;
        Some((until - now).div_ceil(1_000))
    }

    /// When the next second begins.
    #[must_use]
    pub fn changes(self, now: u64) -> Option<u64> {
        let (until, left) = (self.until?, self.left(now)?);
        Some(until - (left - 1) * 1_000)
    }
}
