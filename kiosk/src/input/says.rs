//! What the display says of hands, in words.

use turnabout_protocol::text::{Language, message};

use super::hands::Drawn;

/// In words. An empty text is not drawn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Says {
    /// What stands on the button that begins to wipe, or how long that goes on.
    pub wipe: String,
    /// What stands on the button that turns to the next page of the row.
    pub more: String,
    /// That no touch does anything, or why.
    pub line: String,
}

impl Says {
    /// In a language.
    #[must_use]
    pub fn of(drawn: &Drawn, language: Language) -> Self {
        let say = |id: &str| message(language, id).to_owned();
        let left = |id: &str, secs: u64| message(language, id).replace("{n}", &secs.to_string());
        let line = match drawn.wiping {
            Some(secs) => left("label.wipe_now", secs),
            None if drawn.wet => say("label.wet"),
            None => String::new(),
        };
        Self {
            wipe: drawn.wiping.map_or_else(|| say("label.wipe"), |secs| left("label.wiping", secs)),
            more: say("label.more"),
            line,
        }
    }
}
