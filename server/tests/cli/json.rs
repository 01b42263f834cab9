//! The schemas of the answers.

use std::path::Path;

use serde_json::{Value, json};
use turnabout_server::cli::schema::FILES;

use crate::asked;

#[test]
fn the_committed_schemas_are_up_to_date() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("schema");
    for (name, content) in FILES {
        let committed = std::fs::read_to_string(folder.join(name)).unwrap_or_default();
        let how = "cargo run -p turnabout-server --example cli_schema";
        assert!(committed == content(), "server/schema/{name} is not what the types say: `{how}`");
    }
}

/// A schema that takes anything would find nothing.
#[test]
fn the_schemas_refuse_what_is_no_answer() {
    let asked = [
        ("estimate", asked::json(0, &["estimate", "--load", "100", "--reps", "5"])),
        ("next", asked::json(0, &["next", "--load", "60", "--target-reps", "8"])),
        ("load", asked::json(0, &["load", "--floor", "FLOOR", "--station", "bench-1", "--target", "60"])),
        (
            "load",
            asked::json(0, &["load", "--floor", "FLOOR", "--station", "bench-1", "--turns", "60, 40, 60"]),
        ),
        ("load", asked::json(1, &["load", "--floor", "FLOOR", "--station", "bench-1", "--turns", "61"])),
    ];
    for (command, answer) in asked {
        let schema = asked::schema(command);
        let validator = jsonschema::draft202012::new(&schema).expect("a schema");
        let fields: Vec<String> = answer.as_object().expect("an object").keys().cloned().collect();
        for field in fields {
            let mut without = answer.clone();
            without.as_object_mut().expect("an object").remove(&field);
            let may_be_absent = command == "next" && field == "source";
            assert_eq!(validator.is_valid(&without), may_be_absent, "{command} without {field}");
        }
        let mut more = answer.clone();
        more["more"] = Value::from(1);
        assert!(!validator.is_valid(&more), "{command} with something more");
        assert!(!validator.is_valid(&json!([])), "{command}");
    }
}
