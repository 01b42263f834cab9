//! Times of day at the floor, without a zone database: the journal says how far east of UTC its clocks are,
//! and when that changed.
//!
//! The calendar is the proleptic Gregorian one, days counted from 1970-01-01. Its arithmetic follows Howard
//! Hinnant, "chrono-Compatible Low-Level Date Algorithms", `days_from_civil` and `civil_from_days`.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};
use turnabout_protocol::units::{FloorMs, Millis};

use super::config::Day;
use super::state::{ClockMapping, OffsetChange};

const MINUTE_MS: i64 = 60_000;
const DAY_MS: i64 = 24 * 60 * MINUTE_MS;
/// 0000-01-01 and 9999-12-31: every day that can be written with four digits of year. Later instants count
/// as the last day and earlier ones as the first, since no evening is there.
const DAYS: (i64, i64) = (-719_528, 2_932_896);

/// A minute of the day, 00:00 to 24:00; the last is the first of the day after.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "u16", into = "u16")]
pub struct Minute(u16);

/// A time of day that cannot be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("a time of day is hours and minutes with two digits each, \"00:00\" to \"24:00\"")]
pub struct MinuteError;

impl Minute {
    /// 00:00.
    pub const START: Self = Self(0);
    /// 24:00.
    pub const END: Self = Self(24 * 60);

    /// So many minutes after 00:00; nothing above [`Minute::END`].
    #[must_use]
    pub const fn new(minutes: u16) -> Option<Self> {
        if minutes <= Self::END.0 { Some(Self(minutes)) } else { None }
    }

    /// Minutes after 00:00, as clocks count them.
    #[must_use]
    pub const fn minutes(self) -> u16 {
        self.0
    }
}

impl TryFrom<u16> for Minute {
    type Error = MinuteError;
    fn try_from(minutes: u16) -> Result<Self, MinuteError> {
        Self::new(minutes).ok_or(MinuteError)
    }
}

impl From<Minute> for u16 {
    fn from(minute: Minute) -> Self {
        minute.0
    }
}

impl FromStr for Minute {
    type Err = MinuteError;

    /// Reads `06:00`, `17:30`, `24:00`.
    fn from_str(text: &str) -> Result<Self, MinuteError> {
        let (hours, minutes) = text.split_once(':').ok_or(MinuteError)?;
        let two_digits = |part: &str| part.len() == 2 && part.bytes().all(|b| b.is_ascii_digit());
        if !two_digits(hours) || !two_digits(minutes) {
            return Err(MinuteError);
        }
        let number = |part: &str| part.parse::<u16>().map_err(|_| MinuteError);
        let (hours, minutes) = (number(hours)?, number(minutes)?);
        if minutes >= 60 {
            return Err(MinuteError);
        }
        Self::new(hours * 60 + minutes).ok_or(MinuteError)
    }
}

impl fmt::Display for Minute {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}:{:02}", self.0 / 60, self.0 % 60)
    }
}

/// A day of the week, in the order of ISO 8601.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Weekday {
    /// The first.
    Monday,
    /// The second.
    Tuesday,
    /// The third.
    Wednesday,
    /// The fourth.
    Thursday,
    /// The fifth.
    Friday,
    /// The sixth.
    Saturday,
    /// The seventh.
    Sunday,
}

impl Weekday {
    /// All of them, in order.
    pub const ALL: [Self; 7] = [
        Self::Monday,
        Self::Tuesday,
        Self::Wednesday,
        Self::Thursday,
        Self::Friday,
        Self::Saturday,
        Self::Sunday,
    ];

    /// Which one a day is.
    #[must_use]
    pub fn of(day: Day) -> Self {
        Self::of_days(days_from_civil(day))
    }

    pub(super) fn of_days(days: i64) -> Self {
        // 1970-01-01 was a Thursday.
        let place = usize::try_from((days + 3).rem_euclid(7)).unwrap_or_default();
        Self::ALL.get(place).copied().unwrap_or(Self::Monday)
    }

    /// Its name in files.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Monday => "monday",
            Self::Tuesday => "tuesday",
            Self::Wednesday => "wednesday",
            Self::Thursday => "thursday",
            Self::Friday => "friday",
            Self::Saturday => "saturday",
            Self::Sunday => "sunday",
        }
    }
}

/// What calendar and clocks at the floor say.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct LocalTime {
    /// The day.
    pub day: Day,
    /// Which day of the week that is.
    pub weekday: Weekday,
    /// The minute that has begun; never [`Minute::END`].
    pub minute: Minute,
}

impl ClockMapping {
    /// From `at` on: this instant of UTC, so many seconds east of it. The change of the offset is kept where
    /// it is known to the millisecond, that is where UTC goes on as it did.
    #[must_use]
    pub fn moved(self, at: FloorMs, utc_ms: i64, offset_secs: i32) -> Self {
        let change = if offset_secs == self.offset_secs {
            self.change
        } else if utc_ms == self.utc(at) {
            Some(OffsetChange { utc_ms, before_secs: self.offset_secs })
        } else {
            None
        };
        Self { floor: at, utc_ms, offset_secs, change }
    }

