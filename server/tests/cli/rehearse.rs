//! `turnabout rehearse`.

use std::path::Path;

use crate::asked::{ask, json, refused};

fn snapshot() -> String {
    let path = "../tests/published/timetable/instances/medium-10-snapshot.json";
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path).to_str().expect("text").to_owned()
}

#[test]
fn four_ways_stand_side_by_side() {
    let snapshot = snapshot();
    let arguments = ["rehearse", &snapshot, "--runs", "2", "--iterations", "2000", "--at-events", "50"];
    let answer = json(0, &arguments);
    assert_eq!(answer["name"], "medium-10-snapshot");
    assert_eq!(answer["noise_percent"], 10);
    let ways = answer["ways"].as_array().expect("a list");
    let names: Vec<_> = ways.iter().map(|way| way["way"].as_str().expect("a word")).collect();
    assert_eq!(names, ["eye", "capped_eye", "planned", "all_knowing"]);
    for way in ways {
        let each: Vec<i64> = way["objectives"]
            .as_array()
            .expect("a list")
            .iter()
            .map(|one| one.as_i64().expect("whole"))
            .collect();
        assert_eq!(each.len(), 2);
        assert_eq!(way["objective"], each.iter().sum::<i64>() / 2);
        assert_eq!(way.get("promised").is_some(), way["way"] == "planned");
    }
    let said = ask(&arguments);
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    assert!(said.out.starts_with("medium-10-snapshot: 2 evenings, lengths vary by 10 %"), "{}", said.out);
    assert_eq!(said.out.lines().count(), 11);
    let cost = format!("{:>13}", ways[2]["objective"]);
    assert!(said.out.lines().any(|line| line.starts_with("  cost") && line.contains(&cost)), "{}", said.out);
}

#[test]
fn what_is_no_noise_is_refused() {
    let snapshot = snapshot();
    for noise in ["10", "51%", "-1%", "%"] {
        refused(&["rehearse", &snapshot, &format!("--noise={noise}")], &["0% to 50%"]);
    }
    refused(&["rehearse", &snapshot, "--runs", "0"], &["--runs"]);
    refused(&["rehearse", "nowhere.json"], &["nowhere.json: cannot be read: "]);
}

/// The demo's files.
fn files() -> [String; 2] {
    ["floor.toml", "programme.toml"].map(|name| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name);
        path.to_str().expect("text").to_owned()
    })
}

#[test]
fn evenings_of_a_floors_own_files_stand_side_by_side() {
    let [floor, programme] = files();
    let all = ["rehearse", &floor, &programme, "--runs", "2", "--iterations", "100", "--at-events", "10"];
    let answer = json(0, &all);
    assert_eq!(answer["name"], "Lantern Yard floor");
    assert_eq!((&answer["noise_percent"], &answer["runs"]), (&10.into(), &2.into()));
    let ways = answer["ways"].as_array().expect("a list");
    let names: Vec<_> = ways.iter().map(|way| way["way"].as_str().expect("a word")).collect();
    assert_eq!(names, ["eye", "capped_eye", "planned", "all_knowing"]);
    for way in ways {
        assert_eq!(way["complete"], 2, "{way:#}");
        let each = way["finishes"].as_array().expect("a list");
        let sum: i64 = each.iter().map(|one| one.as_i64().expect("whole")).sum();
        // Means and each of them are rounded up.
        assert!((way["finish"].as_i64().expect("whole") - sum / 2).abs() <= 1, "{way:#}");
        let by_plan = way["way"] == "planned" || way["way"] == "all_knowing";
        assert_eq!(way.get("told").is_some(), by_plan);
    }
    for told in ways[2..].iter().map(|way| &way["told"]) {
        assert!(told["rounds"]["told"].as_u64() > Some(0), "{told:#}");
        for kept in ["rounds", "between"] {
            assert_eq!(told[kept]["hurried"], 0, "nobody is hurried: {told:#}");
        }
    }
    assert_eq!(json(0, &all), answer, "the same again");
    let other = json(0, &[&all[..], &["--seed", "9"]].concat());
    assert_ne!(other["ways"], answer["ways"]);
}

/// `GOLDEN=write cargo test -p turnabout-server --test cli golden` writes the file anew.
#[test]
fn golden_text_of_an_evening() {
    let [floor, programme] = files();
    let said =
        ask(&["rehearse", &floor, &programme, "--runs", "1", "--iterations", "50", "--at-events", "5"]);
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden/rehearse.txt");
    if std::env::var_os("GOLDEN").is_some_and(|how| how == "write") {
        std::fs::write(&path, &said.out).expect("it can be written");
    }
    assert_eq!(said.out, std::fs::read_to_string(&path).expect("a golden file"));
}

#[test]
fn files_that_cannot_be_rehearsed_are_refused() {
    let [floor, programme] = files();
    refused(&["rehearse", &floor, &programme, "--noise=51%"], &["0% to 50%"]);
    refused(&["rehearse", &floor, &programme, &programme], &["unexpected value", "no more were expected"]);
    refused(&["rehearse", &floor, &programme, "--iterations", "0"], &["--iterations"]);
    refused(&["rehearse"], &["required"]);
    // Told as by every command that reads these files.
    let said = ask(&["rehearse", &floor, &floor]);
    assert_eq!((said.code, said.out.as_str()), (1, ""), "{said:?}");
    assert!(said.err.contains("floor.toml"), "{}", said.err);
    let said = ask(&["rehearse", &floor, "nowhere.toml"]);
    assert_eq!((said.code, said.out.as_str()), (1, ""), "{said:?}");
    assert!(said.err.contains("nowhere.toml"), "{}", said.err);
}
