//! `turnabout plan check`.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::{Value, json as value};

use crate::asked::{ask, json, refused, schema};

fn published(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/published/timetable").join(path)
}

const NAME: &str = "medium-9-snapshot.json";

/// An instance and a timetable in a folder of their own, the timetable with a change.
struct Files {
    folder: tempfile::TempDir,
}

impl Files {
    fn new(change: impl FnOnce(&mut Value)) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        fs::copy(published("instances").join(NAME), folder.path().join("instance.json")).expect("a copy");
        let text = fs::read_to_string(published("solutions").join(NAME)).expect("a published timetable");
        let mut timetable: Value = serde_json::from_str(&text).expect("JSON");
        change(&mut timetable);
        fs::write(folder.path().join("timetable.json"), timetable.to_string()).expect("it can be written");
        Self { folder }
    }

    fn path(&self, name: &str) -> String {
        self.folder.path().join(name).to_str().expect("text").to_owned()
    }

    fn arguments<T>(&self, use_them: impl FnOnce(&[&str]) -> T) -> T {
        use_them(&["plan", "check", &self.path("instance.json"), &self.path("timetable.json")])
    }
}

/// The figures as published with the timetable.
#[test]
fn a_valid_timetable_is_told_with_its_parts() {
    let best: Value =
        serde_json::from_str(&fs::read_to_string(published("best.json")).expect("text")).expect("JSON");
    let best = &best["medium-9-snapshot"];
    let files = Files::new(|_| {});
    let answer = files.arguments(|arguments| json(0, arguments));
    assert_eq!(answer["name"], "medium-9-snapshot");
    assert_eq!((&answer["valid"], &answer["faults"]), (&value!(true), &value!([])));
    assert_eq!((&answer["objective"], &answer["parts"]), (&best["objective"], &best["parts"]));
    let said = files.arguments(ask);
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    assert!(said.out.starts_with("medium-9-snapshot: valid, every rule is kept\nobjective "), "{}", said.out);
    assert_eq!(said.out.lines().count(), 11);
}

#[test]
fn what_is_broken_and_not_listed_is_no_success() {
    let early = |timetable: &mut Value| timetable["turns"][0]["starts"][1] = value!(1_611);
    let files = Files::new(early);
    let answer = files.arguments(|arguments| json(1, arguments));
    assert_eq!(answer["valid"], false);
    let found = answer["breaches"].as_array().expect("a list");
    let rule_2 = value!({"rule": 2, "group": 0, "member": 2, "round": 0, "leg": 1, "seconds": 4});
    assert!(found.contains(&rule_2), "{answer:#}");
    assert_eq!(answer["faults"].as_array().expect("a list").len(), found.len());
    let said = files.arguments(ask);
    assert_eq!((said.code, said.err.as_str()), (1, ""));
    assert!(said.out.starts_with("medium-9-snapshot: not valid\n"), "{}", said.out);
    assert!(said.out.contains("rule 2: group 0 member 2 round 0 leg 1: broken by 4 s\n"), "{}", said.out);
    // Listed, the same timetable is valid.
    let found = found.clone();
    let files = Files::new(|timetable| {
        early(timetable);
        timetable["breaches"] = value!(found);
    });
    let answer = files.arguments(|arguments| json(0, arguments));
    assert_eq!((answer["faults"].clone(), answer["breaches"].clone()), (value!([]), value!(found)));
    assert!(files.arguments(ask).out.contains("valid, with "));
}

#[test]
fn files_with_mistakes_are_refused_with_the_place_of_each() {
    let files = Files::new(|timetable| {
        timetable["turns"][3]["starts"][1] = value!(null);
        timetable["stations"][0][1][0] = value!(7);
    });
    let name = files.path("timetable.json");
    files.arguments(|arguments| {
        refused(
            arguments,
            &[
                &format!("{name}: stations[0][1][0]: one of [2] is wanted, not 7"),
                &format!("{name}: turns[3].starts[1]: an integer >= 0 is wanted, not null"),
            ],
        );
    });
    let files = Files::new(|_| {});
    fs::write(files.path("instance.json"), "{\"format\": 2}").expect("it can be written");
    let name = files.path("instance.json");
    files.arguments(|arguments| refused(arguments, &[&format!("{name}: field now is missing")]));
    fs::write(files.path("instance.json"), [b'{', 0xff]).expect("it can be written");
    files
        .arguments(|arguments| refused(arguments, &["found a byte that is no text (byte 2), allowed UTF-8"]));
    fs::remove_file(files.path("instance.json")).expect("it is there");
    files.arguments(|arguments| refused(arguments, &[&format!("{name}: cannot be read: ")]));
    refused(&["plan", "check", &name], &["<TIMETABLE>"]);
}

/// A schema that takes anything would find nothing.
#[test]
fn the_schema_refuses_what_is_no_answer() {
    let files = Files::new(|timetable| timetable["turns"][0]["starts"][1] = value!(1_611));
    let answer = files.arguments(|arguments| json(1, arguments));
    let schema = schema("plan-check");
    let validator = jsonschema::draft202012::new(&schema).expect("a schema");
    for place in ["/name", "/valid", "/parts/told", "/breaches/0/rule", "/breach_seconds", "/faults/0/fault"]
    {
        let mut without = answer.clone();
        let (above, field) = place.rsplit_once('/').expect("a pointer");
        without.pointer_mut(above).and_then(Value::as_object_mut).expect("an object").remove(field);
        assert!(!validator.is_valid(&without), "without {place}");
    }
    let mut more = answer;
    more["more"] = value!(1);
    assert!(!validator.is_valid(&more));
}
