//! The mistakes of one file, as a list for logs and as a diagnostic for a picture.

use std::fmt;

use miette::{Diagnostic, LabeledSpan, SourceCode};

use super::excerpt::Source;
use super::limits;
use super::problem::Problem;
use super::spot::Place;

/// One mistake in a file.
#[derive(Clone, Debug, PartialEq)]
pub struct Mistake {
    /// Where; absent where it is about the file as a whole.
    pub place: Option<Place>,
    /// The path of the field, such as `station[1].bar.plates[2].count`; lists count from 1. Empty where no
    /// field is meant.
    pub field: String,
    /// What is wrong.
    pub problem: Problem,
}

impl Mistake {
    /// A mistake about the file as a whole.
    pub(super) const fn of_the_file(problem: Problem) -> Self {
        Self { place: None, field: String::new(), problem }
    }
}

impl fmt::Display for Mistake {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.field.is_empty() {
            write!(f, "{}: ", self.field)?;
        }
        self.problem.fmt(f)
    }
}

impl std::error::Error for Mistake {}

impl Diagnostic for Mistake {
    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.problem.hint().map(|hint| Box::new(hint) as Box<dyn fmt::Display>)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let place = self.place.as_ref()?;
        let label = LabeledSpan::new(None, place.bytes.start, place.bytes.len());
        Some(Box::new(std::iter::once(label)))
    }
}

/// Everything that is wrong with one file, in the order of the file. Never empty.
///
/// Its text is one line a mistake: `floor.toml:12:7: station[1].name: found 3, allowed ... (hint)`.
#[derive(Clone, Debug)]
pub struct Mistakes {
    source: Source,
    list: Vec<Mistake>,
    left_out: usize,
}

impl Mistakes {
    /// At most [`limits::MISTAKES`], in the order of the file, and how many more there are.
    pub(super) fn new(file: &str, text: &str, list: Vec<Mistake>, left_out: usize) -> Self {
        Self { source: Source::new(file, text), list, left_out }
    }

    /// The file's name.
    #[must_use]
    pub fn file(&self) -> &str {
        self.source.name()
    }

    /// The mistakes, in the order of the file.
    #[must_use]
    pub fn list(&self) -> &[Mistake] {
        &self.list
    }

    /// How many more there are than are kept.
    #[must_use]
    pub const fn left_out(&self) -> usize {
        self.left_out
    }

    /// How many there are in all, in words.
    fn count(&self) -> String {
        match self.list.len() + self.left_out {
            1 => "one mistake".to_owned(),
            n => format!("{n} mistakes"),
        }
    }
}

impl fmt::Display for Mistakes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (n, mistake) in self.list.iter().enumerate() {
            if n > 0 {
                writeln!(f)?;
            }
            write!(f, "{}:", self.file())?;
            if let Some(place) = &mistake.place {
                write!(f, "{place}:")?;
            }
            write!(f, " {mistake}")?;
            if let Some(hint) = mistake.problem.hint() {
                write!(f, " ({hint})")?;
            }
        }
        if self.left_out > 0 {
            write!(f, "\n{}: and {} more", self.file(), self.left_out)?;
        }
        Ok(())
    }
}

impl std::error::Error for Mistakes {}

impl Diagnostic for Mistakes {
    fn source_code(&self) -> Option<&dyn SourceCode> {
        Some(&self.source)
    }

    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn Diagnostic> + 'a>> {
        Some(Box::new(self.list.iter().map(|mistake| mistake as &dyn Diagnostic)))
    }
}

/// The head of the picture, whose body are the single mistakes.
#[derive(Debug, thiserror::Error)]
#[error("{} in {}", .0.count(), .0.file())]
pub(super) struct Headed<'m>(pub(super) &'m Mistakes);

impl Diagnostic for Headed<'_> {
    fn source_code(&self) -> Option<&dyn SourceCode> {
        self.0.source_code()
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        let left_out = self.0.left_out();
        (left_out > 0).then(|| {
            let most = limits::MISTAKES;
            Box::new(format!("the first {most} are shown, {left_out} more are not")) as Box<dyn fmt::Display>
        })
    }

    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn Diagnostic> + 'a>> {
        self.0.related()
    }
}
