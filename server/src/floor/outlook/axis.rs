//! Whole seconds for the planner, and floor time for everybody else.

use turnabout_protocol::units::{FloorMs, Millis, Secs};

use crate::floor::state::State;
use crate::timetable::instance::{At, Window};

/// On a floor that knows no other evening the axis moves on by this much at a time, so that it never leaves what the
/// planner can count: nearly three days.
pub const FOLD: Millis = Millis::secs(250_000);
/// What lasts for an unknown time lasts this long in the plan: longer than any session.
pub const HORIZON: Secs = Secs(4 * 3_600);
/// The last second that is ever said: what has been put off for longer than a day counts as put off for a day.
const LAST: i64 = 2 * FOLD.0 / 1_000 + 86_400;

/// Where second zero of a plan lies in floor time: at the evening's first entry, or whole [`FOLD`]s after it.
///
/// Not at the present, so that an instant is the same second in every plan of the evening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Axis {
    zero: FloorMs,
}

impl Axis {
    /// The axis of a plan made at `now`: between one and two folds behind it, or at the evening's beginning.
    #[must_use]
    pub fn of(state: &State, now: FloorMs) -> Self {
        let folds = now.since(state.began).0.max(0) / FOLD.0;
        Self { zero: state.began + Millis((folds - 1).max(0) * FOLD.0) }
    }

    /// The second of an instant, rounded up. What lies before the axis counts as its beginning.
    #[must_use]
    pub fn up(self, at: FloorMs) -> At {
        let secs = at.since(self.zero).ceil_secs().clamp(0, LAST);
        At(u32::try_from(secs).unwrap_or_default())
    }

    /// The instant of a second.
    #[must_use]
    pub fn instant(self, at: At) -> FloorMs {
        self.zero + Secs(at.0)
    }

    /// The span between two instants; nothing where no second of it is left.
    #[must_use]
    pub(super) fn window(self, from: FloorMs, to: FloorMs) -> Option<Window> {
        let (from, to) = (self.up(from), self.up(to));
        (from < to).then_some(Window { from, to })
    }
}

/// Windows in order, none of which touches another.
pub(super) fn merged(mut windows: Vec<Window>) -> Vec<Window> {
    windows.sort_by_key(|window| (window.from, window.to));
    let mut merged: Vec<Window> = Vec::new();
    for window in windows {
        match merged.last_mut().filter(|last| window.from <= last.to) {
            Some(last) => last.to = last.to.max(window.to),
            None => merged.push(window),
        }
    }
    merged
}
