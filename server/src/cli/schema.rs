//! The answers' JSON Schema 2020-12, generated from the types and committed under `server/schema/`. A test compares
//! the committed files with the types.

use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, Schema};

use super::{estimate, load, next, plan, rehearse};

/// How the content of a schema file is made.
pub type Content = fn() -> String;

/// The schema files: name and content.
pub const FILES: [(&str, Content); 7] = [
    ("estimate.json", of::<estimate::Answer>),
    ("load.json", of::<load::Answer>),
    ("next.json", of::<next::Answer>),
    ("plan.json", of::<plan::make::Answer>),
    ("plan-check.json", of::<plan::check::Answer>),
    ("rehearse.json", of::<rehearse::Answer>),
    ("rehearse-floor.json", of::<rehearse::floor::Answer>),
];

fn of<T: JsonSchema>() -> String {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    let schema: Schema = settings.into_generator().into_root_schema_for::<T>();
    let mut text = serde_json::to_string_pretty(&schema).expect("a schema is plain JSON");
    text.push('\n');
    text
}
