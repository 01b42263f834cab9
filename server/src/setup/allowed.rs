//! What may stand in a field, in words.

use std::fmt;

use turnabout_protocol::next::PerMille;
use turnabout_protocol::tempo::Part;
use turnabout_protocol::text::Language;

use crate::loading::gear::Ratio;
use crate::training::block::limits;

/// What may stand in a field.
#[derive(Clone, Debug, PartialEq)]
pub enum Allowed {
    /// Text of at most so many characters.
    Text {
        /// Characters.
        most: usize,
    },
    /// Text in every language, or one text for all, of at most so many characters.
    Words {
        /// Characters of each.
        most: usize,
    },
    /// A key.
    Key,
    /// A time zone's name.
    Zone,
    /// A whole number.
    Whole {
        /// The least.
        least: i64,
        /// The most.
        most: i64,
    },
    /// A mass with its unit.
    Mass {
        /// Whether zero will do.
        zero: bool,
    },
    /// A load of an exercise: a mass, a pin, a share of a maximum, or how it is found.
    Load,
    /// A load that is said outright: a mass with its unit, or a pin.
    Written {
        /// Whether zero will do.
        zero: bool,
    },
    /// A share with its sign, from nothing up.
    Percent {
        /// The most.
        most: PerMille,
    },
    /// A duration with its unit.
    Duration {
        /// The least, in seconds.
        least: u32,
        /// The most, in seconds.
        most: u32,
    },
    /// A tempo.
    Tempo,
    /// One of some words.
    OneOf(Vec<&'static str>),
    /// A day of the calendar.
    Day,
    /// A time of day.
    TimeOfDay,
    /// What stands on a label.
    Label {
        /// Characters.
        most: usize,
    },
    /// Repetitions or a time.
    Work,
    /// A ratio of two small numbers.
    Ratio,
    /// A part of a day.
    Window,
    /// true or false.
    Flag,
    /// A number of metres, at most so far from the corner either way.
    Metres {
        /// Metres.
        most: f64,
    },
    /// A table.
    Table,
    /// A table under this heading.
    Heading(String),
    /// Tables of one name, each under a heading of its own.
    Sections {
        /// The name.
        name: &'static str,
        /// The fewest.
        least: usize,
        /// The most.
        most: usize,
    },
    /// A list.
    List {
        /// The fewest entries.
        least: usize,
        /// The most entries.
        most: usize,
    },
}

impl fmt::Display for Allowed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Text { most } => write!(f, "text in quotation marks, 1 to {most} characters on one line"),
            Self::Words { most } => write!(
                f,
                "text in quotation marks, 1 to {most} characters on one line, or one for each language: \
                 {{ en = \"\", de = \"\" }}"
            ),
            Self::Key => write!(f, "a key in quotation marks: {}", turnabout_protocol::ids::KeyError),
            Self::Zone => f.write_str("an IANA time zone such as \"Europe/Berlin\""),
            Self::Whole { least, most } => write!(f, "a whole number, {least} to {most}"),
            Self::Mass { zero } => {
                let above = if *zero { "" } else { "above zero, " };
                write!(
                    f,
                    "a mass such as \"82.5 kg\" or \"45 lb\", {above}at most 9000 kg, at most 4 decimals"
                )
            }
            Self::Load => write!(
                f,
                "{}; a share of the maximum such as \"70 %\", 0.1 % to 99.9 %; \"by-reserve\", \"as-last-time\" or \
                 \"find-it\"",
                Self::Written { zero: false }
            ),
            Self::Written { zero } => {
                let mass = Self::Mass { zero: *zero };
                write!(
                    f,
                    "{mass}; where labels are mere numbers a pin such as \"pin 7\", 1 to {}",
                    super::limits::LABELS
                )
            }
            Self::Percent { most } => {
                let most = most.percent(Language::En);
                write!(f, "a share such as \"10 %\" or \"2.5 %\", 0 % to {most}, at most 1 decimal")
            }
            Self::Duration { least, most } => {
                write!(f, "a duration such as \"90 s\" or \"2 min\", {least} s to {most} s")
            }
            Self::Tempo => write!(
                f,
                "a tempo such as \"2-0-2-0\": eccentric-pause-concentric-pause, each 0 to {} seconds or X, \
                 not all 0",
                Part::MAX
            ),
            Self::OneOf(words) => {
                for (n, word) in words.iter().enumerate() {
                    let between = if n == 0 { "" } else { " or " };
                    write!(f, "{between}\"{word}\"")?;
                }
                Ok(())
            }
            Self::Day => f.write_str("a day without quotation marks such as 2026-11-25"),
            Self::TimeOfDay => f.write_str("a time of day such as \"18:30\", 00:00 to 24:00"),
            Self::Label { most } => {
                write!(f, "what the label says, such as 4 or \"4\", 1 to {most} characters")
            }
            Self::Work => write!(
                f,
                "repetitions such as 10 or \"8-12\", 1 to {}, or a time such as \"30 s\", 1 s to {} s",
                limits::REPS,
                limits::HOLD_SECS
            ),
            Self::Ratio => write!(
                f,
                "a ratio such as \"2:1\", where 2 kg of the stack are 1 kg at the hand, each 1 to {}",
                Ratio::MOST
            ),
            Self::Window => f.write_str("hours such as \"06:00-22:00\", within 00:00 and 24:00"),
            Self::Flag => f.write_str("true or false"),
            Self::Metres { most } => write!(f, "metres, -{most} to {most}"),
            Self::Table | Self::Heading(_) => f.write_str("a table"),
            Self::Sections { name, least, most } => write!(f, "{least} to {most} [[{name}]]"),
            Self::List { least, most } if least == most => write!(f, "a list of {most}"),
            Self::List { least, most } => write!(f, "a list of {least} to {most}"),
        }
    }
}
