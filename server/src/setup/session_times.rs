//! When a group's session is to start and by when it must end.

use super::fields::Fields;
use super::findings::Findings;
use super::form;
use super::spot::Said;
use super::times_problem::TimesProblem;
use crate::floor::config::{Day, Floor};
use crate::floor::hours::{Hours, Window};
use crate::floor::local_time::{LocalTime, Minute, Weekday};

/// The times of a session, as far as its plan says.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Session {
    pub(super) starts: Option<Minute>,
    pub(super) ends: Option<Minute>,
}

impl Session {
    /// All of it, where both ends are known.
    pub(super) fn window(self) -> Option<Window> {
        Window::new(self.starts?, self.ends?)
    }

    /// What is known of it: all, or the first or last minute.
    pub(super) fn known(self) -> Option<Window> {
        let before = |end: Minute| end.minutes().checked_sub(1).and_then(Minute::new);
        let after = |start: Minute| Minute::new(start.minutes() + 1);
        match (self.starts, self.ends) {
            (Some(starts), Some(ends)) => Window::new(starts, ends),
            (Some(starts), None) => Window::new(starts, after(starts)?),
            (None, Some(ends)) => Window::new(before(ends)?, ends),
            (None, None) => None,
        }
    }
}

/// Reads `starts` and `ends` of a group on the programme's day.
pub(super) fn session(
    group: &mut Fields<'_>,
    found: &mut Findings<'_>,
    day: Option<Day>,
    floor: Option<&Floor>,
) -> Session {
    let starts = group.optional(found, "starts", &form::time_of_day());
    let ends = group.optional(found, "ends", &form::time_of_day());
    let Some(day) = day else {
        // A time of no day is no instant, and would be passed over in silence.
        for time in starts.iter().chain(&ends) {
            found.add(&time.spot, TimesProblem::TimeWithoutDay { time: time.what });
        }
        return Session::default();
    };
    if let (Some(starts), Some(ends)) = (&starts, &ends)
        && ends.what <= starts.what
    {
        found.add(&ends.spot, TimesProblem::SessionOrder { starts: starts.what, ends: ends.what });
        return Session::default();
    }
    if let Some(floor) = floor.filter(|floor| !floor.hours.is_always()) {
        while_open(found, &floor.hours, day, starts.as_ref(), ends.as_ref());
    }
    Session { starts: starts.map(|said| said.what), ends: ends.map(|said| said.what) }
}

/// Takes down a session that goes on while the floor is closed.
fn while_open(
    found: &mut Findings<'_>,
    hours: &Hours,
    day: Day,
    starts: Option<&Said<Minute>>,
    ends: Option<&Said<Minute>>,
) {
    let weekday = Weekday::of(day);
    let local = |minute| LocalTime { day, weekday, minute };
    let closed = |time: &Said<Minute>| {
        let open = hours.windows(weekday).to_vec();
        (time.spot.clone(), TimesProblem::Closed { time: time.what, weekday, open })
    };
    let closes = starts.and_then(|starts| hours.closes_after(local(starts.what)));
    if let Some(starts) = starts.filter(|_| closes.is_none()) {
        let (spot, problem) = closed(starts);
        found.add(&spot, problem);
    }
    let Some(ends) = ends else { return };
    match closes {
        Some(closes) if closes < ends.what => {
            found.add(&ends.spot, TimesProblem::EndsAfterClosing { ends: ends.what, closes });
        }
        Some(_) => {}
        None => {
            // Nobody trains in the minute in which it ends, but in the one before.
            let last = ends.what.minutes().checked_sub(1).and_then(Minute::new);
            if !last.is_some_and(|last| hours.open_at(local(last))) {
                let (spot, problem) = closed(ends);
                found.add(&spot, problem);
            }
        }
    }
}
