//! What can be wrong with a set that was done before the journal knows of anything.

use turnabout_protocol::ids::Key;

use super::spot::First;
use super::words::{AnyOf, Iso, Nearest};
use super::written::Written;
use crate::floor::config::Day;

/// What is wrong with such a set. Its text says what was found and what is allowed.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum EarlierProblem {
    /// An exercise at a station where it is not done.
    #[error("found \"{station}\", allowed {}: where {exercise} is done", AnyOf(allowed))]
    NotThere {
        /// The station.
        station: Key,
        /// The exercise.
        exercise: Key,
        /// Where it is done.
        allowed: Vec<Key>,
    },
    /// An exercise without a load.
    #[error("found {exercise}, allowed an exercise with a load: this one has nothing to set")]
    NothingSet {
        /// The exercise.
        exercise: Key,
    },
    /// A load that the station cannot be set to.
    #[error("found {load}, allowed what {station} can be set to: {}", Nearest(below.as_ref(), above.as_ref()))]
    CannotHold {
        /// The load.
        load: Written,
        /// The station.
        station: Key,
        /// The next lighter that can be set.
        below: Option<Written>,
        /// The next heavier that can be set.
        above: Option<Written>,
    },
    /// A mass at a stack whose labels are mere numbers.
    #[error(
        "found {load}, allowed a pin, \"pin 1\" to \"pin {most}\": the labels of {station} are mere numbers"
    )]
    OnlyPins {
        /// The load.
        load: Written,
        /// The station.
        station: Key,
        /// Its highest pin.
        most: u16,
    },
    /// A pin at a station whose labels are masses.
    #[error("found {load}, allowed a mass such as \"40 kg\": the labels of {station} are no mere numbers")]
    NoPins {
        /// The load.
        load: Written,
        /// The station.
        station: Key,
    },
    /// A set after the day of the programme.
    #[error("found {}, allowed a day up to {}, the date of this programme", Iso(*on), Iso(*day))]
    Ahead {
        /// The day of the set.
        on: Day,
        /// The day of the programme.
        day: Day,
    },
    /// Two sets of one exercise at one station on one day.
    #[error("found {} again, allowed once for {exercise} at {station}; it stands {first} too", Iso(*on))]
    SameDay {
        /// The day.
        on: Day,
        /// The exercise.
        exercise: Key,
        /// The station.
        station: Key,
        /// Where the first stands.
        first: First,
    },
    /// More sets of one exercise at one station than anything is made of.
    #[error("found a third set for {exercise} at {station}, allowed two: the last and the one before")]
    TooMany {
        /// The exercise.
        exercise: Key,
        /// The station.
        station: Key,
    },
    /// Repetitions of a hold.
    #[error("found repetitions of a hold, allowed none")]
    RepsOfHold,
    /// All repetitions, and fewer than were asked for.
    #[error("found {reps} of a set that was complete, allowed {least} or more, as its goal says")]
    NotComplete {
        /// Repetitions that were done.
        reps: u8,
        /// The fewest that the goal asks for.
        least: u8,
    },
    /// Helped repetitions of a set that ended otherwise.
    #[error(
        "found helped repetitions of a set that ended otherwise, allowed with ending = \"helped\" or without one"
    )]
    NotHelped,
}

impl EarlierProblem {
    /// What may help, where something is likely to.
    pub(super) const fn hint(&self) -> Option<&'static str> {
        match self {
            Self::SameDay { .. } => Some("write the last set of that day alone"),
            Self::TooMany { .. } => Some("keep the two latest"),
            Self::NotComplete { .. } => Some("write how it ended, such as ending = \"short\""),
            Self::NotThere { .. } => Some("loads compare nowhere else, so leave out what was done elsewhere"),
            Self::NothingSet { .. }
            | Self::CannotHold { .. }
            | Self::OnlyPins { .. }
            | Self::NoPins { .. }
            | Self::Ahead { .. }
            | Self::RepsOfHold
            | Self::NotHelped => None,
        }
    }
}
