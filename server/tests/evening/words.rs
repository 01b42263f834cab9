//! The words of one line, one after the other.

use crate::script::Mistake;

pub(crate) struct Words<'a> {
    line: usize,
    words: std::collections::VecDeque<&'a str>,
}

impl<'a> Words<'a> {
    pub(crate) fn new(line: usize, words: impl Iterator<Item = &'a str>) -> Self {
        Self { line, words: words.collect() }
    }

    /// The next word, if there is one.
    pub(crate) fn maybe(&mut self) -> Option<&'a str> {
        self.words.pop_front()
    }

    /// The next word, which must be there.
    pub(crate) fn next(&mut self, what: &str) -> Result<&'a str, Mistake> {
        self.maybe().ok_or_else(|| self.mistake(&format!("{what} is missing")))
    }

    /// A number.
    pub(crate) fn number<T: std::str::FromStr>(&mut self, what: &str) -> Result<T, Mistake> {
        let word = self.next(what)?;
        word.parse().map_err(|_| self.mistake(&format!("{what}: `{word}` is no such number")))
    }

    /// Whether no word is left.
    pub(crate) fn is_over(&self) -> bool {
        self.words.is_empty()
    }

    /// Whether the next word is this one; it is taken then.
    pub(crate) fn is(&mut self, word: &str) -> bool {
        let is = self.words.front() == Some(&word);
        if is {
            self.words.pop_front();
        }
        is
    }

    /// A word of one of our closed lists, as it is on the wire.
    pub(crate) fn one_of<T: serde::de::DeserializeOwned>(&mut self, what: &str) -> Result<T, Mistake> {
        let word = self.next(what)?;
        let json = serde_json::Value::from(word.replace('-', "_"));
        serde_json::from_value(json).map_err(|_| self.mistake(&format!("{what}: `{word}` is none")))
    }

    pub(crate) fn rest(&mut self) -> Vec<String> {
        self.words.drain(..).map(str::to_owned).collect()
    }

    pub(crate) fn mistake(&self, what: &str) -> Mistake {
        Mistake { line: self.line, what: what.to_owned() }
    }
}
