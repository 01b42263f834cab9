//! Old shapes of events, lifted to today's.
//!
//! When a kind gets a new shape its version goes up in [`version`], and an upcaster here lifts the old JSON
//! before it is read. A kind never changes its meaning. What was only added has a default beside the event.

use serde_json::{Map, Value, json};

/// The version in which a kind is written today; all below it can be read.
pub(super) fn version(kind: &str) -> u16 {
    match kind {
        // Of the third version of `floor_set` and `stations_taken`, of the second of `station_swapped`, and of the last
        // three kinds, only something was added, which has a default. Since the third of `turn_done` and the second of
        // the two corrections repetitions may be null, and a set may end as stopped: what was written before reads as it
        // did.
        "floor_set" | "programme_set" | "stations_taken" | "turn_done" => 3,
        "station_swapped" | "clock_mapped" | "spotter_named" | "turn_went" | "set_corrected"
        | "reps_corrected" | "stations_freed" | "load_confirmed" => 2,
        _ => 1,
    }
}

/// Lifts the body of a kind from an older version to today's.
pub(super) fn lift(kind: &str, version: u16, body: &mut Value) {
    match (kind, version) {
        ("floor_set", 1) => exercises_before_spot_rules(body),
        ("programme_set", 1) => {
            sets_before_rounds(body);
            loads_before_rules(body);
        }
        ("programme_set", 2) => loads_before_rules(body),
        ("clock_mapped", 1) => {
            // Nobody wrote down what clocks at the floor said; the next start does.
            if let Some(body) = body.as_object_mut() {
                body.insert("offset_secs".to_owned(), 0.into());
            }
        }
        ("spotter_named", 1) => {
            if let Some(body) = body.as_object_mut()
                && let Some(coach) = body.remove("coach")
            {
                body.insert("spotter".to_owned(), a_coach(&coach));
            }
        }
        ("turn_went", 1) => {
            if let Some(spotter) = body.get_mut("spotter").filter(|spotter| !spotter.is_null()) {
                *spotter = a_coach(spotter);
            }
        }
        _ => {}
    }
}

/// Only coaches spotted.
fn a_coach(coach: &Value) -> Value {
    json!({ "is": "coach", "coach": coach })
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

/// In version 1 of `programme_set` everybody in a group had the same tempo and the same set in every round.
fn sets_before_rounds(programme: &mut Value) {
    let groups = programme.get_mut("groups").and_then(Value::as_object_mut);
    let groups = groups.into_iter().flat_map(Map::values_mut);
    let blocks = groups.flat_map(|group| list(group, "blocks"));
    for leg in objects(blocks.flat_map(|block| list(block, "legs"))) {
        let tempo = leg.remove("tempo").unwrap_or_default();
        let technique_reps = leg.remove("technique_reps").unwrap_or_default();
        leg.insert("in_place".to_owned(), json!(false));
        leg.insert("per_side".to_owned(), json!(false));
        let sets = leg.get_mut("sets").and_then(Value::as_object_mut);
        for set in sets.into_iter().flat_map(Map::values_mut) {
            let work = json!({ "work": "reps", "least": set["reps"], "most": set["reps"] });
            *set = json!({
                "tempo": tempo,
                "technique": { "reps": technique_reps, "load": set["technique_load"] },
                "rounds": [{ "work": work, "load": set["load"] }],
                "reserve": null,
            });
        }
    }
}

/// Until version 3 of `programme_set` a plan said every load outright.
fn loads_before_rules(programme: &mut Value) {
    let groups = programme.get_mut("groups").and_then(Value::as_object_mut);
    let groups = groups.into_iter().flat_map(Map::values_mut);
    let blocks = groups.flat_map(|group| list(group, "blocks"));
    let legs = objects(blocks.flat_map(|block| list(block, "legs")));
    let sets = legs.filter_map(|leg| leg.get_mut("sets").and_then(Value::as_object_mut));
    let rounds = sets.flat_map(Map::values_mut).flat_map(|set| list(set, "rounds"));
    for load in rounds.filter_map(|round| round.get_mut("load")).filter(|load| !load.is_null()) {
        *load = json!({ "rule": "fixed", "load": load });
    }
}

fn list<'v>(value: &'v mut Value, name: &str) -> impl Iterator<Item = &'v mut Value> {
    value.get_mut(name).and_then(Value::as_array_mut).into_iter().flatten()
}

fn objects<'v>(
    values: impl Iterator<Item = &'v mut Value>,
) -> impl Iterator<Item = &'v mut Map<String, Value>> {
    values.filter_map(Value::as_object_mut)
}
