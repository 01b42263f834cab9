//! The floor's time zone: how far its clocks are from UTC, and when that changes next.

use jiff::Timestamp;
use jiff::tz::TimeZone;
use turnabout_protocol::units::{FloorMs, Millis};

use crate::floor::config::Floor;
use crate::floor::state::ClockMapping;

/// Entries of the zone database looked at for the next change: some only give the same offset another name,
/// but never this many in a row.
const LOOK_AHEAD: usize = 16;

/// A time zone, and what was last looked up in it.
#[derive(Clone, Debug)]
pub struct Zone {
    zone: TimeZone,
    /// Looked up before every sleep and nearly always the same.
    next: Option<(ClockMapping, Option<FloorMs>)>,
}

impl Zone {
    /// The zone of a floor. A name that nobody knows counts as UTC; files with one are refused.
    #[must_use]
    pub fn of(floor: &Floor) -> Self {
        Self { zone: TimeZone::get(&floor.zone).unwrap_or(TimeZone::UTC), next: None }
    }

    /// Seconds east of UTC at an instant, in milliseconds since 1970-01-01T00:00:00Z.
    #[must_use]
    pub fn offset_secs(&self, utc_ms: i64) -> i32 {
        self.zone.to_offset(instant(utc_ms)).seconds()
    }

    /// When the offset is another than in `clock` for the first time after that was made.
    pub fn next_change(&mut self, clock: ClockMapping) -> Option<FloorMs> {
        if let Some((_, next)) = self.next.filter(|(known, _)| *known == clock) {
            return next;
        }
        let mut following = self.zone.following(instant(clock.utc_ms)).take(LOOK_AHEAD);
        let next = following
            .find(|change| change.offset().seconds() != clock.offset_secs)
            .map(|change| change.timestamp().as_millisecond())
            .map(|utc_ms| clock.floor + Millis(utc_ms.saturating_sub(clock.utc_ms)));
        self.next = Some((clock, next));
        next
    }
}

/// The nearest instant that the calendar has.
fn instant(utc_ms: i64) -> Timestamp {
    let (least, most) = (Timestamp::MIN.as_millisecond(), Timestamp::MAX.as_millisecond());
    Timestamp::from_millisecond(utc_ms.clamp(least, most)).unwrap_or_default()
}
