//! What is wrong with a table, or with a row of one, beside what its cells say.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What is wrong with a row.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "because", rename_all = "snake_case")]
pub enum RowWrong {
    /// More or fewer cells than the header has.
    Ragged {
        /// Its cells.
        count: usize,
        /// Those of the header.
        wanted: usize,
    },
    /// Something else than a row before says of the same.
    Otherwise {
        /// What it says.
        text: String,
        /// What was said.
        said: String,
        /// In which line.
        line: u64,
    },
    /// What a row before has already.
    Again {
        /// It.
        again: String,
        /// In which line.
        line: u64,
    },
    /// A cell that must not be empty.
    Nothing,
    /// What one client does differently in an exercise that no row before has.
    NoExercise,
    /// Another row of the same group is refused.
    Half {
        /// In which line.
        line: u64,
    },
    /// Too many rows are refused.
    NotRead,
    /// The group has begun.
    Begun {
        /// Its number.
        group: u32,
    },
}

/// Why a table cannot be read at all.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "because", rename_all = "snake_case")]
pub enum SheetWrong {
    /// It is not text.
    NotUtf8 {
        /// The first byte that is not, from 1.
        byte: usize,
    },
    /// Two bytes a character.
    Utf16,
    /// Nothing is in it.
    Empty,
    /// Its header is neither of clients nor of sessions.
    NoKind,
    /// A column that is not known.
    UnknownColumn {
        /// Its name, shortened.
        column: String,
        /// The columns that are.
        columns: Vec<String>,
    },
    /// A column that comes again.
    Twice {
        /// Its name.
        column: String,
    },
    /// A column that is needed.
    MissingColumn {
        /// Its name.
        column: String,
    },
    /// More rows than are read.
    TooManyRows {
        /// How many are.
        most: usize,
    },
}
