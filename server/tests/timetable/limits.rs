//! What is beyond a stated limit is refused with it, and quickly.

use serde_json::{Value, json};
use turnabout_server::timetable::format::{limits, read_instance, read_timetable};

use crate::small::{self, put, turn};

fn first(document: &Value) -> String {
    read_instance(&document.to_string())
        .map(|_| String::new())
        .unwrap_or_else(|mistakes| mistakes.list[0].to_string())
}

#[test]
fn ten_thousand_groups_are_refused() {
    let mut document = small::instance();
    let group = document["groups"][1].clone();
    put(&mut document, "/groups", json!(vec![group; 10_000]).into());
    let mistakes = read_instance(&document.to_string()).unwrap_err();
    assert_eq!(mistakes.to_string(), "groups: at most 500 groups are read, not 10000");
}

#[test]
fn every_list_has_its_limit() {
    let zero = |n: usize| json!(vec![0; n]);
    let rounds = |n: usize| {
        (0..n).map(|n| json!({"round": n, "legs": [turn(1, json!(null), false)]})).collect::<Vec<_>>()
    };
    let member = json!({"id": 0, "release": 0, "last_round_end": null, "under_way": null, "rounds": []});
    let leg = json!({"eligible": [2]});
    let rows = [
        ("/stations", zero(501), "stations: at most 500 stations are read, not 501"),
        ("/coaches", zero(101), "coaches: at most 100 coaches are read, not 101"),
        ("/groups", zero(501), "groups: at most 500 groups are read, not 501"),
        ("/groups/1/members", json!(vec![member; 9]), "groups[1].members: at most 8 members are read, not 9"),
        ("/groups/1/legs", json!(vec![leg; 51]), "groups[1].legs: at most 50 legs are read, not 51"),
        (
            "/groups/1/legs/0/eligible",
            zero(501),
            "groups[1].legs[0].eligible: at most 500 stations are read, not 501",
        ),
        (
            "/groups/1/members/0/rounds",
            json!(rounds(101)),
            "groups[1].members[0].rounds: at most 100 rounds are read, not 101",
        ),
        (
            "/stations/0/busy",
            json!(vec![[1, 2]; 101]),
            "stations[0].busy: at most 100 windows are read, not 101",
        ),
        (
            "/coaches/0/busy",
            json!(vec![[1, 2]; 101]),
            "coaches[0].busy: at most 100 windows are read, not 101",
        ),
        ("/weights/door", json!(vec![[1, 2]; 21]), "weights.door: at most 20 steps are read, not 21"),
        ("/stations/0/load", json!(vec![1; 51]), "stations[0].load: at most 50 plates are read, not 51"),
    ];
    for (pointer, value, line) in rows {
        let mut document = small::instance();
        put(&mut document, pointer, value.into());
        assert_eq!(first(&document), line, "{pointer}");
    }
}

#[test]
fn numbers_have_their_limits() {
    let most = limits::NUMBER;
    let over = most + 1;
    for (pointer, at) in [
        ("/now", "now"),
        ("/changeover_wait_max", "changeover_wait_max"),
        ("/weights/told", "weights.told"),
        ("/stations/0/free_at", "stations[0].free_at"),
        ("/walk/1/0", "walk[1][0]"),
        ("/groups/1/rest_min", "groups[1].rest_min"),
        ("/groups/1/members/0/release", "groups[1].members[0].release"),
        ("/groups/1/members/0/rounds/0/legs/0/dur", "groups[1].members[0].rounds[0].legs[0].dur"),
        ("/groups/1/members/0/rounds/0/legs/0/load", "groups[1].members[0].rounds[0].legs[0].load"),
    ] {
        let mut document = small::instance();
        put(&mut document, pointer, json!(over).into());
        assert_eq!(first(&document), format!("{at}: an integer <= {most} is wanted, not {over}"));
    }
    let mut document = small::instance();
    put(&mut document, "/groups/1/members/0/rounds/0/legs/0/dur", json!(most).into());
    assert_eq!(first(&document), "", "the limit itself is allowed");
    put(&mut document, "/now", json!(u64::MAX).into());
    assert_eq!(first(&document), format!("now: an integer <= {most} is wanted, not {}", u64::MAX));
    put(&mut document, "/now", serde_json::from_str::<Value>("1e99").unwrap().into());
    assert_eq!(first(&document), "now: an integer >= 0 is wanted, not 1e+99");
}

/// As many groups as are read, each with these members and rounds of one short turn.
fn many(groups: usize, members: usize, rounds: usize, length: u32) -> Value {
    let mut document = small::instance();
    let rounds: Vec<Value> =
        (0..rounds).map(|n| json!({"round": n, "legs": [turn(length, json!(null), false)]})).collect();
    let member =
        |id| json!({"id": id, "release": 0, "last_round_end": null, "under_way": null, "rounds": rounds});
    let members: Vec<Value> = (0..members).map(member).collect();
    let group = |id| {
        let mut group = document["groups"][1].clone();
        group["id"] = json!(id);
        group["together"] = json!(false);
        group["members"] = json!(members);
        group
    };
    let groups: Vec<Value> = (0..groups).map(group).collect();
    document["groups"] = json!(groups);
    document
}

#[test]
fn turns_are_counted_over_all_groups() {
    assert_eq!(first(&many(100, 5, 10, 20)), "", "5,000 turns");
    assert_eq!(first(&many(101, 5, 10, 20)), "groups[100]: at most 5000 turns are read, not 5050");
}

#[test]
fn everything_in_a_row_ends_within_the_horizon() {
    let line = first(&many(1, 1, 100, limits::NUMBER));
    // 100 turns of a million seconds with 30 s of rest and 22 s of walks and changes each, from 1000 on.
    let end = 1_000 + 100 * (1_000_000 + 30 + 8 + 6 + 4 + 2 * 2 * 4);
    let words = format!(
        "all turns one after the other may end at {end} s with every walk and change; at most 100000000 s are planned"
    );
    assert_eq!(line, words);
    assert_eq!(first(&many(1, 1, 99, limits::NUMBER)), "");
}

#[test]
fn a_text_has_its_limit() {
    let text = " ".repeat(limits::BYTES + 1);
    let line = format!("at most {} bytes are read, not {}", limits::BYTES, limits::BYTES + 1);
    assert_eq!(read_instance(&text).unwrap_err().to_string(), line);
    assert_eq!(read_timetable(&text, &small::read([])).unwrap_err().to_string(), line);
}
