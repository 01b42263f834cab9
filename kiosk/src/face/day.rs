//! The time of day at the floor.

use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::{ClockPart, View};

/// Half a minute.
const HALF: Millis = Millis::secs(30);

/// Which time of day which floor time is, as the server said. No display tells it by its own clock.
#[derive(Clone, Copy, Debug)]
pub(super) struct Day {
    clock: ClockPart,
    /// Seconds east of UTC.
    zone_offset: i32,
}

impl Day {
    pub(super) const fn new(clock: ClockPart, zone_offset: i32) -> Self {
        Self { clock, zone_offset }
    }

    /// The day of a view; none of a coach's page, which no display of ours shows.
    pub(super) const fn of(view: &View) -> Option<Self> {
        match view {
            View::Station(view) => Some(Self::new(view.clock, view.zone_offset)),
            View::Board(view) => Some(Self::new(view.clock, view.zone_offset)),
            View::Coach(_) => None,
        }
    }

    /// Hours and minutes of what was: `18:42`.
    pub(super) fn minute(self, at: FloorMs) -> String {
        let secs = self.secs(at);
        format!("{:02}:{:02}", secs / 3_600, secs / 60 % 60)
    }

    /// The nearest minute to what is to come, of which nobody knows the second.
    pub(super) fn about(self, at: FloorMs) -> String {
        self.minute(at + HALF)
    }

    /// Hours, minutes and seconds: `18:42:10`.
    pub(super) fn second(self, at: FloorMs) -> String {
        format!("{}:{:02}", self.minute(at), self.secs(at) % 60)
    }

    /// Seconds since midnight.
    fn secs(self, at: FloorMs) -> i64 {
        const DAY: i64 = 86_400;
        let utc = self.clock.utc_at(at).div_euclid(1_000);
        (utc + i64::from(self.zone_offset)).rem_euclid(DAY)
    }
}
