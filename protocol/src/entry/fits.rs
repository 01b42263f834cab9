//! What stands in a field, and what would do there.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What would do in a field.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "is", rename_all = "snake_case")]
pub enum Fits {
    /// Text on one line.
    Text {
        /// Its most characters.
        most: usize,
    },
    /// A key.
    Key,
    /// A whole number.
    Whole {
        /// The least.
        least: i64,
        /// The most.
        most: i64,
    },
    /// A mass above zero with its unit.
    Mass,
    /// A load that is said outright: a mass above zero, or a pin.
    Written {
        /// The highest pin.
        pins: u16,
    },
    /// The same, or no load at all.
    WrittenOrNone {
        /// The highest pin.
        pins: u16,
    },
    /// A load in any way it can be said.
    Load {
        /// The highest pin.
        pins: u16,
    },
    /// A duration.
    Duration {
        /// The least, in seconds.
        least: u32,
        /// The most, in seconds.
        most: u32,
    },
    /// A tempo.
    Tempo {
        /// The longest part, in seconds.
        most: u8,
    },
    /// One of some words.
    OneOf {
        /// The words, as files and tables write them.
        choices: Vec<String>,
    },
    /// A day.
    Day,
    /// A time of day.
    TimeOfDay,
    /// Repetitions or a time.
    Work {
        /// The most repetitions.
        reps: u8,
        /// The longest time, in seconds.
        secs: u32,
    },
    /// true or false.
    Flag,
    /// Fields of its own.
    Fields,
    /// So many entries.
    Entries {
        /// The fewest.
        least: usize,
        /// The most.
        most: usize,
    },
    /// Just so many entries.
    Exactly {
        /// How many.
        count: usize,
    },
}

/// What stands in a field.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "is", rename_all = "snake_case")]
pub enum FoundThere {
    /// Text, shortened.
    Text {
        /// It.
        text: String,
    },
    /// A number, as it is written.
    Number {
        /// It.
        text: String,
    },
    /// Yes.
    Yes,
    /// No.
    No,
    /// A day or a time.
    DayOrTime,
    /// Several entries.
    Entries {
        /// How many.
        count: usize,
    },
    /// Fields.
    Fields,
}

/// The loads on either side of one that cannot be set.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "is", rename_all = "snake_case")]
pub enum Nearest {
    /// A lighter and a heavier one.
    Between {
        /// The lighter.
        lighter: String,
        /// The heavier.
        heavier: String,
    },
    /// Nothing heavier than this.
    Heaviest {
        /// The load.
        load: String,
    },
    /// Nothing lighter than this.
    Lightest {
        /// The load.
        load: String,
    },
    /// None at all.
    Nothing,
}
