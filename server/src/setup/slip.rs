//! The most frequent slips in a single value, and what was probably meant.

use std::fmt;

use turnabout_protocol::next::PerMille;

use super::allowed::Allowed;
use super::found::Found;
use super::load_rule;
use super::percent::parse_percent;
use super::suggest;
use crate::floor::local_time::Minute;

/// A slip that a value looks like, with what may be meant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Slip {
    /// A number without its unit or sign.
    Unit {
        /// The value with it.
        meant: String,
        /// Whether a sign is missing, not a unit.
        sign: bool,
    },
    /// The whole maximum or more, as a load.
    WholeMaximum,
    /// A word with a letter or two wrong.
    Word(String),
    /// Quotation marks around what stands without them.
    Marked(String),
    /// None around text.
    Unmarked(String),
    /// A tempo without its dashes; this one has them.
    Dashes(String),
    /// A time of day with one digit for its hour; this one has two.
    Digits(Minute),
    /// Words where a key belongs; this is one.
    Key(String),
    /// One table where each has a heading of its own.
    Sections(&'static str),
}

impl fmt::Display for Slip {
    /// What may help, in the words of files.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unit { meant, sign: false } => write!(f, "write it with its unit: \"{meant}\""),
            Self::Unit { meant, sign: true } => write!(f, "write it with its sign: \"{meant}\""),
            Self::WholeMaximum => {
                f.write_str("the whole maximum is a maximal attempt, and no load is worked out for one")
            }
            Self::Word(word) => write!(f, "did you mean \"{word}\"?"),
            Self::Marked(bare) => write!(f, "write it without quotation marks: {bare}"),
            Self::Unmarked(bare) => write!(f, "write it in quotation marks: \"{bare}\""),
            Self::Dashes(tempo) => write!(f, "write it with its dashes: \"{tempo}\""),
            Self::Digits(time) => write!(f, "write hours and minutes with two digits: \"{time}\""),
            Self::Key(key) => write!(f, "such as \"{key}\""),
            Self::Sections(name) => write!(f, "write [[{name}]], with two brackets, before each of them"),
        }
    }
}

/// The slip that a value looks like where something else is allowed, if it looks like one.
pub(super) fn slip(found: &Found, allowed: &Allowed) -> Option<Slip> {
    let shown = found.to_string();
    let bare = shown.trim_matches('"');
    let in_marks = bare != shown;
    let number = !bare.is_empty() && bare.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    match allowed {
        Allowed::Mass { .. } | Allowed::Load if number => unit(format!("{bare} kg")),
        Allowed::Load if parse_percent(bare).is_some_and(|share| share >= PerMille::WHOLE) => {
            Some(Slip::WholeMaximum)
        }
        Allowed::Load => word(bare, load_rule::WORDS.iter().map(|(word, _)| *word)),
        Allowed::Percent { .. } if number => Some(Slip::Unit { meant: format!("{bare} %"), sign: true }),
        Allowed::Duration { .. } if number => unit(format!("{bare} s")),
        Allowed::Whole { .. } | Allowed::Metres { .. } | Allowed::Work if number && in_marks => marked(bare),
        Allowed::Flag if in_marks && matches!(bare, "true" | "false") => marked(bare),
        Allowed::Day if in_marks && bare.parse::<jiff::civil::Date>().is_ok() => marked(bare),
        Allowed::Text { .. } | Allowed::Zone if number || matches!(found, Found::Flag(_)) => {
            Some(Slip::Unmarked(bare.to_owned()))
        }
        Allowed::Tempo if number && bare.len() == 4 && !bare.contains('.') => {
            let parts: Vec<String> = bare.chars().map(String::from).collect();
            Some(Slip::Dashes(parts.join("-")))
        }
        Allowed::TimeOfDay if in_marks => format!("0{bare}").parse().ok().map(Slip::Digits),
        Allowed::Key if in_marks => key_like(bare).map(Slip::Key),
        Allowed::OneOf(words) => word(bare, words.iter().copied()),
        Allowed::Sections { name, .. } if *found == Found::Table => Some(Slip::Sections(name)),
        _ => None,
    }
}

const fn unit(meant: String) -> Option<Slip> {
    Some(Slip::Unit { meant, sign: false })
}

fn marked(bare: &str) -> Option<Slip> {
    Some(Slip::Marked(bare.to_owned()))
}

fn word<'w>(bare: &str, words: impl IntoIterator<Item = &'w str>) -> Option<Slip> {
    suggest::meant(bare, words).map(|word| Slip::Word(word.to_owned()))
}

/// The key that looks most like what was found.
fn key_like(found: &str) -> Option<String> {
    let words = found.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    let key = words.collect::<Vec<_>>().join("-").to_ascii_lowercase();
    key.parse::<turnabout_protocol::ids::Key>().is_ok().then_some(key)
}
