//! Old shapes of events, lifted to today's.
//!
//! When a kind gets a new shape its version goes up in [`version`], and an upcaster here lifts the old JSON
//! before it is read. A kind never changes its meaning. What was only added has a default beside the event.

use serde_json::{Map, Value, json};

/// The version in which a kind is written today; all below it can be read.
pub(super) fn version(kind: &str) -> u16 {
    match kind {
        "floor_set" | "clock_mapped" => 2,
        _ => 1,
    }
}

/// Lifts the body of a kind from an older version to today's.
pub(super) fn lift(kind: &str, version: u16, body: &mut Value) {
    match (kind, version) {
        ("floor_set", 1) => exercises_before_spot_rules(body),
        ("clock_mapped", 1) => {
            // Nobody wrote down what clocks at the floor said; the next start does.
            if let Some(body) = body.as_object_mut() {
                body.insert("offset_secs".to_owned(), 0.into());
            }
        }
        _ => {}
    }
}

/// Version 1 of `floor_set` said of an exercise its name in one language and whether it is spotted; only bars
/// over the face were, on the floors of that time.
fn exercises_before_spot_rules(floor: &mut Value) {
    let exercises = floor.get_mut("exercises").and_then(Value::as_object_mut);
    for exercise in objects(exercises.into_iter().flat_map(Map::values_mut)) {
        if let Some(name) = exercise.remove("name") {
            exercise.insert("name".to_owned(), json!({ "en": name, "de": name }));
        }
        if let Some(spotted) = exercise.remove("spotted") {
            let spot = if spotted == json!(true) { "over_face" } else { "none" };
            exercise.insert("spot".to_owned(), json!(spot));
        }
    }
}

fn objects<'v>(
    values: impl Iterator<Item = &'v mut Value>,
) -> impl Iterator<Item = &'v mut Map<String, Value>> {
    values.filter_map(Value::as_object_mut)
}
