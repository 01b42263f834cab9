//! The wire format as JSON Schema 2020-12, generated from the types, committed under `protocol/schema/` and
//! served by the server. A test compares the committed files with the types.

use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, Schema};

use crate::frame::{ToDisplay, ToServer};

/// How the content of a schema file is made.
pub type Content = fn() -> String;

/// The schema files: name and content.
pub const FILES: [(&str, Content); 2] =
    [("to-display.json", of::<ToDisplay>), ("to-server.json", of::<ToServer>)];

fn of<T: JsonSchema>() -> String {
    let schema: Schema = SchemaSettings::draft2020_12().into_generator().into_root_schema_for::<T>();
    let mut text = serde_json::to_string_pretty(&schema).expect("a schema is plain JSON");
    text.push('\n');
    text
}
