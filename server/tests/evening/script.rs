//! The script: one line a tap, `WHEN WHO WHAT ... [-> OUTCOME]`.
//!
//! WHEN is a time of day (`18:05:30`), so many seconds after the line before (`+12`), after the GO of a set
//! (`dara/2a+3`: of Dara's second round the first exercise) or after its end (`dara/2a.over+3`), and at once where
//! that is past. WHO is a coach
//! (`coach-1`), a coach's assistant (`assistant-1`), a station's display (`bench-1`), or `evening` for what the
//! script itself does. A line without `->` is accepted; `-> already` and `-> refused REASON` are the others.
//! What follows `#` is for the reader.

use std::fmt;

use crate::words::Words;

/// When a line happens.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum When {
    /// At a time of day, in seconds after midnight.
    At(i64),
    /// So many seconds after the line before.
    After(i64),
    /// So many seconds after GO of a set.
    Go { set: String, secs: i64 },
    /// So many seconds after the tap that ended a set.
    Over { set: String, secs: i64 },
}

/// What the floor is to answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Outcome {
    Accepted,
    Already,
    Refused(String),
}

/// One line.
#[derive(Clone, Debug)]
pub(crate) struct Line {
    pub(crate) number: usize,
    pub(crate) when: When,
    pub(crate) who: String,
    pub(crate) what: Vec<String>,
    pub(crate) outcome: Outcome,
}

/// What is wrong with a script, and on which line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Mistake {
    pub(crate) line: usize,
    pub(crate) what: String,
}

impl fmt::Display for Mistake {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}: {}", self.line, self.what)
    }
}

/// Reads a script.
pub(crate) fn parse(text: &str) -> Result<Vec<Line>, Mistake> {
    let mut lines = Vec::new();
    for (number, line) in (1..).zip(text.lines()) {
        let said = line.split('#').next().unwrap_or_default().trim();
        if !said.is_empty() {
            lines.push(parse_line(number, said)?);
        }
    }
    Ok(lines)
}

fn parse_line(number: usize, said: &str) -> Result<Line, Mistake> {
    let (tap, outcome) = said.split_once("->").unwrap_or((said, ""));
    let mut words = Words::new(number, tap.split_whitespace());
    let when = when(&mut words)?;
    let who = words.next("who speaks")?.to_owned();
    let what: Vec<String> = words.rest();
    if what.is_empty() {
        return Err(words.mistake("nothing happens"));
    }
    let mut outcome = Words::new(number, outcome.split_whitespace());
    let outcome = match outcome.maybe() {
        None => Outcome::Accepted,
        Some("already") => Outcome::Already,
        Some("refused") => Outcome::Refused(outcome.next("why")?.to_owned()),
        Some(other) => return Err(words.mistake(&format!("`{other}` is neither already nor refused"))),
    };
    Ok(Line { number, when, who, what, outcome })
}

fn when(words: &mut Words<'_>) -> Result<When, Mistake> {
    let word = words.next("when it happens")?;
    let secs = |text: &str| text.parse::<i64>().map_err(|_| words.mistake(&format!("`{text}` is no number")));
    if let Some(after) = word.strip_prefix('+') {
        return Ok(When::After(secs(after)?));
    }
    if let Some((set, after)) = word.split_once('+') {
        let secs = secs(after)?;
        return Ok(match set.strip_suffix(".over") {
            Some(set) => When::Over { set: set.to_owned(), secs },
            None => When::Go { set: set.to_owned(), secs },
        });
    }
    let parts: Vec<&str> = word.split(':').collect();
    let [hours, minutes, seconds] = parts.as_slice() else {
        return Err(words.mistake(&format!("`{word}` is no time")));
    };
    Ok(When::At(secs(hours)? * 3_600 + secs(minutes)? * 60 + secs(seconds)?))
}
