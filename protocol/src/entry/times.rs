//! What is wrong with times and days.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What is wrong with times and days. Times are as they are entered, `18:30`; days are written year first.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "because", rename_all = "snake_case")]
pub enum TimesWrong {
    /// A session that ends before it starts, or at once.
    SessionOrder {
        /// When it starts.
        starts: String,
        /// When it ends.
        ends: String,
    },
    /// A time in a programme without a day.
    TimeWithoutDay {
        /// The time.
        time: String,
    },
    /// A time when the floor is closed.
    Closed {
        /// The time.
        time: String,
        /// The day of the week, Monday as 1.
        weekday: u8,
        /// When it is open on such a day.
        open: Vec<String>,
    },
    /// A time on a day of the week on which the floor is closed.
    ClosedAllDay {
        /// The time.
        time: String,
        /// The day of the week, Monday as 1.
        weekday: u8,
    },
    /// A session that goes on when the floor closes.
    EndsAfterClosing {
        /// When it ends.
        ends: String,
        /// When the floor closes.
        closes: String,
    },
    /// A screening after the day of the programme.
    ScreeningAhead {
        /// The day of the screening.
        on: String,
        /// The day of the programme.
        day: String,
    },
}
