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
