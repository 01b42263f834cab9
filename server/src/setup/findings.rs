//! What has been found wrong so far while a file is read.

use std::collections::BTreeMap;
use std::fmt;
use std::ops::Range;

use super::found::Found;
use super::limits;
use super::lines::Lines;
use super::mistake::{Mistake, Mistakes};
use super::problem::{Problem, Thing};
use super::spot::{First, Said, Spot, Told};
use super::suggest;

/// Mistakes that are kept while a file is read, before all but the first [`limits::MISTAKES`] go: enough that
/// sorting them out is rare, few enough that a file of nothing but mistakes does not fill the memory.
const HELD: usize = 8 * limits::MISTAKES;

/// The mistakes of the file that is being read.
pub(super) struct Findings<'t> {
    text: &'t str,
    told: Told,
    lines: Lines<'t>,
    list: Vec<Pending>,
    /// What is no mistake and still may be a slip.
    hints: Vec<Pending>,
    left_out: usize,
    /// How often somebody may still be asked what was meant: more is more than anybody reads.
    guesses: usize,
}

/// A mistake whose line and column nobody has asked for yet.
struct Pending {
    bytes: Range<usize>,
    field: String,
    problem: Problem,
}

impl Pending {
    fn placed(self, lines: &Lines<'_>) -> Mistake {
        let Self { bytes, field, problem } = self;
        Mistake { place: Some(lines.place(&bytes)), field, problem }
    }
}

impl<'t> Findings<'t> {
    pub(super) fn new(text: &'t str, told: Told) -> Self {
        Self {
            text,
            told,
            lines: Lines::new(text),
            list: Vec::new(),
            hints: Vec::new(),
            left_out: 0,
            guesses: HELD,
        }
    }

    /// Takes one down.
    pub(super) fn add(&mut self, spot: &Spot, problem: impl Into<Problem>) {
        if self.list.len() >= HELD {
            self.keep_the_first();
        }
        self.list.push(Pending {
            bytes: spot.bytes.clone(),
            field: spot.path.clone(),
            problem: problem.into(),
        });
    }

    /// Takes down what is no mistake and still may be a slip; no more than anybody reads.
    pub(super) fn hint(&mut self, spot: &Spot, problem: impl Into<Problem>) {
        if self.hints.len() < limits::MISTAKES {
            let (bytes, field) = (spot.bytes.clone(), spot.path.clone());
            self.hints.push(Pending { bytes, field, problem: problem.into() });
        }
    }

    /// What may be a slip, in the order of the file; afterwards there is none.
    pub(super) fn hints(&mut self) -> Vec<Mistake> {
        self.hints.sort_by_key(|pending| (pending.bytes.start, pending.bytes.end));
        let lines = &self.lines;
        self.hints.drain(..).map(|pending| pending.placed(lines)).collect()
    }

    fn keep_the_first(&mut self) {
        self.list.sort_by_key(|pending| (pending.bytes.start, pending.bytes.end));
        self.left_out += self.list.len().saturating_sub(limits::MISTAKES);
        self.list.truncate(limits::MISTAKES);
    }

    /// How many there are so far.
    pub(super) const fn count(&self) -> usize {
        self.list.len() + self.left_out
    }

    /// Where something stands, as it is told here.
    pub(super) fn first(&self, spot: &Spot) -> First {
        match self.told {
            Told::ByLine => First::Line(self.lines.line(spot.bytes.start)),
            Told::ByField => First::Field(spot.path.clone()),
        }
    }

    /// Takes down that something must be unique and is not; says whether it is.
    pub(super) fn once<T: Clone + Ord + fmt::Display>(
        &mut self,
        seen: &mut BTreeMap<T, Spot>,
        said: &Said<T>,
    ) -> bool {
        if let Some(first) = seen.get(&said.what) {
            self.again(&said.spot, &said.what.to_string(), first);
            return false;
        }
        seen.insert(said.what.clone(), said.spot.clone());
        true
    }

    /// Takes down that something stands there again.
    pub(super) fn again(&mut self, spot: &Spot, found: &str, first: &Spot) {
        let first = self.first(first);
        self.add(spot, Problem::Again { found: found.to_owned(), first });
    }

    /// Takes down a name of something that does not exist, with the one of `words` that may be meant.
    pub(super) fn unknown<'w>(
        &mut self,
        spot: &Spot,
        thing: Thing,
        name: &str,
        words: impl IntoIterator<Item = &'w str>,
    ) {
        let meant = self.meant(name, words).map(str::to_owned);
        self.add(spot, Problem::Unknown { thing, found: Found::text(name), meant });
    }

    /// The word that may be meant, as long as there is any sense in telling.
    pub(super) fn meant<'w>(
        &mut self,
        name: &str,
        words: impl IntoIterator<Item = &'w str>,
    ) -> Option<&'w str> {
        self.guesses = self.guesses.checked_sub(1)?;
        suggest::meant(name, words)
    }

    /// What was read, if nothing was found wrong.
    pub(super) fn end<T>(mut self, file: &str, read: Option<T>) -> Result<T, Mistakes> {
        if self.list.is_empty()
            && let Some(read) = read
        {
            return Ok(read);
        }
        self.keep_the_first();
        let lines = &self.lines;
        let list = self.list.into_iter().map(|pending| pending.placed(lines));
        Err(Mistakes::new(file, self.text, list.collect(), self.left_out))
    }
}
