//! Clients and sessions from a table: rows with a header, as spreadsheets write them (RFC 4180).
//!
//! The rows are put into the document of the programme that the floor has (`super::entered`), and that is read by the
//! reader of programme files; so a cell is checked as the field of a file that it stands for. What
//! becomes of every row is said before anything is taken: new, changed, as it was, or refused, with the reason.
//!
//! Cells are only ever text: what another program would work out as a formula is a name with an equals sign here.

mod columns;
mod compare;
mod fates;
mod place;
mod problem;
mod put;
mod sheet;

pub use columns::Kind;
pub use fates::{Fate, Reason, RowFate, Table, Why, read_table};
pub use problem::{RowProblem, SheetProblem};

/// Bounds of a table, each with its reason.
pub mod limits {
    /// Rows: several for each exercise of the largest evening would not fit into the bytes of one either.
    pub const ROWS: usize = 10_000;
    /// Cells of one row: there are about twenty columns.
    pub const CELLS: usize = 64;
}
