//! A few words in every language of the displays.

use serde::{Deserialize, Serialize};
use turnabout_protocol::text::Language;

/// The same in every language: what belongs to a floor or to an exercise and not to a display's own texts.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
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
