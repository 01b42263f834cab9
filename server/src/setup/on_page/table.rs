//! Problems of tables and their rows.

use turnabout_protocol::entry::{Help, RowWrong, SheetWrong, Told, Wrong};

use crate::setup::rows::limits;
use crate::setup::rows::{RowProblem, SheetProblem};

impl RowProblem {
    /// The same for a page.
    #[must_use]
    pub fn on_page(&self) -> Told {
        let wrong = match self {
            Self::Ragged { found, allowed } => RowWrong::Ragged { count: *found, wanted: *allowed },
            Self::Other { found, allowed, line } => {
                RowWrong::Otherwise { text: found.clone(), said: allowed.clone(), line: *line }
            }
            Self::Again { found, line } => RowWrong::Again { again: found.clone(), line: *line },
            // What is missing is in the name of the column.
            Self::Nothing(_) => RowWrong::Nothing,
            Self::NoExercise => RowWrong::NoExercise,
            Self::Half { line } => RowWrong::Half { line: *line },
            Self::NotRead => RowWrong::NotRead,
            Self::Begun(group) => RowWrong::Begun { group: group.0 },
        };
        Told { wrong: Wrong::Row(wrong), help: None }
    }
}

impl SheetProblem {
    /// The same for a page.
    #[must_use]
    pub fn on_page(&self) -> Told {
        let mut help = None;
        let wrong = match self {
            Self::NotUtf8 { byte } => SheetWrong::NotUtf8 { byte: *byte },
            Self::Utf16 => SheetWrong::Utf16,
            Self::Empty => SheetWrong::Empty,
            Self::NoKind => SheetWrong::NoKind,
            Self::UnknownColumn { found, allowed, meant } => {
                help = meant.map(|meant| Help::Meant { word: meant.to_owned() });
                let columns = allowed.iter().map(|column| (*column).to_owned()).collect();
                SheetWrong::UnknownColumn { column: found.clone(), columns }
            }
            Self::Twice(column) => SheetWrong::Twice { column: column.clone() },
            Self::MissingColumn(column) => SheetWrong::MissingColumn { column: (*column).to_owned() },
            Self::TooManyRows => SheetWrong::TooManyRows { most: limits::ROWS },
        };
        Told { wrong: Wrong::Sheet(wrong), help }
    }
}