    /// The instant of UTC that a floor time is, in milliseconds since 1970-01-01T00:00:00Z.
    #[must_use]
    pub const fn utc(&self, at: FloorMs) -> i64 {
        self.utc_ms.saturating_add(at.since(self.floor).0)
    }

    /// What calendar and clocks at the floor say at a floor time: the reverse of [`ClockMapping::day_at`].
    #[must_use]
    pub fn local(&self, at: FloorMs) -> LocalTime {
        let local_ms = self.utc(at).saturating_add(offset_ms(self.offset_at(at)));
        let days = local_ms.div_euclid(DAY_MS);
        let minute = u16::try_from(local_ms.rem_euclid(DAY_MS) / MINUTE_MS).unwrap_or_default();
        LocalTime { day: civil_from_days(days), weekday: Weekday::of_days(days), minute: Minute(minute) }
    }

    /// Seconds that clocks at the floor are east of UTC at a floor time.
    fn offset_at(&self, at: FloorMs) -> i32 {
        match self.change {
            Some(change) if self.utc(at) < change.utc_ms => change.before_secs,
            Some(_) | None => self.offset_secs,
        }
    }

    /// The same as RFC 3339 to the second, with the offset of clocks at the floor: `2026-03-02T18:52:05+01:00`.
    #[must_use]
    pub fn rfc3339(&self, at: FloorMs) -> String {
        // An offset has no seconds there; one that has (none in use today) is cut to the minute.
        let east = self.offset_at(at) / 60;
        let local_ms = self.utc(at).saturating_add(offset_ms(east * 60));
        let Day { year, month, day } = civil_from_days(local_ms.div_euclid(DAY_MS));
        let secs = local_ms.rem_euclid(DAY_MS) / 1_000;
        let (hour, minute, second) = (secs / 3_600, secs / 60 % 60, secs % 60);
        let (sign, east) = (if east < 0 { '-' } else { '+' }, east.abs());
        let (hours, minutes) = (east / 60, east % 60);
        format!(
            "{year:04}-{month:02}-{day:02}T{hour:02}:{minute:02}:{second:02}{sign}{hours:02}:{minutes:02}"
        )
    }

    /// When clocks at the floor show `minute` on the local day in which `now` lies.
    #[must_use]
    pub fn today_at(&self, now: FloorMs, minute: Minute) -> FloorMs {
        self.day_at(self.local(now).day, minute)
    }

    /// When clocks at the floor show `minute` on `day`: where they skip it, as much later as they skip, and
    /// where they show it twice, the first time.
    ///
    /// A change of the offset that is still to come is not known here. Ask again when it has come: what lay
    /// before it is still the same then, and what lies behind it is right from then on.
    #[must_use]
    pub fn day_at(&self, day: Day, minute: Minute) -> FloorMs {
        let local_ms = days_from_civil(day) * DAY_MS + i64::from(minute.0) * MINUTE_MS;
        let after = local_ms - offset_ms(self.offset_secs);
        let utc_ms = match self.change {
            None => after,
            Some(change) => {
                let before = local_ms - offset_ms(change.before_secs);
                if before < change.utc_ms || after < change.utc_ms { before } else { after }
            }
        };
        self.floor + Millis(utc_ms.saturating_sub(self.utc_ms))
    }
}

const fn offset_ms(secs: i32) -> i64 {
    secs as i64 * 1_000
}

/// Days from 1970-01-01 to `day`.
#[must_use]
pub fn days_from_civil(day: Day) -> i64 {
    // Years that begin in March, so that the day that comes and goes is the last one.
    let march_year = i64::from(day.year) - i64::from(day.month <= 2);
    let era = march_year.div_euclid(400);
    let year_of_era = march_year.rem_euclid(400);
    let month = (i64::from(day.month) + 9).rem_euclid(12);
    let day_of_year = (153 * month + 2) / 5 + i64::from(day.day) - 1;
    let day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
    era * 146_097 + day_of_era - 719_468
}

/// The day so many days after 1970-01-01, held between 0000-01-01 and 9999-12-31.
#[must_use]
pub fn civil_from_days(days: i64) -> Day {
    let days = days.clamp(DAYS.0, DAYS.1) + 719_468;
    let era = days.div_euclid(146_097);
    let day_of_era = days.rem_euclid(146_097);
    let year_of_era = (day_of_era - day_of_era / 1_460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
    let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let march_month = (5 * day_of_year + 2) / 153;
    let day = day_of_year - (153 * march_month + 2) / 5 + 1;
    let month = if march_month < 10 { march_month + 3 } else { march_month - 9 };
    let year = year_of_era + era * 400 + i64::from(month <= 2);
    let fits = "held between the years 0 and 9999 above";
    Day {
        year: u16::try_from(year).expect(fits),
        month: u8::try_from(month).expect(fits),
        day: u8::try_from(day).expect(fits),
    }
}
