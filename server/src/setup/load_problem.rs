//! What can be wrong with how a load is found.

use turnabout_protocol::ids::Key;

use super::load_rule::Load;
use crate::training::percent::{MOST_REPS, MOST_RESERVE};

/// What is wrong with how a load is found. Its text says what was found and what is allowed.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum LoadProblem {
    /// A maximum of an exercise where it says nothing.
    #[error(
        "found a maximum, allowed none: {}",
        if *helps { "the stack helps there" } else { "this exercise has nothing to set" }
    )]
    MaxOfNothing {
        /// The exercise.
        exercise: Key,
        /// Whether the load carries part of the body; else there is none.
        helps: bool,
    },
    /// A rule that holds for all rounds, for one of them.
    #[error("found {0} in a list, allowed by itself, for all rounds")]
    OnlyForAll(Load),
    /// A share of a maximum where the load carries part of the body.
    #[error("found {0}, allowed what takes no share of a maximum: the stack helps there")]
    ShareOnAssisting(Load),
    /// A maximum of an exercise whose stacks have mere numbers for labels.
    #[error("found a maximum, allowed none: the labels of every stack for {exercise} are mere numbers")]
    MaxOfNumbers {
        /// The exercise.
        exercise: Key,
    },
    /// A mass, or a share of one, where labels are mere numbers.
    #[error(
        "found {load}, allowed a pin, \"pin 1\" to \"pin {most}\", or \"as-last-time\", \"find-it\" or \"by-reserve\": the labels \
         of every stack for {exercise} are mere numbers"
    )]
    OnlyPins {
        /// The load.
        load: Load,
        /// The exercise.
        exercise: Key,
        /// The highest pin that any of them has.
        most: u16,
    },
    /// A pin where labels are masses.
    #[error(
        "found pin {pin}, allowed a mass such as \"40 kg\": no stack for {exercise} has mere numbers for labels"
    )]
    NoPins {
        /// The pin.
        pin: u16,
        /// The exercise.
        exercise: Key,
    },
    /// A share of a maximum that nobody knows.
    #[error("found {load}, allowed where the maximum is known: client {client} has none for {exercise}")]
    NoMax {
        /// The rule.
        load: Load,
        /// The client.
        client: u32,
        /// The exercise.
        exercise: Key,
    },
    /// A load by the reserve without one.
    #[error("found \"by-reserve\" without a reserve, allowed with a reserve of 0 to {MOST_RESERVE}")]
    NoReserve,
    /// A load by the reserve of a hold.
    #[error("found \"by-reserve\" for a hold, allowed for repetitions")]
    ReserveOfHold,
    /// More in reserve than a load is worked out for.
    #[error("found \"by-reserve\" with {reserve} in reserve, allowed at most {MOST_RESERVE}")]
    TooMuchReserve {
        /// To stay in reserve.
        reserve: u8,
    },
    /// More repetitions, those in reserve too, than the table has.
    #[error(
        "found \"by-reserve\" for {reps} repetitions with {reserve} in reserve, allowed at most {MOST_REPS} together"
    )]
    TooManyReps {
        /// The most repetitions of the set.
        reps: u8,
        /// To stay in reserve.
        reserve: u8,
    },
    /// Everything that the client has.
    #[error(
        "found \"by-reserve\" for one repetition with none in reserve, allowed more of either: that is a maximal attempt"
    )]
    Maximal,
    /// A light set on the way up where there is no way.
    #[error("found true, allowed false: {0}")]
    Ramp(NoRamp),
}

/// Why there is no light set between the technique set and the first working set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoRamp {
    /// The first working set is a hold.
    #[error("no set on the way up comes before a hold")]
    Hold,
    /// There is no load.
    #[error("this exercise has nothing to set")]
    NothingSet,
    /// The load carries part of the body: a share of it says nothing.
    #[error("the stack helps there, and no share of it is lighter")]
    Helps,
}

impl LoadProblem {
    /// What may help, where something is likely to.
    pub(super) fn hint(&self) -> Option<String> {
        let hint = match self {
            Self::MaxOfNothing { helps: true, .. } => {
                "a share of a maximum says nothing where part of the body is carried"
            }
            Self::OnlyForAll(load) => return Some(format!("write load = {load}")),
            Self::NoMax { client, exercise, .. } => {
                return Some(format!(
                    "write it at client {client}, such as max = {{ {exercise} = \"80 kg\" }}, or have the load \
                     found: \"find-it\""
                ));
            }
            Self::MaxOfNumbers { .. } | Self::OnlyPins { .. } => {
                "nobody knows what a numbered label weighs, so nothing is worked out from masses there"
            }
            Self::NoPins { .. } => "pins are for stacks of the floor file with numbers, such as numbers = 20",
            Self::NoReserve => "write how many should have been possible after the last, such as reserve = 2",
            Self::ShareOnAssisting(_)
            | Self::TooManyReps { .. }
            | Self::TooMuchReserve { .. }
            | Self::ReserveOfHold => "write the load, or \"as-last-time\", or \"find-it\"",
            Self::MaxOfNothing { helps: false, .. } | Self::Maximal | Self::Ramp(_) => return None,
        };
        Some(hint.to_owned())
    }
}
