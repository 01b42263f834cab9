//! `turnabout plan INSTANCE`.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::{Value, json as value};

use crate::asked::{ask, json, refused, schema};

fn published(path: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/published/timetable").join(path);
    path.to_str().expect("text").to_owned()
}

fn instance(name: &str) -> String {
    published(&format!("instances/{name}.json"))
}

/// A folder of its own for what is written.
struct Folder(tempfile::TempDir);

impl Folder {
    fn new() -> Self {
        Self(tempfile::tempdir().expect("a folder"))
    }

    fn path(&self, name: &str) -> String {
        self.0.path().join(name).to_str().expect("text").to_owned()
    }

    fn read(&self, name: &str) -> String {
        fs::read_to_string(self.0.path().join(name)).expect("it was written")
    }

    /// The names of what is in it.
    fn names(&self) -> Vec<String> {
        let entries = fs::read_dir(self.0.path()).expect("a folder");
        let name = |entry: std::io::Result<fs::DirEntry>| entry.expect("an entry").file_name();
        let mut names: Vec<_> = entries.map(name).map(|name| name.into_string().expect("text")).collect();
        names.sort();
        names
    }
}

/// The same seed, threads and iterations lead to the same timetable; another seed to another one.
#[test]
fn a_timetable_is_the_same_for_the_same_seed_threads_and_iterations() {
    let folder = Folder::new();
    let medium = instance("medium-4");
    let made = |name: &str, seed: &str, threads: &str| {
        let out = folder.path(name);
        let asked =
            ["plan", &medium, "--iterations", "500", "--seed", seed, "--threads", threads, "--out", &out];
        let mut answer = json(0, &asked);
        assert_eq!(answer["out"], value!(out));
        answer["out"] = Value::Null;
        (answer, folder.read(name))
    };
    let first = made("first", "3", "2");
    assert_eq!(first, made("again", "3", "2"));
    assert_ne!(first.1, made("other", "4", "2").1);
    let evaluations = |answer: &Value| answer["evaluations"].as_u64().expect("a number");
    // Each thread looks at as many as it was told, up to the end of the batch.
    let one = evaluations(&made("one", "3", "1").0);
    assert!((500..564 + 10).contains(&one), "{one}");
    assert_eq!(evaluations(&first.0), 2 * one);
}

/// What is told of a timetable is what the check tells of the file.
#[test]
fn the_file_is_a_timetable_of_the_instance_and_costs_what_was_told() {
    for name in ["small-2", "small-8", "medium-9-snapshot"] {
        let (folder, instance) = (Folder::new(), instance(name));
        let out = folder.path("timetable.json");
        let asked = ["plan", &instance, "--iterations", "200", "--threads", "1", "--out", &out];
        let made = json(0, &asked);
        let checked = json(0, &["plan", "check", &instance, &out]);
        for field in ["name", "objective", "parts", "breaches", "breach_seconds"] {
            assert_eq!(made[field], checked[field], "{name} {field}");
        }
        assert_eq!(checked["valid"], true);
        assert_eq!(folder.names(), ["timetable.json"]);
    }
}

#[test]
fn the_text_has_the_parts_and_what_was_written() {
    let folder = Folder::new();
    let (out, svg, small) = (folder.path("t.json"), folder.path("t.svg"), instance("small-2"));
    let asked =
        ["plan", &small, "--iterations", "1", "--threads", "1", "--seed", "9", "--out", &out, "--svg", &svg];
    let said = ask(&asked);
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    let lines: Vec<&str> = said.out.lines().collect();
    assert_eq!(lines.len(), 14, "{}", said.out);
    assert_eq!(lines[0], "small-2: every rule is kept");
    assert!(lines[1].starts_with("objective "), "{}", said.out);
    assert!(lines[11].ends_with(" orders looked at, threads 1, seed 9"), "{}", said.out);
    assert_eq!(lines[12..], [format!("timetable: {out}"), format!("picture: {svg}")]);
    assert_eq!(folder.names(), ["t.json", "t.svg"]);
    // Without a place for it the timetable is told of all the same, and by the clock as well.
    let told = ask(&["plan", &small, "--budget", "1s"]);
    assert_eq!((told.code, told.err.as_str()), (0, ""));
    assert_eq!(told.out.lines().count(), 12, "{}", told.out);
}

