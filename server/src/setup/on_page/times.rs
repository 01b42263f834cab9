//! Problems of times and days.

use turnabout_protocol::entry::TimesWrong;

use super::said;
use crate::floor::local_time::Weekday;
use crate::setup::times_problem::TimesProblem;
use crate::setup::words::Iso;

/// What is wrong; nothing for shifts, which are of floor files.
pub(super) fn wrong(problem: &TimesProblem) -> Option<TimesWrong> {
    Some(match problem {
        TimesProblem::SessionOrder { starts, ends } => {
            TimesWrong::SessionOrder { starts: said(starts), ends: said(ends) }
        }
        TimesProblem::TimeWithoutDay { time } => TimesWrong::TimeWithoutDay { time: said(time) },
        TimesProblem::Closed { time, weekday, open } if open.is_empty() => {
            TimesWrong::ClosedAllDay { time: said(time), weekday: number(*weekday) }
        }
        TimesProblem::Closed { time, weekday, open } => TimesWrong::Closed {
            time: said(time),
            weekday: number(*weekday),
            open: open.iter().map(said).collect(),
        },
        TimesProblem::EndsAfterClosing { ends, closes } => {
            TimesWrong::EndsAfterClosing { ends: said(ends), closes: said(closes) }
        }
        TimesProblem::ScreeningAhead { on, day } => {
            TimesWrong::ScreeningAhead { on: said(&Iso(*on)), day: said(&Iso(*day)) }
        }
        TimesProblem::ShiftOrder { .. } | TimesProblem::ShiftWhileClosed { .. } => return None,
    })
}

/// The number of a day of the week, Monday as 1 (ISO 8601).
const fn number(weekday: Weekday) -> u8 {
    match weekday {
        Weekday::Monday => 1,
        Weekday::Tuesday => 2,
        Weekday::Wednesday => 3,
        Weekday::Thursday => 4,
        Weekday::Friday => 5,
        Weekday::Saturday => 6,
        Weekday::Sunday => 7,
    }
}
