//! Everything by four keys: one to go, two to move a mark, one for help.

use std::collections::BTreeSet;

use super::choices::{Choice, Does};
use super::touch::{APART_MS, SETTLED_MS};

/// So long after the last key the mark stays where it was moved; then it is on what is expected again, and not drawn.
pub const MARK_MS: u64 = 10_000;

/// The four keys.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FourKey {
    /// Presses what is marked.
    Go,
    /// Moves the mark back.
    Minus,
    /// Moves the mark on.
    Plus,
    /// Calls for help.
    Help,
}

/// Where the mark is.
#[derive(Clone, Debug, Default)]
pub struct Mark {
    /// What it was moved to.
    at: Option<(String, Does)>,
    /// It stays for as long as the display is being set up: somebody stands before it who looks for the next letter.
    lasts: bool,
    /// When a key was used last.
    used: Option<u64>,
    /// When go did something last.
    went: Option<u64>,
    held: BTreeSet<FourKey>,
    /// What there was to choose from when it was moved.
    among: Vec<(String, Does)>,
    /// What is expected, and since when.
    expected: Option<(String, Does, u64)>,
}

impl Mark {
    /// Takes down what there is to choose from: the mark goes back to what is expected when that is something else.
    pub fn draws(&mut self, choices: &[Choice], now: u64) {
        let among: Vec<(String, Does)> = choices
            .iter()
            .filter(|choice| choice.is_for_keys())
            // What changes with each key of a pad sends nothing; the mark may stay on a plate.
            .filter(|choice| !matches!(choice.does, Does::Step(_) | Does::SetUp(..)))
            .map(|choice| (choice.name.clone(), choice.does.clone()))
            .collect();
        let same = |choice: &Choice, (name, does): &(String, Does)| {
            choice.name == *name && (choice.does == *does || matches!(choice.does, Does::Step(_)))
        };
        let gone = |at| !choices.iter().any(|choice| choice.is_for_keys() && same(choice, at));
        self.lasts = choices.iter().any(|choice| matches!(choice.does, Does::SetUp(..)));
        if among != self.among || self.at.as_ref().is_some_and(gone) {
            self.at = None;
        }
        self.among = among;
        let expected = choices.iter().find(|choice| choice.expected && choice.is_for_keys());
        let before = self.expected.take();
        self.expected = expected.map(|choice| {
            let same = before.filter(|(name, does, _)| *name == choice.name && *does == choice.does);
            let since = same.map_or(now, |(_, _, since)| since);
            (choice.name.clone(), choice.does.clone(), since)
        });
    }

    /// A key goes down; what it does. `repeats` is that it is held; `settled` whether something has been drawn for long
    /// enough to be meant.
    pub fn down(
        &mut self,
        key: FourKey,
        repeats: bool,
        choices: &[Choice],
        settled: impl Fn(&str) -> bool,
        now: u64,
    ) -> Option<Does> {
        // A release that got lost may cost a press, but never a call for help.
        let fresh = self.held.insert(key) || key == FourKey::Help;
        if repeats || !fresh {
            return None;
        }
        if key == FourKey::Help {
            let help = choices.iter().find(|choice| choice.is_help() && choice.enabled)?;
            return Some(help.does.clone());
        }
        let marked = self.marked(choices, now).cloned();
        if !self.is_drawn(now) {
            self.at = None;
        }
        self.used = Some(now);
        match key {
            FourKey::Go => {
                let again = self.went.is_some_and(|went| now.saturating_sub(went) < APART_MS);
                // What the mark has come to by itself has to be seen first, as under a finger.
                let is_seen = self.at.is_some()
                    || self
                        .expected
                        .as_ref()
                        .is_some_and(|(_, _, since)| now.saturating_sub(*since) >= SETTLED_MS);
                let marked = marked.filter(|marked| !again && is_seen && settled(&marked.name))?;
                self.went = Some(now);
                Some(marked.does)
            }
            FourKey::Minus | FourKey::Plus => {
                self.at = next(choices, marked.as_ref(), key == FourKey::Plus);
                None
            }
            FourKey::Help => None,
        }
    }

    /// A key comes up.
    pub fn up(&mut self, key: FourKey) {
        self.held.remove(&key);
    }

    /// Both keys that move the mark are down: nobody holds these by chance.
    #[must_use]
    pub fn both(&self) -> bool {
        self.held.contains(&FourKey::Minus) && self.held.contains(&FourKey::Plus)
    }

    /// What go would press: what the mark was moved to, or what is expected; nothing where nothing is.
    #[must_use]
    pub fn marked<'c>(&self, choices: &'c [Choice], now: u64) -> Option<&'c Choice> {
        let mut there = choices.iter().filter(|choice| choice.is_for_keys());
        match self.moved(now) {
            Some(at) => there.find(|choice| choice.name == at),
            None => there.find(|choice| choice.expected),
        }
    }

    /// What it was moved to.
    #[must_use]
    pub fn moved(&self, now: u64) -> Option<&str> {
        self.at.as_ref().filter(|_| self.is_drawn(now)).map(|(name, _)| name.as_str())
    }

    /// Keys are in use.
    #[must_use]
    pub fn is_drawn(&self, now: u64) -> bool {
        self.changes(now).is_some() || (self.lasts && self.used.is_some())
    }

    /// When it is not drawn any more.
    #[must_use]
    pub fn changes(&self, now: u64) -> Option<u64> {
        self.used.map(|used| used + MARK_MS).filter(|until| now < *until && !self.lasts)
    }
}

/// What comes after or before what is marked, around the ends. Where nothing is marked, the first or the last.
fn next(choices: &[Choice], marked: Option<&Choice>, on: bool) -> Option<(String, Does)> {
    let there: Vec<&Choice> = choices.iter().filter(|choice| choice.is_for_keys()).collect();
    let last = there.len().checked_sub(1)?;
    let here = marked.and_then(|marked| there.iter().position(|choice| choice.name == marked.name));
    let to = match (here, on) {
        (Some(here), true) => (here + 1) % there.len(),
        (Some(here), false) => (here + last) % there.len(),
        (None, true) => 0,
        (None, false) => last,
    };
    Some((there[to].name.clone(), there[to].does.clone()))
}
