//! What a floor may set about next loads.

use serde::{Deserialize, Serialize};
use turnabout_protocol::next::PerMille;

/// What a floor may set about next loads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Policy {
    /// No rise is more than this share of the load now; a fall may be. 0 to [`limits::CAP`]; ten percent unless
    /// set, the upper end of the band of ACSM 2009 (Ratamess et al., Med Sci Sports Exerc 41(3):687-708).
    pub cap: PerMille,
    /// Where a load would rise but cannot, one repetition more instead.
    pub reps_instead: bool,
    /// A typed load harder than the last one there by this share or more is asked about once. Common practice,
    /// no source: 20 % unless set.
    pub ask_again: PerMille,
    /// After more than so many days away the first load is lower. Common practice, no source: 21 unless set.
    pub away_days: u16,
    /// By this share. Common practice, no source: ten percent unless set.
    pub away_less: PerMille,
}

/// Bounds of the settings.
pub mod limits {
    use turnabout_protocol::next::PerMille;

    /// Of the cap: twice the upper end of the published band.
    pub const CAP: PerMille = PerMille(200);
    /// Of the other shares: half.
    pub const SHARE: PerMille = PerMille(500);
    /// Of the days: two years.
    pub const AWAY_DAYS: u16 = 730;
}

/// A setting out of its range.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{field}: found {found}, allowed 0 to {most}")]
pub struct OutOfRange {
    /// Which setting.
    pub field: &'static str,
    /// What was set; shares in thousandths.
    pub found: u16,
    /// The most.
    pub most: u16,
}

impl Policy {
    /// Whether all of it is as it is where nobody sets anything.
    #[must_use]
    pub fn is_usual(&self) -> bool {
        *self == Self::default()
    }

    /// These settings, if they are in their ranges.
    ///
    /// # Errors
    /// The first setting that is not.
    pub fn checked(self) -> Result<Self, OutOfRange> {
        let ranges = [
            ("cap", self.cap.0, limits::CAP.0),
            ("ask_again", self.ask_again.0, limits::SHARE.0),
            ("away_days", self.away_days, limits::AWAY_DAYS),
            ("away_less", self.away_less.0, limits::SHARE.0),
        ];
        match ranges.into_iter().find(|(_, found, most)| found > most) {
            Some((field, found, most)) => Err(OutOfRange { field, found, most }),
            None => Ok(self),
        }
    }
}

impl Default for Policy {
    fn default() -> Self {
        Self {
            cap: PerMille(100),
            reps_instead: true,
            ask_again: PerMille(200),
            away_days: 21,
            away_less: PerMille(100),
        }
    }
}
