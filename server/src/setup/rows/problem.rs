//! What can be wrong with a table or a row, beside what is wrong with what it says.

use turnabout_protocol::ids::GroupId;

use super::limits;

/// Why a table cannot be read at all.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SheetProblem {
    /// It is not text.
    #[error("found a byte that is not text (byte {byte} of the file), allowed UTF-8")]
    NotUtf8 {
        /// Which byte, from 1.
        byte: usize,
    },
    /// It is text of two bytes a character.
    #[error("found text of two bytes a character (UTF-16), allowed UTF-8")]
    Utf16,
    /// Nothing is in it.
    #[error("found nothing, allowed a header row and rows")]
    Empty,
    /// Its header names neither kind.
    #[error(
        "found a header without number or group, allowed a table of clients (number, name, ...) or of sessions (group, block, exercise, ...)"
    )]
    NoKind,
    /// A column that is not known.
    #[error("found the column {found:?}, allowed {}", allowed.join(", "))]
    UnknownColumn {
        /// Its name, shortened.
        found: String,
        /// The columns that are.
        allowed: &'static [&'static str],
        /// The one that may be meant.
        meant: Option<&'static str>,
    },
    /// A column that stands there twice.
    #[error("found the column {0:?} again, allowed once")]
    Twice(String),
    /// A column that is needed.
    #[error("found no column {0}, allowed one")]
    MissingColumn(&'static str),
    /// More rows than any evening has.
    #[error("found more than {} rows, allowed {}", limits::ROWS, limits::ROWS)]
    TooManyRows,
}

impl SheetProblem {
    /// What may help, where something is likely to.
    #[must_use]
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::NotUtf8 { .. } | Self::Utf16 => Some("save the table as CSV in UTF-8".to_owned()),
            Self::UnknownColumn { meant: Some(meant), .. } => Some(format!("did you mean {meant}?")),
            Self::UnknownColumn { meant: None, .. } => Some("take the column away".to_owned()),
            Self::Empty | Self::NoKind | Self::Twice(_) | Self::MissingColumn(_) | Self::TooManyRows => None,
        }
    }
}

/// Why a row is refused, beside the mistakes of what it says.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum RowProblem {
    /// It has more or fewer cells than the header.
    #[error("found {found} cells, allowed {allowed}, as many as the header has")]
    Ragged {
        /// Its cells.
        found: usize,
        /// Those of the header.
        allowed: usize,
    },
    /// A row before says something else of the same group or block.
    #[error("found {found:?}, allowed {allowed:?} or nothing: line {line} says that of the same")]
    Other {
        /// What it says.
        found: String,
        /// What was said first.
        allowed: String,
        /// Where.
        line: u64,
    },
    /// The same client in a row before.
    #[error("found {found} again, allowed once; it stands in line {line} too")]
    Again {
        /// The number.
        found: String,
        /// Where.
        line: u64,
    },
    /// A cell that must not be empty.
    #[error("found nothing, allowed {0}")]
    Nothing(&'static str),
    /// What one client does differently in an exercise that no row before has.
    #[error("found what a client does differently, allowed after the row of the exercise itself")]
    NoExercise,
    /// Another row of the same group is refused: half a session is none.
    #[error("line {line} of the same group is refused, and half a session is none")]
    Half {
        /// Which one.
        line: u64,
    },
    /// So many rows are refused that this one was not looked at.
    #[error("not looked at: too many rows are refused")]
    NotRead,
    /// The group has begun.
    #[error("group {0} has begun: its part of the programme must stay as it is")]
    Begun(GroupId),
}
