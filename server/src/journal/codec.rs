//! Entries as rows and rows as entries.
//!
//! Every row is the JSON object `{"at", "by", "body"}`, the body being the event's own. Old shapes are lifted
//! by `upcast`; `server/tests/golden/rows.jsonl` keeps a row of every kind and version ever shipped.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;

use super::record::Row;
use super::upcast::{lift, version};
use crate::floor::event::{Entry, Event};

/// A row that is not an entry of this program's.
#[derive(Debug, thiserror::Error)]
pub enum CodecError {
    /// A kind or version this program does not know.
    #[error("journal row {sequence} is `{kind}` version {version}, which this program does not know")]
    Unknown {
        /// The row.
        sequence: u64,
        /// Its kind.
        kind: String,
        /// Its version.
        version: u16,
    },
    /// The JSON of a known kind does not have its shape.
    #[error("journal row {sequence} of kind `{kind}` cannot be read")]
    Shape {
        /// The row.
        sequence: u64,
        /// Its kind.
        kind: String,
        /// What is wrong with it.
        #[source]
        source: serde_json::Error,
    },
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Content {
    at: FloorMs,
    by: Actor,
    body: Value,
}

/// An entry as a row.
///
/// # Errors
/// An event that cannot be written as JSON: none of ours, but the library's answer is passed on.
pub fn encode(entry: &Entry) -> Result<Row, CodecError> {
    let kind = entry.event.kind();
    let shape = |source| CodecError::Shape { sequence: entry.sequence, kind: kind.to_owned(), source };
    let mut event = serde_json::to_value(&entry.event).map_err(shape)?;
    let body = event.get_mut(kind).map(Value::take).unwrap_or_default();
    let content = Content { at: entry.at, by: entry.by, body };
    let json = serde_json::to_string(&content).map_err(shape)?;
    Ok(Row {
        sequence: entry.sequence,
        recorded: entry.recorded,
        kind: Cow::Borrowed(kind),
        version: version(kind),
        json,
    })
}

/// A row as an entry.
///
/// # Errors
/// A row whose kind, version or shape this program does not know.
pub fn decode(row: &Row) -> Result<Entry, CodecError> {
    let kind = row.kind.as_ref();
    let sequence = row.sequence;
    if !(1..=version(kind)).contains(&row.version) || !Event::KINDS.contains(&kind) {
        return Err(CodecError::Unknown { sequence, kind: kind.to_owned(), version: row.version });
    }
    let shape = |source| CodecError::Shape { sequence, kind: kind.to_owned(), source };
    let mut content: Content = serde_json::from_str(&row.json).map_err(shape)?;
    lift(kind, row.version, &mut content.body);
    let event = json!({ kind: content.body });
    let event: Event = serde_json::from_value(event).map_err(shape)?;
    Ok(Entry { sequence, recorded: row.recorded, at: content.at, by: content.by, event })
}
