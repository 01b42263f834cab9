//! A few words in every language of the displays.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::text::Language;

/// The same in every language: what belongs to a floor or to an exercise and not to a display's own texts. One
/// view goes to displays of every language, so each takes its own. Every language is always there, equal or not:
/// a frame has to hold them all anyway.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Words {
    /// English.
    pub en: String,
    /// German.
    pub de: String,
}

impl Words {
    /// One text for every language: a floor that writes its own words writes them once.
    #[must_use]
    pub fn same(text: &str) -> Self {
        Self { en: text.to_owned(), de: text.to_owned() }
    }

    /// The text in a language.
    #[must_use]
    pub fn of(&self, language: Language) -> &str {
        match language {
            Language::En => &self.en,
            Language::De => &self.de,
        }
    }
}
