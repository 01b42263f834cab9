//! The settings as the text of a file: a JSON object, since half of one is none, so that a file that was cut off is
//! never taken for a whole one.

use serde_json::{Map, Value, json};
use turnabout_protocol::ids::{DeviceId, Key};
use turnabout_protocol::text::Language;

use crate::link::token::Token;

use super::{Inches, Rotation, Server, Settings, Shows, StationList};

/// Every field there is.
const FIELDS: &str = "device, server, shows, rotation, language, diagonal, sound, token";

/// Why a text is not one of settings.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Broken {
    /// No JSON, or not all of it.
    #[error("line {line}, column {column}: {what}; allowed is a JSON object")]
    Json {
        /// The line, from 1.
        line: usize,
        /// The column, from 1; 0 at the beginning of a line.
        column: usize,
        /// What is wrong there.
        what: String,
    },
    /// JSON of another kind.
    #[error("found {found}, allowed is a JSON object of {FIELDS}")]
    NoObject {
        /// What is there.
        found: String,
    },
    /// A field that there is not.
    #[error("field `{name}`: there is no such setting; allowed are {FIELDS}")]
    Field {
        /// Its name.
        name: String,
    },
    /// A value that a field cannot have.
    #[error("field `{name}`: found {found}, allowed is {allowed}")]
    Value {
        /// The field.
        name: &'static str,
        /// What is there.
        found: String,
        /// What may be.
        allowed: String,
    },
}

/// Reads the text of a file. What it does not say is as with a new display, the display itself too: it is then one that
/// nobody has seen.
///
/// # Errors
/// If anything in it is not what is written to such a file.
pub fn read(text: &[u8]) -> Result<Settings, Broken> {
    let value: Value = serde_json::from_slice(text).map_err(|error| Broken::Json {
        line: error.line(),
        column: error.column(),
        what: error.to_string().split(" at line ").next().unwrap_or_default().to_owned(),
    })?;
    let Value::Object(fields) = value else { return Err(Broken::NoObject { found: value.to_string() }) };
    let mut fields = Fields(fields);
    let settings = Settings::unseen();
    let read = Settings {
        device: fields.take("device", "a UUID", device)?.unwrap_or(settings.device),
        server: fields.take("server", "an address such as http://192.168.0.20:7474", server)?,
        shows: fields.take("shows", "\"board\", or a list of one to four station keys, none twice", shows)?,
        rotation: fields.take("rotation", Rotation::ALLOWED, rotation)?,
        language: fields.take("language", "\"en\" or \"de\"", language)?.unwrap_or(settings.language),
        inches: fields.take("diagonal", Inches::ALLOWED, inches)?.unwrap_or(settings.inches),
        sound: fields.take("sound", "true or false", Value::as_bool)?.unwrap_or(settings.sound),
        token: fields.secret("token", Token::ALLOWED, token)?,
    };
    match fields.0.into_iter().next() {
        Some((name, _)) => Err(Broken::Field { name }),
        None => Ok(read),
    }
}

/// The text of a file.
#[must_use]
pub fn write(settings: &Settings) -> String {
    let shows = settings.shows.as_ref().map(|shows| match shows {
        Shows::Board => json!("board"),
        Shows::Stations(stations) => json!(stations.keys()),
    });
    // A tenth of an inch has no exact number; written from its text it reads as a person would write it.
    let diagonal: Option<Value> = serde_json::from_str(&settings.inches.to_string()).ok();
    let fields = [
        ("device", Some(json!(settings.device))),
        ("server", settings.server.as_ref().map(|server| json!(server.written()))),
        ("shows", shows),
        ("rotation", settings.rotation.map(|rotation| json!(rotation.degrees()))),
        ("language", Some(json!(settings.language.tag()))),
        ("diagonal", diagonal),
        ("sound", Some(json!(settings.sound))),
        ("token", settings.token.as_ref().map(|token| json!(token.secret()))),
    ];
    let lines = fields.into_iter().filter_map(|(name, value)| Some(format!("  \"{name}\": {}", value?)));
    format!("{{\n{}\n}}\n", lines.collect::<Vec<_>>().join(",\n"))
}

/// What is left to be read.
struct Fields(Map<String, Value>);

impl Fields {
    /// Takes a field out, where it is there.
    fn take<T>(
        &mut self,
        name: &'static str,
        allowed: &str,
        read: impl Fn(&Value) -> Option<T>,
    ) -> Result<Option<T>, Broken> {
        let Some(value) = self.0.remove(name) else { return Ok(None) };
        let wrong = || Broken::Value { name, found: value.to_string(), allowed: allowed.to_owned() };
        read(&value).map(Some).ok_or_else(wrong)
    }

    /// The same of what nobody is to read: not even a broken one is told.
    fn secret<T>(
        &mut self,
        name: &'static str,
        allowed: &str,
        read: impl Fn(&Value) -> Option<T>,
    ) -> Result<Option<T>, Broken> {
        let silent = |broken| match broken {
            Broken::Value { name, found: _, allowed } => {
                Broken::Value { name, found: "something else".to_owned(), allowed }
            }
            other => other,
        };
        self.take(name, allowed, read).map_err(silent)
    }
}

fn device(value: &Value) -> Option<DeviceId> {
    serde_json::from_value(value.clone()).ok()
}

fn token(value: &Value) -> Option<Token> {
    value.as_str()?.parse().ok()
}

fn server(value: &Value) -> Option<Server> {
    value.as_str()?.parse().ok()
}

fn shows(value: &Value) -> Option<Shows> {
    if value == "board" {
        return Some(Shows::Board);
    }
    let keys: Vec<Key> = serde_json::from_value(value.clone()).ok()?;
    StationList::new(&keys).map(Shows::Stations)
}

fn rotation(value: &Value) -> Option<Rotation> {
    value.as_u64()?.to_string().parse().ok()
}

fn language(value: &Value) -> Option<Language> {
    Language::ALL.into_iter().find(|language| value == language.tag())
}

fn inches(value: &Value) -> Option<Inches> {
    Inches::of(value.as_f64()?)
}