/// One iteration finds nothing better than the best that is known.
#[test]
fn a_warm_timetable_is_never_made_worse() {
    let (folder, name) = (Folder::new(), "medium-9-snapshot");
    let (instance, warm) = (instance(name), published(&format!("solutions/{name}.json")));
    let out = folder.path("timetable.json");
    for iterations in ["1", "300"] {
        let asked = ["plan", &instance, "--iterations", iterations, "--warm", &warm, "--out", &out];
        let made = json(0, &asked);
        let best = json(0, &["plan", "check", &instance, &warm]);
        let objective = |answer: &Value| answer["objective"].as_i64().expect("a number");
        assert!(objective(&made) <= objective(&best), "{made:#}");
        assert_eq!(made["warm"]["objective"], best["objective"]);
        assert_eq!(made["warm"]["breach_seconds"], 0);
        assert_eq!(json(0, &["plan", "check", &instance, &out])["objective"], made["objective"]);
    }
    // A bad one is left behind, and may be overwritten by what it led to.
    let small = self::instance("small-4");
    let (cold, out) = (folder.path("cold.json"), folder.path("cold.json"));
    let first = json(0, &["plan", &small, "--iterations", "1", "--threads", "1", "--out", &cold]);
    let next =
        json(0, &["plan", &small, "--iterations", "3000", "--threads", "1", "--warm", &cold, "--out", &out]);
    assert!(next["objective"].as_i64() < first["objective"].as_i64(), "{first:#} {next:#}");
    assert_eq!(next["warm"]["objective"], first["objective"]);
    assert_eq!(next["warm"]["kept"], false);
}

/// Between the first and the second of three exercises, the third of which has its station taken for long: the second
/// begins as soon as it can, and the third cannot keep the limit.
#[test]
fn rules_that_are_broken_are_named_and_listed() {
    let folder = Folder::new();
    let text = fs::read_to_string(golden("instance.json")).expect("text");
    let mut instance: Value = serde_json::from_str(&text).expect("JSON");
    instance["groups"].as_array_mut().expect("a list").remove(0);
    let group = &mut instance["groups"][0];
    group["id"] = value!(0);
    group["legs"] = value!([{"eligible": [0]}, {"eligible": [2]}, {"eligible": [0]}]);
    group["order"] = value!([0]);
    let member = &mut group["members"][0];
    member["stations"] = value!([0, 2, 0]);
    member["under_way"] = value!({"legs_done": 1, "last_end": 120});
    instance["stations"][0]["busy"] = value!([[130, 1_155]]);
    let path = folder.path("instance.json");
    fs::write(&path, instance.to_string()).expect("it can be written");
    let out = folder.path("timetable.json");
    let asked = ["plan", &path, "--iterations", "1", "--threads", "1", "--out", &out];
    // Ready at 125, done at 155, there at 160 and let in at 1,155: 980 s beyond the 15 allowed.
    let breach = value!({"rule": 2, "group": 0, "member": 0, "round": 0, "leg": 2, "seconds": 980});
    let answer = json(1, &asked);
    assert_eq!((&answer["breaches"], &answer["breach_seconds"]), (&value!([breach]), &value!(980)));
    let said = ask(&asked);
    assert_eq!((said.code, said.err.as_str()), (1, ""));
    let told = "tiny <evening> & co: 1 breaches of 980 s\n  \
                rule 2 (changeover): group 0 member 0 round 0 leg 2: broken by 980 s\nobjective ";
    assert!(said.out.starts_with(told), "{}", said.out);
    // The file lists it, and so it is valid.
    assert_eq!(json(0, &["plan", "check", &path, &out])["breaches"], value!([breach]));
}

