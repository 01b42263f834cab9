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
