//! The hours of a week at which a floor is open.

use std::collections::BTreeMap;
use std::fmt;

use serde::{Deserialize, Serialize};
use turnabout_protocol::units::FloorMs;

use super::local_time::{LocalTime, Minute, Weekday, civil_from_days, days_from_civil};
use super::state::ClockMapping;

/// A part of a day: from a minute up to, but without, a later one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Window {
    from: Minute,
    to: Minute,
}

impl Window {
    /// Nothing where `from` is not before `to`.
    #[must_use]
    pub fn new(from: Minute, to: Minute) -> Option<Self> {
        (from < to).then_some(Self { from, to })
    }

    /// Its first minute.
    #[must_use]
    pub const fn from(self) -> Minute {
        self.from
    }

    /// The first minute after it.
    #[must_use]
    pub const fn to(self) -> Minute {
        self.to
    }

    /// Whether a minute lies in it.
    #[must_use]
    pub fn holds(self, minute: Minute) -> bool {
        self.from <= minute && minute < self.to
    }

    /// Whether the two have a minute in common.
    #[must_use]
    pub fn overlaps(self, other: Self) -> bool {
        self.from < other.to && other.from < self.to
    }
}

impl fmt::Display for Window {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}-{}", self.from, self.to)
    }
}

/// When a floor is open in a week. Without any window it always is; with one, days without any are closed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Hours {
    /// Ordered by their begin, none of them empty.
    week: BTreeMap<Weekday, Vec<Window>>,
}

/// Whether a floor is open, and until when.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Opening {
    /// It never closes.
    Always,
    /// It is open and closes then; later than now.
    Until(FloorMs),
    /// It is closed.
    Closed,
}

impl Hours {
    /// The windows of each day, in any order.
    #[must_use]
    pub fn new(mut week: BTreeMap<Weekday, Vec<Window>>) -> Self {
        week.retain(|_, windows| !windows.is_empty());
        week.values_mut().for_each(|windows| windows.sort_unstable());
        Self { week }
    }

    /// Whether there is no closing time at all.
    #[must_use]
    pub fn is_always(&self) -> bool {
        self.week.is_empty()
    }

    /// The windows of a day of the week, in order.
    #[must_use]
    pub fn windows(&self, weekday: Weekday) -> &[Window] {
        self.week.get(&weekday).map_or(&[], Vec::as_slice)
    }

    /// Whether the floor is open when clocks there say `local`.
    ///
    /// Where clocks are set back they say the same twice; [`Hours::at`] knows which of the two is meant.
    #[must_use]
    pub fn open_at(&self, local: LocalTime) -> bool {
        self.is_always() || self.windows(local.weekday).iter().any(|window| window.holds(local.minute))
    }

    /// Whether these hours go on whenever the other ones do.
    #[must_use]
    pub fn cover(&self, other: &Self) -> bool {
        let whole_day = [Window { from: Minute::START, to: Minute::END }];
        let within = |weekday, window: &Window| {
            let end = self
                .windows(weekday)
                .iter()
                .fold(window.from, |end, own| if own.from <= end { end.max(own.to) } else { end });
            window.to <= end
        };
        self.is_always()
            || Weekday::ALL.into_iter().all(|weekday| {
                let of_day = if other.is_always() { &whole_day } else { other.windows(weekday) };
                of_day.iter().all(|window| within(weekday, window))
            })
    }

    /// The minute of that day at which a floor that is open at `local` closes, [`Minute::END`] where that is
    /// midnight or later; nothing where it is closed or never closes.
    #[must_use]
    pub fn closes_after(&self, local: LocalTime) -> Option<Minute> {
        let windows = self.windows(local.weekday).iter();
        windows.fold(None, |end, window| match end {
            None => window.holds(local.minute).then_some(window.to),
            // A window that begins where another ends goes on with it.
            Some(end) if window.from <= end => Some(end.max(window.to)),
            Some(end) => Some(end),
        })
    }

    /// Whether the floor is open at `now`, and until when: through midnight and over days, where it is.
    #[must_use]
    pub fn at(&self, clock: &ClockMapping, now: FloorMs) -> Opening {
        /// Who is open for so long at a stretch is open all week.
        const DAYS: i64 = 8;
        if self.is_always() {
            return Opening::Always;
        }
        let today = days_from_civil(clock.local(now).day);
        let mut until = None;
        // From yesterday: where clocks are set back over midnight, today has begun before.
        for days in today - 1..=today + DAYS {
            let day = civil_from_days(days);
            for window in self.windows(Weekday::of_days(days)) {
                let (from, to) = (clock.day_at(day, window.from), clock.day_at(day, window.to));
                match until {
                    None if from <= now && now < to => until = Some(to),
                    Some(end) if from <= end => until = Some(to.max(end)),
                    Some(_) | None => {}
                }
            }
        }
        match until {
            None => Opening::Closed,
            Some(end) if end >= clock.day_at(civil_from_days(today + DAYS), Minute::START) => Opening::Always,
            Some(end) => Opening::Until(end),
        }
    }
}
