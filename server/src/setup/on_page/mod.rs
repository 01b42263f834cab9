//! What the reader of files found, as a page is told it: the same problems, as closed enums of the wire
//! (`turnabout_protocol::entry`) in place of the words of files.
//!
//! Only what an entry or a table can come to has words on a page. All else is about floor files or about the form of
//! files, and is told in the words of files, as [`Wrong::Other`]; `server/tests/setup/on_page.rs` holds that no entry gets
//! there. Nothing is checked anew here: every match is over the problems that the reader has found.

mod block;
mod earlier;
mod load;
mod table;
mod times;
mod value;

use std::fmt::Display;

use turnabout_protocol::entry::{Nearest, Told, Wrong};

use super::mistake::Mistake;
use super::problem::Problem;
use super::written::Written;

impl Mistake {
    /// The same for a page.
    #[must_use]
    pub fn on_page(&self) -> Told {
        self.problem.on_page()
    }
}

impl Problem {
    /// The same for a page.
    #[must_use]
    pub fn on_page(&self) -> Told {
        let wrong = value::wrong(self).unwrap_or_else(|| Wrong::Other(self.to_string()));
        Told { wrong, help: value::help(self) }
    }
}

/// The loads on either side of one that cannot be set.
fn nearest(below: Option<&Written>, above: Option<&Written>) -> Nearest {
    match (below, above) {
        (Some(below), Some(above)) => Nearest::Between { lighter: said(below), heavier: said(above) },
        (Some(below), None) => Nearest::Heaviest { load: said(below) },
        (None, Some(above)) => Nearest::Lightest { load: said(above) },
        (None, None) => Nearest::Nothing,
    }
}

/// What is the same in every language, since it is entered so.
fn said(what: &impl Display) -> String {
    what.to_string()
}
