//! Where something stands: in the bytes of a file, and for people.

use std::fmt;
use std::ops::Range;

/// A place in a file, for people.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1; a tab is one character, and so is a wide one.
    pub column: usize,
    /// The bytes of the text it covers, at most to the end of the line.
    pub bytes: Range<usize>,
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}", self.line, self.column)
    }
}

/// Where the first of two that should be one stands: by its line in a file, by its field in what a page sent, which
/// has no lines that anybody saw.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum First {
    /// In this line, from 1.
    Line(usize),
    /// In this field.
    Field(String),
}

impl fmt::Display for First {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Line(line) => write!(f, "in line {line}"),
            Self::Field(field) => write!(f, "in {field}"),
        }
    }
}

/// How the place of something is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Told {
    /// By its line.
    ByLine,
    /// By its field.
    ByField,
}

/// The bytes of something in the file, and the path of fields that leads to it.
#[derive(Clone, Debug)]
pub(super) struct Spot {
    pub(super) bytes: Range<usize>,
    pub(super) path: String,
}

impl Spot {
    /// The path of a field below this; lists count from 1, as people do.
    pub(super) fn field(&self, name: &str) -> String {
        if self.path.is_empty() { name.to_owned() } else { format!("{}.{name}", self.path) }
    }
}

/// Something that was read, and where it was said.
#[derive(Clone, Debug)]
pub(super) struct Said<T> {
    pub(super) what: T,
    pub(super) spot: Spot,
}
