//! Why a question has no answer.

use std::fmt;

use turnabout_protocol::ids::Key;
use turnabout_protocol::units::{Secs, Stamped};

use super::plan::BadFile;
use crate::loading::bar::LoadError;
use crate::setup::Mistakes;
use crate::training::no_proposal::NoProposal;

/// Why a question has no answer.
#[derive(Debug, thiserror::Error)]
pub enum CliError {
    /// The question is wrong in itself.
    #[error(transparent)]
    BadInput(#[from] BadInput),
    /// The floor file has mistakes.
    #[error("the floor file has mistakes")]
    Floor(Vec<Mistakes>),
    /// The question is right, and nothing is proposed for it.
    #[error(transparent)]
    NoProposal(#[from] NoProposal),
    /// The load is none that could be put on any bar.
    #[error(transparent)]
    Load(#[from] LoadError),
    /// A file of a plan is not what it should be.
    #[error(transparent)]
    Plan(#[from] BadFile),
}

/// The exit code of a question that is wrong in itself; clap uses the same.
const BAD_INPUT: u8 = 2;
/// The exit code of any other failure.
const FAILURE: u8 = 1;

impl CliError {
    /// How the program ends.
    #[must_use]
    pub const fn exit_code(&self) -> u8 {
        match self {
            Self::BadInput(_) | Self::Load(_) | Self::Plan(_) => BAD_INPUT,
            Self::Floor(_) | Self::NoProposal(_) => FAILURE,
        }
    }
}

/// Which argument is wrong, what was found, and what is allowed.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum BadInput {
    /// An argument that is out of its range or no value at all.
    #[error("{field}: found {found:?}, allowed {allowed}")]
    Field {
        /// The argument, without its dashes.
        field: &'static str,
        /// As it was written, see [`shortened`].
        found: String,
        /// What is allowed.
        allowed: Allowed,
    },
    /// More plates of one kind than a side can have.
    #[error("on: found {plate} more often than the {pairs} that there are for each side")]
    TooMany {
        /// The plate.
        plate: Stamped,
        /// For each side there are so many.
        pairs: u8,
    },
    /// No such station.
    #[error("station: found {found:?}, allowed {}{}", keys(.known), did_you_mean(.nearest.as_ref()))]
    Station {
        /// As it was written.
        found: String,
        /// The stations that the question can be asked of.
        known: Vec<Key>,
        /// What may have been meant.
        nearest: Option<Key>,
    },
    /// The station has no gear that a load could be put on.
    #[error("station: {found} has nothing to load, allowed {}", keys(.known))]
    NothingToLoad {
        /// Which station.
        found: Key,
        /// Stations that have.
        known: Vec<Key>,
    },
    /// The labels of the station's stack are mere numbers.
    #[error("station: {found} has mere numbers for labels, and nobody knows what they weigh, allowed {}", keys(.known))]
    Numbered {
        /// Which station.
        found: Key,
        /// Stations with masses.
        known: Vec<Key>,
    },
    /// Turns that cannot be read, all of them.
    #[error("turns: {} cannot be read{}", .0.len(), each(.0))]
    Turns(Vec<BadTurn>),
    /// Arguments of which one is needed, and no more.
    #[error("{0} and {1}: exactly one of them")]
    OneOf(&'static str, &'static str),
    /// Arguments that say the same in two ways.
    #[error("{0} and {1}: at most one of them")]
    NotBoth(&'static str, &'static str),
    /// A file that would be written over another one of the same question.
    #[error("{one} and {other}: found the same file, allowed two")]
    SameFile {
        /// The argument that is written.
        one: &'static str,
        /// The other.
        other: &'static str,
    },
    /// An argument that says something only beside something else.
    #[error("{field}: only with {with}")]
    OnlyWith {
        /// The argument.
        field: &'static str,
        /// What it needs.
        with: &'static str,
    },
}

/// A turn that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("turn {turn}: found {found:?}, allowed {allowed}")]
pub struct BadTurn {
    /// Which one, counted from 1.
    pub turn: usize,
    /// As it was written, see [`shortened`].
    pub found: String,
    /// What is allowed.
    pub allowed: Allowed,
}

fn each(turns: &[BadTurn]) -> String {
    turns.iter().map(|turn| format!("\n  {turn}")).collect()
}

/// What is allowed in an argument.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Allowed {
    /// A mass above zero and up to this.
    Above0 {
        /// The most.
        most: Stamped,
    },
    /// A mass within these.
    Masses {
        /// The least.
        least: Stamped,
        /// The most.
        most: Stamped,
    },
    /// A whole number within these.
    Whole {
        /// The least.
        least: u64,
        /// The most.
        most: u64,
    },
    /// A duration within these.
    Duration {
        /// The least.
        least: Secs,
        /// The most.
        most: Secs,
    },
    /// A whole number within these, or two of them with a dash between.
    Range {
        /// The least.
        least: u8,
        /// The most.
        most: u8,
    },
    /// One of these masses.
    AnyOf(Vec<Stamped>),
    /// One turn.
    Turn,
    /// Some turns, and no more than so many.
    Turns {
        /// The most.
        most: usize,
    },
    /// One of these words.
    Word(&'static [&'static str]),
}

impl fmt::Display for Allowed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Above0 { most } => {
                write!(f, "a number above 0 and at most {most}, with four decimals at most")
            }
            Self::Masses { least, most } => write!(f, "{least} to {most}"),
            Self::Whole { least, most } => write!(f, "a whole number, {least} to {most}"),
            Self::Duration { least, most } => {
                write!(f, "whole seconds or minutes such as 90s or 2min, {} s to {} s", least.0, most.0)
            }
            Self::Range { least, most } => {
                write!(f, "a whole number, {least} to {most}, or a range such as 8-10")
            }
            Self::AnyOf(masses) => {
                let each: Vec<String> = masses.iter().map(ToString::to_string).collect();
                f.write_str(&listed(&each))
            }
            Self::Turn => f.write_str(
                "a load such as 42.5 kg, with a name without digits before it or none, and a space after each comma",
            ),
            Self::Turns { most } => write!(f, "1 to {most} turns"),
            Self::Word(words) => f.write_str(&words.join(" or ")),
        }
    }
}

/// Names that are listed before the rest is counted: a floor may have hundreds of stations.
const LISTED: usize = 24;

fn keys(known: &[Key]) -> String {
    listed(&known.iter().map(|key| key.as_str().to_owned()).collect::<Vec<_>>())
}

fn listed(all: &[String]) -> String {
    match all.len().checked_sub(LISTED).filter(|more| *more > 0) {
        Some(more) => format!("{} and {more} more", all[..LISTED].join(", ")),
        None => all.join(", "),
    }
}

fn did_you_mean(nearest: Option<&Key>) -> String {
    nearest.map(|key| format!(" (did you mean {:?}?)", key.as_str())).unwrap_or_default()
}

/// Characters of what somebody wrote that are told again: enough to find it, and no line of a megabyte.
const TOLD: usize = 40;

/// What was written, cut to what fits into a line.
pub(super) fn shortened(written: &str) -> String {
    match written.char_indices().nth(TOLD) {
        Some((end, _)) => format!("{}...", &written[..end]),
        None => written.to_owned(),
    }
}
