//! How long people take over a tap.

/// What somebody taps; each takes a moment of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Moment {
    /// Reading what is expected, and tapping it.
    Expected = 1,
    /// Wiping down, and giving the stations back.
    Free,
    /// A light set has been seen.
    Pass,
    /// From the last repetition to the tap that says so: the weight is racked first.
    Done,
    /// The load is on.
    Confirm,
    /// Everything is ready.
    Go,
}

impl Moment {
    /// In seconds: from, to. All without a source.
    pub(super) const fn within(self) -> (i64, i64) {
        match self {
            Self::Expected => (1, 4),
            Self::Free => (20, 40),
            Self::Pass => (0, 1),
            Self::Done => (2, 5),
            Self::Confirm | Self::Go => (0, 2),
        }
    }
}
