//! A value that stands where another should, as a message tells of it.

use std::fmt;

use toml::de::DeValue;

use super::form::shortened;

/// A value that was found, in a few words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Found {
    /// Text, shortened.
    Text(String),
    /// A number as it is written, shortened.
    Number(String),
    /// A whole number that is not written in base 10.
    Based {
        /// Its digits, shortened.
        digits: String,
        /// The base.
        radix: u32,
    },
    /// true or false.
    Flag(bool),
    /// A day of the calendar, a time of day, or both.
    DayOrTime,
    /// A list of so many entries.
    List(usize),
    /// A table.
    Table,
}

impl Found {
    /// What this value is told as.
    pub(super) fn of(value: &DeValue<'_>) -> Self {
        match value {
            DeValue::String(text) => Self::text(text),
            DeValue::Integer(integer) => {
                let digits = shortened(integer.as_str());
                match integer.radix() {
                    10 => Self::Number(digits),
                    radix => Self::Based { digits, radix },
                }
            }
            DeValue::Float(float) => Self::Number(shortened(float.as_str())),
            DeValue::Boolean(flag) => Self::Flag(*flag),
            DeValue::Datetime(_) => Self::DayOrTime,
            DeValue::Array(array) => Self::List(array.len()),
            DeValue::Table(_) => Self::Table,
        }
    }

    /// Text.
    pub(super) fn text(text: &str) -> Self {
        Self::Text(shortened(text))
    }
}

impl fmt::Display for Found {
    /// Text in quotation marks, with what is invisible written out.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Text(text) => write!(f, "{text:?}"),
            Self::Number(number) => f.write_str(number),
            Self::Based { digits, radix } => write!(f, "{digits} in base {radix}"),
            Self::Flag(flag) => flag.fmt(f),
            Self::DayOrTime => f.write_str("a date or time"),
            Self::List(entries) => write!(f, "a list of {entries}"),
            Self::Table => f.write_str("a table"),
        }
    }
}
