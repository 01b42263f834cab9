//! What displays say, in every language: one catalogue a language under `protocol/text/`.
//!
//! No sentence crosses the wire. A refusal, a need or a fault is a closed enum with arguments; its message
//! id is the enum's name and the variant's name on the wire (`refusal.rest_not_over`), and its arguments are
//! the variant's fields. A message holds `{field}` where an argument goes; how an argument reads follows
//! from its name (an instant, a mass, a station), and is up to the display. The coach page uses the same
//! catalogues, served as they are.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::{Deserialize, Serialize};
use serde_json::Value;

/// A language of the displays.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Language {
    /// English.
    #[default]
    En,
    /// German.
    De,
}

impl Language {
    /// Every language there is a catalogue for.
    pub const ALL: [Self; 2] = [Self::En, Self::De];

    /// Its tag (BCP 47).
    #[must_use]
    pub const fn tag(self) -> &'static str {
        match self {
            Self::En => "en",
            Self::De => "de",
        }
    }

    /// The catalogue as it is served: a JSON object of message ids and messages.
    #[must_use]
    pub const fn source(self) -> &'static str {
        match self {
            Self::En => include_str!("../text/en.json"),
            Self::De => include_str!("../text/de.json"),
        }
    }

    fn catalogue(self) -> &'static BTreeMap<String, String> {
        static EN: LazyLock<BTreeMap<String, String>> = LazyLock::new(|| parse(Language::En));
        static DE: LazyLock<BTreeMap<String, String>> = LazyLock::new(|| parse(Language::De));
        match self {
            Self::En => &EN,
            Self::De => &DE,
        }
    }
}

fn parse(language: Language) -> BTreeMap<String, String> {
    serde_json::from_str(language.source()).expect("the catalogues are part of the program and tested")
}

/// The message of this id, with nothing put in; the id itself where there is none, so that a gap is seen.
#[must_use]
pub fn message(language: Language, id: &str) -> &str {
    // An id borrowed from the caller is the fallback, hence the lifetime.
    language.catalogue().get(id).map_or(id, String::as_str)
}

/// Says a wire enum: `kind` is its name (`refusal`), `value` the value itself. `argument` turns an argument
/// into words by its name; one that is absent on the wire is null.
#[must_use]
pub fn say<T: Serialize>(
    language: Language,
    kind: &str,
    value: &T,
    argument: impl Fn(&str, &Value) -> String,
) -> String {
    let value = serde_json::to_value(value).unwrap_or(Value::Null);
    let (variant, fields) = variant_of(&value);
    let id = format!("{kind}.{variant}");
    let mut rest = message(language, &id);
    let mut said = String::with_capacity(rest.len());
    while let Some((before, name, after)) = first_place(rest) {
        let field = fields.iter().find(|(field, _)| *field == name).map_or(&Value::Null, |(_, value)| value);
        said.push_str(before);
        said.push_str(&argument(name, field));
        rest = after;
    }
    said + rest
}

/// What comes before the first place of a message, the name of the place, and what comes after it.
fn first_place(message: &str) -> Option<(&str, &str, &str)> {
    let (before, open) = message.split_once('{')?;
    let (name, after) = open.split_once('}')?;
    Some((before, name, after))
}

/// The tags under which the enums of this protocol carry their variant.
const TAGS: [&str; 11] =
    ["because", "outcome", "need", "fault", "do", "felt", "end", "phase", "set", "happened", "is"];

fn variant_of(value: &Value) -> (&str, Vec<(&str, &Value)>) {
    match value {
        Value::String(name) => (name, Vec::new()),
        Value::Object(object) => {
            let tag = TAGS.into_iter().find(|tag| object.get(*tag).is_some_and(Value::is_string));
            let variant = tag.and_then(|tag| object[tag].as_str()).unwrap_or_default();
            let fields = object.iter().filter(|(k, _)| Some(k.as_str()) != tag);
            (variant, fields.map(|(k, v)| (k.as_str(), v)).collect())
        }
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::Array(_) => ("", Vec::new()),
    }
}