#[test]
fn every_wrong_question_is_refused_and_nothing_is_written() {
    let folder = Folder::new();
    let (small, out) = (instance("small-2"), folder.path("out.json"));
    let (nowhere, no_file) = (folder.path("not/there.json"), folder.path(""));
    let other = published("solutions/medium-9-snapshot.json");
    let with = |more: &[&str]| {
        let mut all = vec!["plan".to_owned(), small.clone()];
        all.extend(more.iter().map(|one| (*one).to_owned()));
        all
    };
    let written = |more: &[&str]| [with(more), vec!["--out".to_owned(), out.clone()]].concat();
    let whole = "allowed a whole number, 1 to ";
    for (arguments, words) in [
        (
            written(&["--budget", "1"]),
            ["budget: found \"1\"", "allowed whole seconds or minutes such as 90s"],
        ),
        (written(&["--budget", "0s"]), ["budget: found \"0s\"", "1 s to 3600 s"]),
        (written(&["--budget", "61min"]), ["budget: found \"61min\"", "1 s to 3600 s"]),
        (written(&["--budget", "-1s"]), ["budget: found \"-1s\"", "1 s to 3600 s"]),
        (written(&["--iterations", "0"]), ["iterations: found \"0\"", whole]),
        (written(&["--iterations", "1e3"]), ["iterations: found \"1e3\"", whole]),
        (written(&["--iterations", "-5"]), ["iterations: found \"-5\"", whole]),
        (written(&["--iterations", "1", "--budget", "1s"]), ["budget and iterations", "at most one of them"]),
        (written(&["--threads", "0"]), ["threads: found \"0\"", "1 to 256"]),
        (written(&["--threads", "257"]), ["threads: found \"257\"", "1 to 256"]),
        (written(&["--seed", "x"]), ["seed: found \"x\"", "0 to 18446744073709551615"]),
        (written(&["--warm", &nowhere]), [nowhere.as_str(), "cannot be read"]),
        (written(&["--warm", &small]), [small.as_str(), "instance"]),
        (written(&["--warm", &other]), [other.as_str(), "instance: "]),
        (written(&["--svg", &out]), ["svg and out", "found the same file"]),
        (written(&["--svg", &nowhere]), [nowhere.as_str(), "cannot be written"]),
        (with(&["--out", &nowhere]), [nowhere.as_str(), "cannot be written"]),
        (with(&["--out", &no_file]), [no_file.as_str(), "found something that is no file"]),
        (with(&["--out", "/dev/null"]), ["/dev/null: cannot be written", "found something that is no file"]),
        (with(&["--out", &small]), ["out and INSTANCE", "found the same file"]),
        (with(&["--svg", &small]), ["svg and INSTANCE", "found the same file"]),
        (vec!["plan".to_owned()], ["INSTANCE and from", "exactly one of them"]),
        (vec!["plan".to_owned(), nowhere.clone()], [nowhere.as_str(), "cannot be read"]),
        (vec!["plan".to_owned(), other.clone()], [other.as_str(), "field format is missing"]),
    ] {
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        refused(&arguments, &words);
        assert!(folder.names().is_empty(), "{arguments:?}");
    }
}

/// What was there stays until the new file is whole, and a link goes on leading where it led.
#[test]
fn what_is_there_is_overwritten_whole() {
    let folder = Folder::new();
    let (real, link) = (folder.path("real.json"), folder.path("link.json"));
    fs::write(&real, "before").expect("it can be written");
    std::os::unix::fs::symlink(&real, &link).expect("a link");
    let small = instance("small-2");
    let asked = ["plan", &small, "--iterations", "1", "--out", &link];
    refused(&[&asked[..], &["--threads", "none"]].concat(), &["threads"]);
    assert_eq!(folder.read("real.json"), "before");
    json(0, &asked);
    assert!(folder.read("real.json").starts_with("{\"instance\":\"small-2\""));
    assert!(fs::symlink_metadata(&link).expect("it is there").is_symlink());
    assert_eq!(folder.names(), ["link.json", "real.json"]);
}

/// A schema that takes anything would find nothing.
#[test]
fn the_schema_refuses_what_is_no_answer() {
    let name = "medium-9-snapshot";
    let (instance, warm) = (instance(name), published(&format!("solutions/{name}.json")));
    let answer = json(0, &["plan", &instance, "--iterations", "1", "--warm", &warm]);
    let schema = schema("plan");
    let validator = jsonschema::draft202012::new(&schema).expect("a schema");
    for place in ["/name", "/seed", "/parts/told", "/evaluations", "/warm/kept", "/breaches", "/out"] {
        let mut without = answer.clone();
        let (above, field) = place.rsplit_once('/').expect("a pointer");
        without.pointer_mut(above).and_then(Value::as_object_mut).expect("an object").remove(field);
        assert!(!validator.is_valid(&without), "without {place}");
    }
    let mut more = answer;
    more["more"] = value!(1);
    assert!(!validator.is_valid(&more));
}

/// What nobody has to plan is no mistake.
#[test]
fn an_evening_without_groups_has_an_empty_timetable() {
    let folder = Folder::new();
    let text = fs::read_to_string(golden("instance.json")).expect("text");
    let mut instance: Value = serde_json::from_str(&text).expect("JSON");
    instance["groups"] = value!([]);
    let (path, svg) = (folder.path("instance.json"), folder.path("plan.svg"));
    fs::write(&path, instance.to_string()).expect("it can be written");
    let answer = json(0, &["plan", &path, "--iterations", "100", "--svg", &svg]);
    assert_eq!((&answer["objective"], &answer["svg"]), (&value!(0), &value!(svg)));
    assert!(folder.read("plan.svg").ends_with("</svg>\n"));
}

fn golden(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden/plan").join(name)
}
