//! Every mistake in a timetable, with its place and its words.

use serde_json::{Value, json};
use turnabout_server::timetable::check::{Misfit, check};
use turnabout_server::timetable::format::read_timetable;
use turnabout_server::timetable::instance::At;

use crate::small::{self, Put, put};

#[track_caller]
fn each(rows: Vec<(&str, Put, &[&str])>) {
    let instance = small::read([]);
    for (pointer, value, lines) in rows {
        let mut document = small::timetable();
        put(&mut document, pointer, value.clone());
        let mistakes = read_timetable(&document.to_string(), &instance).map(|_| Vec::new());
        let mistakes = mistakes.unwrap_or_else(|mistakes| mistakes.list);
        let found: Vec<String> = mistakes.iter().map(ToString::to_string).collect();
        assert_eq!(found, lines, "{pointer} {value:?}");
    }
}

fn breach(rule: u8) -> Value {
    json!({"rule": rule, "group": 0, "member": 0, "round": 0, "leg": 1, "seconds": 5})
}

#[test]
fn the_small_timetable_has_none() {
    each(vec![("/x_by", json!("hand").into(), &[]), ("/breaches", Put::Gone, &[])]);
}

#[test]
fn of_the_format() {
    each(vec![
        ("/instance", Put::Gone, &["field instance is missing"]),
        (
            "/plan",
            json!(1).into(),
            &[
                "unknown field plan; there are instance, stations, turns, breaches and names that begin with x_",
            ],
        ),
        ("/stations", json!(1).into(), &["stations: a list is wanted, not 1"]),
        ("/stations/0", json!(1).into(), &["stations[0]: a list is wanted, not 1"]),
        ("/stations/0/1", json!(null).into(), &["stations[0][1]: a list is wanted, not null"]),
        ("/stations/0/1/0", json!(null).into(), &["stations[0][1][0]: an integer >= 0 is wanted, not null"]),
        ("/turns", json!({}).into(), &["turns: a list is wanted, not an object"]),
        ("/turns/1", json!(0).into(), &["turns[1]: an object is wanted, not 0"]),
        ("/turns/1/round", Put::Gone, &["turns[1]: field round is missing"]),
        ("/turns/1/group", json!(-1).into(), &["turns[1].group: an integer >= 0 is wanted, not -1"]),
        ("/turns/1/starts", json!(5).into(), &["turns[1].starts: a list is wanted, not 5"]),
        (
            "/turns/2/starts/0",
            json!(1.5).into(),
            &["turns[2].starts[0]: an integer >= 0 or null is wanted, not 1.5"],
        ),
        (
            "/turns/2/starts/0",
            json!(-1).into(),
            &["turns[2].starts[0]: an integer >= 0 or null is wanted, not -1"],
        ),
        (
            "/turns/2/starts/0",
            json!(100_000_001).into(),
            &["turns[2].starts[0]: an integer <= 100000000 is wanted, not 100000001"],
        ),
        ("/breaches", json!(null).into(), &["breaches: a list is wanted, not null"]),
        ("/breaches/0", json!([]).into(), &["breaches[0]: an object is wanted, not []"]),
        ("/breaches/0", breach(8).into(), &["breaches[0].rule: an integer 1..7 is wanted, not 8"]),
        ("/breaches/0", breach(0).into(), &["breaches[0].rule: an integer 1..7 is wanted, not 0"]),
        ("/breaches", json!([breach(3), breach(4), breach(3)]).into(), &["breaches[2]: listed twice"]),
    ]);
}

#[test]
fn of_another_instance() {
    let twice = json!({"group": 1, "member": 0, "round": 0, "starts": [400]});
    let (of_group, of_member) = (json!([[[0, 1], [0, 2]]]), json!([[0, 1]]));
    each(vec![
        ("/instance", json!("large").into(), &["instance: \"small\" is wanted"]),
        ("/stations", of_group.into(), &["stations: a list of 2 is wanted, not of 1"]),
        ("/stations/0", of_member.into(), &["stations[0]: a list of 2 is wanted, not of 1"]),
        ("/stations/0/0", json!([0]).into(), &["stations[0][0]: a list of 2 is wanted, not of 1"]),
        ("/stations/0/0/1", json!(2).into(), &["stations[0][0][1]: one of [1] is wanted, not 2"]),
        ("/stations/0/1/1", json!(0).into(), &["stations[0][1][1]: one of [1, 2] is wanted, not 0"]),
        (
            "/turns/3/member",
            json!(1).into(),
            &[
                "turns[3]: the instance has no group 1 member 1 round 0",
                "turns: group 1 member 0 round 0 is missing",
            ],
        ),
        ("/turns/4", twice.into(), &["turns[4]: group 1 member 0 round 0 is there twice"]),
        ("/turns/2", Put::Gone, &["turns: group 0 member 1 round 0 is missing"]),
        ("/turns/2/starts", json!([120]).into(), &["turns[2].starts: a list of 2 is wanted, not of 1"]),
        (
            "/turns/2/starts/1",
            json!(null).into(),
            &["turns[2].starts[1]: an integer >= 0 is wanted, not null"],
        ),
        (
            "/turns/0/starts/0",
            json!(100).into(),
            &["turns[0].starts[0]: null is wanted: the leg is done or skipped"],
        ),
        (
            "/turns/1/starts/1",
            json!(300).into(),
            &["turns[1].starts[1]: null is wanted: the leg is done or skipped"],
        ),
    ]);
}

#[test]
fn who_trains_together_has_the_same_stations() {
    let changes = [("/groups/0/together", json!(true).into()), ("/groups/0/members/0/stations", Put::Gone)];
    let instance = small::read(changes);
    let mistakes = read_timetable(&small::timetable().to_string(), &instance).unwrap_err();
    let line = "stations[0]: the members train together: the same stations for all are wanted";
    assert_eq!(mistakes.to_string(), line);
}

/// A timetable that was never a text is looked at in the same way.
#[test]
fn a_planned_timetable_is_taken_for_nothing() {
    let instance = small::read([]);
    let good = read_timetable(&small::timetable().to_string(), &instance).expect("no mistakes");
    let mut bad = good.clone();
    bad.turns[0].starts[1] = None;
    assert_eq!(check(&instance, &bad), Err(vec![Misfit::NoStart { entry: 0, leg: 1 }]));
    let mut bad = good.clone();
    bad.turns[1].round = 9;
    let no_such = Misfit::NoSuchRound { entry: 1, group: 0, member: 0, round: 9 };
    let missing = Misfit::NoRound { group: 0, member: 0, round: 1 };
    assert_eq!(check(&instance, &bad), Err(vec![no_such, missing]));
    let mut bad = good.clone();
    bad.breaches.push(turnabout_server::timetable::answer::Breach {
        rule: 9,
        group: 0,
        member: 0,
        round: 0,
        leg: 1,
        seconds: 1,
    });
    assert_eq!(check(&instance, &bad), Err(vec![Misfit::NoSuchRule { entry: 0, rule: 9 }]));
    // Whatever the starts are, nothing overflows.
    let mut far = good;
    far.turns[1].starts[0] = Some(At(u32::MAX));
    let verdict = check(&instance, &far).expect("a timetable of the instance");
    assert_eq!(verdict.parts.makespan, i64::from(u32::MAX) + 40);
}
