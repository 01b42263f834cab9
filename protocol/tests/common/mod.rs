//! What several tests of the wire need.

use std::collections::{BTreeMap, BTreeSet};

use schemars::{JsonSchema, schema_for};
use serde_json::Value;

/// The variants of a wire enum with their fields, read off its schema.
pub(crate) fn variants<T: JsonSchema>(tag: &str) -> BTreeMap<String, BTreeSet<String>> {
    let schema = schema_for!(T).to_value();
    let mut found = BTreeMap::new();
    let one_of = schema.get("oneOf").and_then(Value::as_array).cloned().unwrap_or_default();
    for variant in one_of {
        if let Some(name) = variant.get("const").and_then(Value::as_str) {
            found.insert(name.to_owned(), BTreeSet::new());
        } else if let Some(properties) = variant.get("properties").and_then(Value::as_object) {
            let name = properties[tag]["const"].as_str().expect("a tagged variant").to_owned();
            let fields = properties.keys().filter(|k| *k != tag).cloned().collect();
            found.insert(name, fields);
        }
    }
    for name in schema.get("enum").and_then(Value::as_array).into_iter().flatten() {
        found.insert(name.as_str().expect("a name").to_owned(), BTreeSet::new());
    }
    assert!(!found.is_empty(), "no variants of {} found in {schema}", T::schema_name());
    found
}
