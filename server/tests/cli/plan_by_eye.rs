//! `turnabout plan --by-eye N`.

use std::fs;
use std::path::Path;

use serde_json::{Value, json as value};

use crate::asked::{ask, json, refused};

fn published(path: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/published/timetable").join(path);
    path.to_str().expect("text").to_owned()
}

fn instance(name: &str) -> String {
    published(&format!("instances/{name}.json"))
}

/// No dice and no clock: one order, and the same file and picture again.
#[test]
fn by_eye_is_one_order_and_the_same_again() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name).to_str().expect("text").to_owned();
    let medium = instance("medium-1");
    let made = |name: &str, seed: &str| {
        let (out, svg) = (path(&format!("{name}.json")), path(&format!("{name}.svg")));
        let asked = [
            "plan",
            &medium,
            "--by-eye",
            "3",
            "--seed",
            seed,
            "--threads",
            "2",
            "--out",
            &out,
            "--svg",
            &svg,
        ];
        let answer = json(0, &asked);
        let files = [&out, &svg].map(|file| fs::read_to_string(file).expect("it was written"));
        (answer, files, out)
    };
    let (answer, files, out) = made("first", "1");
    let how = ["by_eye", "seed", "threads", "evaluations", "warm"].map(|field| answer[field].clone());
    assert_eq!(how, [value!(3), Value::Null, Value::Null, value!(1), Value::Null]);
    assert_eq!(files, made("again", "9").1);
    assert!(files[1].contains("medium-1, by eye, at most 3 clients at a pair of stations</text>"));
    // What is told of it is what the check tells of the file.
    let checked = json(0, &["plan", "check", &medium, &out]);
    for field in ["name", "objective", "parts", "breaches", "breach_seconds"] {
        assert_eq!(answer[field], checked[field], "{field}");
    }
    let said = ask(&["plan", &medium, "--by-eye", "3"]);
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    let told = "by eye, at most 3 clients at a pair of stations: nothing was searched\n";
    assert!(said.out.ends_with(told), "{}", said.out);
    assert!(!said.out.contains("orders looked at"), "{}", said.out);
}

/// More clients at a pair of stations make another evening, and even a short search finds a better one than either.
#[test]
fn the_number_of_clients_counts_and_a_search_is_better() {
    for name in ["medium-1", "medium-2", "medium-4"] {
        let medium = instance(name);
        let objective = |more: &[&str]| {
            let answer = json(0, &[&["plan", &medium], more].concat());
            answer["objective"].as_i64().expect("a number")
        };
        let by_eye = ["3", "100"].map(|cap| objective(&["--by-eye", cap]));
        assert_ne!(by_eye[0], by_eye[1], "{name}");
        let planned = objective(&["--iterations", "2000", "--threads", "1"]);
        // `tests/published/timetable/best.json` has nothing by eye that is nearer to its best than this.
        assert!(by_eye.iter().all(|eye| planned * 100 < eye * 90), "{name}: {planned} beside {by_eye:?}");
    }
}

#[test]
fn what_belongs_to_a_search_is_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("out.json").to_str().expect("text").to_owned();
    let snapshot = instance("medium-9-snapshot");
    let warm = published("solutions/medium-9-snapshot.json");
    let both = "at most one of them";
    let whole = "allowed a whole number, 1 to 100";
    for (more, words) in [
        (&["3", "--warm", &warm][..], ["by-eye and warm", both]),
        (&["3", "--budget", "1s"], ["by-eye and budget", both]),
        (&["3", "--iterations", "5"], ["by-eye and iterations", both]),
        (&["0"], ["by-eye: found \"0\"", whole]),
        (&["101"], ["by-eye: found \"101\"", whole]),
        (&["-1"], ["by-eye: found \"-1\"", whole]),
        (&["three"], ["by-eye: found \"three\"", whole]),
        (&["3", "--seed", "x"], ["seed: found \"x\"", "0 to 18446744073709551615"]),
        (&["3", "--threads", "0"], ["threads: found \"0\"", "1 to 256"]),
    ] {
        refused(&[&["plan", &snapshot, "--out", &out, "--by-eye"], more].concat(), &words);
        assert!(!Path::new(&out).exists(), "{more:?}");
    }
}
