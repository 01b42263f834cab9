//! What is wrong with what a coach enters on a page or hands in as a table.
//!
//! No sentence crosses the wire: what the reader of files found is a closed enum with arguments, and the page says it in
//! its own language, under `wrong_value.`, `wrong_load.` and so on of the catalogues (see [`crate::text`]). Loads, times and
//! words that somebody has to enter are said as they are entered, in every language alike.

mod block;
mod earlier;
mod fits;
mod load;
mod table;
mod times;
mod value;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use block::{BlockWrong, Split};
pub use earlier::EarlierWrong;
pub use fits::{Fits, FoundThere, Nearest};
pub use load::LoadWrong;
pub use table::{RowWrong, SheetWrong};
pub use times::TimesWrong;
pub use value::ValueWrong;

/// Something that is wrong, and what may help.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Told {
    /// What is wrong.
    #[serde(flatten)]
    pub wrong: Wrong,
    /// What may help, where something is likely to.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub help: Option<Help>,
}

/// What is wrong, by what it is about.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "about", content = "wrong", rename_all = "snake_case")]
pub enum Wrong {
    /// About one field, or how fields go together.
    Value(ValueWrong),
    /// About a block, its group, or how its exercises go together.
    Block(BlockWrong),
    /// About how a load is found.
    Load(LoadWrong),
    /// About a set that was done before.
    Earlier(EarlierWrong),
    /// About times and days.
    Times(TimesWrong),
    /// About a row of a table.
    Row(RowWrong),
    /// About a table as a whole.
    Sheet(SheetWrong),
    /// What no entry should come to, in the words of files.
    Other(String),
}

/// What may help.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "is", rename_all = "snake_case")]
pub enum Help {
    /// A name or word that is probably meant.
    Meant {
        /// It.
        word: String,
    },
    /// The same as it is entered.
    Enter {
        /// It.
        word: String,
    },
    /// Something that would do, made of what was found.
    SuchAs {
        /// It.
        word: String,
    },
    /// A decimal comma where a point is read.
    Point {
        /// The same with a point.
        word: String,
    },
    /// The whole maximum is a maximal attempt, and no load is worked out for one.
    WholeMaximum,
    /// The bar with its collars weighs that by itself.
    BarAlone,
}
