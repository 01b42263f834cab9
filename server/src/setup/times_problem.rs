//! What can be wrong with the times and days of a file.

use super::words::{Iso, OpenOn};
use crate::floor::config::Day;
use crate::floor::hours::Window;
use crate::floor::local_time::{Minute, Weekday};

/// What is wrong with a time or a day. Its text says what was found and what is allowed.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum TimesProblem {
    /// A session that ends before it starts, or at once.
    #[error("found {ends}, allowed an end after {starts}, when it starts, on the same day")]
    SessionOrder {
        /// When it starts.
        starts: Minute,
        /// When it ends.
        ends: Minute,
    },
    /// A time of a session in a programme without a day.
    #[error("found {time}, allowed a time only in a programme with a date")]
    TimeWithoutDay {
        /// The time.
        time: Minute,
    },
    /// A session at a time when the floor is closed.
    #[error("found {time}, allowed a time when the floor is open: on a {} {}", weekday.name(), OpenOn(open))]
    Closed {
        /// The time.
        time: Minute,
        /// The day of the week.
        weekday: Weekday,
        /// When it is open on such a day.
        open: Vec<Window>,
    },
    /// A session that goes on when the floor closes.
    #[error("found {ends}, allowed {closes} or earlier: the floor closes then")]
    EndsAfterClosing {
        /// When it ends.
        ends: Minute,
        /// When the floor closes.
        closes: Minute,
    },
    /// A screening after the day of the programme.
    #[error("found {}, allowed a day up to {}, the date of this programme", Iso(*on), Iso(*day))]
    ScreeningAhead {
        /// The day of the screening.
        on: Day,
        /// The day of the programme.
        day: Day,
    },
    /// A shift that ends before it begins, or at once.
    #[error("found {from}-{to}, allowed a shift that ends after {from}, at most 24:00")]
    ShiftOrder {
        /// The begin.
        from: Minute,
        /// The end.
        to: Minute,
    },
    /// A shift with no minute of it while the floor is open.
    #[error("found {shift}, allowed a shift that has some of the opening hours in it")]
    ShiftWhileClosed {
        /// The shift.
        shift: Window,
    },
}

impl TimesProblem {
    /// What may help, where something is likely to.
    pub(super) const fn hint(&self) -> Option<&'static str> {
        match self {
            Self::TimeWithoutDay { .. } => {
                Some("write date = 2026-11-25, or which day it is, before the first client")
            }
            Self::ShiftOrder { .. } => {
                Some("a shift past midnight ends at 24:00 here; the rest is a coach of its own")
            }
            Self::SessionOrder { .. }
            | Self::Closed { .. }
            | Self::EndsAfterClosing { .. }
            | Self::ScreeningAhead { .. }
            | Self::ShiftWhileClosed { .. } => None,
        }
    }
}
