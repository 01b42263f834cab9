//! The mistakes of one text, each with its place.

use std::fmt;

use super::limits;
use super::problem::Problem;

/// One mistake in a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mistake {
    /// The path of the field, such as `groups[3].members[0].rounds[2].legs[1].dur`; lists count from 0, as ids do.
    /// Empty where the text as a whole is meant.
    pub at: String,
    /// What is wrong there.
    pub problem: Problem,
}

impl fmt::Display for Mistake {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.at.is_empty() {
            write!(f, "{}: ", self.at)?;
        }
        self.problem.fmt(f)
    }
}

/// Everything that is wrong with one text. Never empty.
///
/// Its text is one line a mistake.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}{}", lines(.list), more(*.left_out))]
pub struct Mistakes {
    /// The first [`limits::MISTAKES`] of them.
    pub list: Vec<Mistake>,
    /// How many more there are.
    pub left_out: usize,
}

fn lines(list: &[Mistake]) -> String {
    list.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}

fn more(left_out: usize) -> String {
    if left_out == 0 { String::new() } else { format!("\nand {left_out} more") }
}

/// Where something stands, made into words only where something is wrong with it.
#[derive(Clone, Copy, Debug)]
pub(super) enum Path<'a> {
    /// The whole text.
    Top,
    /// A field of an object.
    Field(&'a Path<'a>, &'static str),
    /// A place in a list.
    Item(&'a Path<'a>, usize),
}

impl fmt::Display for Path<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Top => Ok(()),
            Self::Field(Path::Top, name) => f.write_str(name),
            Self::Field(above, name) => write!(f, "{above}.{name}"),
            Self::Item(list, place) => write!(f, "{list}[{place}]"),
        }
    }
}

/// What has been found wrong so far.
#[derive(Debug, Default)]
pub(super) struct Notes {
    list: Vec<Mistake>,
    left_out: usize,
}

impl Notes {
    /// Notes a mistake; of those beyond the limit only that there are more.
    pub(super) fn add(&mut self, at: impl fmt::Display, problem: Problem) {
        if self.list.len() < limits::MISTAKES {
            self.list.push(Mistake { at: at.to_string(), problem });
        } else {
            self.left_out += 1;
        }
    }

    /// What was read, if nothing was wrong.
    pub(super) fn end<T>(self, read: Option<T>) -> Result<T, Mistakes> {
        match read {
            Some(read) if self.list.is_empty() => Ok(read),
            Some(_) | None => Err(Mistakes { list: self.list, left_out: self.left_out }),
        }
    }
}

/// A text that is no JSON, or too long to be looked at.
pub(super) fn of_the_text(problem: Problem) -> Mistakes {
    Mistakes { list: vec![Mistake { at: String::new(), problem }], left_out: 0 }
}
