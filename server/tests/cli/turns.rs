//! `turnabout load --turns`. Seconds are common practice, no source.

use std::fs;

use serde_json::{Value, json as value};

use crate::asked::{ask, json, refused, values};
use crate::load::HEAD;

fn turns<'a>(station: &'a str, turns: &'a str, more: &[&'a str]) -> Vec<&'a str> {
    [&["load", "--floor", "FLOOR", "--station", station, "--turns", turns], more].concat()
}

/// The places of the turns in the given order.
fn places(row: &Value) -> Vec<u64> {
    row["turns"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|turn| turn["turn"].as_u64().expect("a number"))
        .collect()
}

fn handling(row: &Value) -> Vec<i64> {
    let of = |field: &str| row[field].as_i64().expect("a number");
    ["plates_handled", "seconds_alone", "seconds_together"].map(of).to_vec()
}

/// 60 kg are 20 on each side, 42.5 kg are 10 + 1.25. From one to the other three plates on each side: six alone are
/// 18 s, collars off and on 8 s, and five ways along the bar 15 s, which is 41 s; at both sides at once 13 s.
#[test]
fn turns_without_names_may_go_anywhere() {
    let answer = json(0, &turns("bench-1", "60 kg, 42.5 kg, 60 kg, 42.5 kg", &["--on", "20"]));
    let given = &answer["given"];
    assert_eq!((places(given), handling(&given["altogether"])), (vec![1, 2, 3, 4], vec![18, 123, 39]));
    let cards: Vec<&Value> = given["turns"].as_array().unwrap().iter().map(|turn| &turn["card"]).collect();
    assert_eq!(values(&cards[0]["strip"]), [0.0; 0]);
    assert_eq!([values(&cards[1]["strip"]), values(&cards[1]["add"])], [vec![20.0], vec![10.0, 1.25]]);
    assert_eq!(handling(cards[1]), [6, 41, 13]);
    assert_eq!([values(&cards[2]["strip"]), values(&cards[2]["add"])], [vec![1.25, 10.0], vec![20.0]]);
    let least = &answer["least"];
    assert_eq!(least["outcome"], "other");
    assert_eq!(places(&least["order"]), [1, 3, 2, 4]);
    assert_eq!(handling(&least["order"]["altogether"]), [6, 41, 13]);
    assert_eq!(handling(&least["saves"]), [12, 82, 26]);
    assert_eq!((&given["all_ways"], &least["order"]["all_ways"]), (&value!(true), &value!(true)));
    assert_eq!(
        (answer["bar"]["bar"]["value"].as_f64(), answer["bar"]["collar"]["value"].as_f64()),
        (Some(20.0), Some(0.0))
    );
    assert_eq!(given["turns"][0].get("name"), None);
}

#[test]
fn turns_of_the_same_name_keep_their_order() {
    let names = |row: &Value| -> Vec<String> {
        let turn =
            |turn: &Value| format!("{} {}", turn["name"].as_str().unwrap(), turn["card"]["total"]["value"]);
        row["turns"].as_array().unwrap().iter().map(turn).collect()
    };
    // Ayla goes up and comes back; Bram goes in between, where the bar is at 62.5 kg anyway. A name is the same
    // in capitals.
    let asked = "Ayla 60 kg, ayla 62.5 kg, AYLA 60 kg, Bram 62.5 kg";
    let answer = json(0, &turns("bench-1", asked, &["--on", ""]));
    let least = &answer["least"]["order"];
    assert_eq!(names(least), ["Ayla 60.0", "ayla 62.5", "Bram 62.5", "AYLA 60.0"]);
    assert_eq!(answer["least"]["saves"]["plates_handled"], 2);
    // With names they stay; without, both of 60 kg go first.
    let kept = json(0, &turns("bench-1", "Ayla 60, Ayla 42.5, Ayla 60", &["--on", ""]));
    assert_eq!(kept["least"], value!({ "outcome": "as_given" }));
    let free = json(0, &turns("bench-1", "60, 42.5, 60", &["--on", ""]));
    assert_eq!(places(&free["least"]["order"]), [1, 3, 2]);
    let said = ask(&turns("bench-1", "Ayla 60, Ayla 42.5, Ayla 60", &["--on", ""])).out;
    assert!(said.contains("No allowed order has fewer plates to handle."), "{said}");
}

#[test]
fn the_text_says_each_change_the_totals_and_what_is_saved() {
    let said = ask(&turns("bench-1", "Edda 60, Farid 42.5 kg, Edda 60, Farid 42.5kg", &[])).out;
    for line in [
        "Bench 1 (bench-1): 4 turns on the bar of 20 kg",
        "turn  1  Edda 60 kg: strip whatever is there, add 20; then 20 on each side;",
        "turn  2  Farid 42.5 kg: strip 20, add 10, 1.25; then 10, 1.25 on each side; about 41 s alone, 13 s with two",
        "turn  3  Edda 60 kg: stays as it is",
        "together 20 plates to handle; ",
        "together 8 plates to handle; ",
        "That is 12 plates less to handle. One person takes about 82 s less, two about 26 s less.",
        "Only plates are counted.",
        "Load and strip both sides in turn",
    ] {
        assert!(said.contains(line), "{line} is not in\n{said}");
    }
}

#[test]
fn loads_that_cannot_be_set_are_all_named_with_what_is_nearest() {
    let asked = turns("bench-1", "Ayla 61 kg, 60 kg, 19 kg, Bram 100 lb", &[]);
    let answer = json(1, &asked);
    let found = answer["turns"].as_array().unwrap().iter().map(|turn| {
        value!([turn["turn"], turn["name"], turn["why"], turn["below"]["value"], turn["above"]["value"]])
    });
    assert_eq!(
        found.collect::<Vec<_>>(),
        [
            value!([1, "Ayla", "no_plates_make_it", 60.0, 62.5]),
            value!([3, null, "below_the_bar", null, 20.0]),
            value!([4, "Bram", "no_plates_make_it", 45.0, 47.5]),
        ]
    );
    assert_eq!(answer["turns"][2]["target"]["unit"], "lb");
    let said = ask(&asked);
    assert_eq!((said.code, said.err.as_str()), (1, ""));
    assert!(
        said.out.contains("turn 1: Ayla 61 kg: the plates that there are do not make it."),
        "{}",
        said.out
    );
    assert!(said.out.contains("turn 4: Bram 100 lb (about 45.36 kg): "), "{}", said.out);
    // Discs of 10 kg and more are of full diameter (IWF Technical and Competition Rules and Regulations, section
    // 3.3).
    let floor = json(1, &turns("bench-1", "60, 30", &["--from-the-floor"]));
    assert_eq!(
        (&floor["turns"][0]["turn"], &floor["turns"][0]["why"]),
        (&value!(2), &value!("needs_full_plates"))
    );
}

#[test]
fn one_bar_of_the_choice_stays_for_all_turns() {
    let text = format!(
        "{HEAD}[[station]]\nkey = \"bench\"\nname = \"Bench\"\nat = [1.0, 1.0]\n[station.bar]\n\
         collar = \"0 kg\"\nbars = [{{ mass = \"20 kg\" }}, {{ mass = \"25 kg\" }}, {{ mass = \"15 kg\" }}]\n\
         plates = [{{ mass = \"20 kg\", count = 2 }}, {{ mass = \"2.5 kg\", count = 2 }}]\n"
    );
    let file = tempfile::NamedTempFile::new().expect("a file");
    fs::write(file.path(), text).expect("it can be written");
    let floor = file.path().to_str().expect("a path of text");
    let asked = |turns| ["load", "--floor", floor, "--station", "bench", "--turns", turns, "--on", "20"];
    let bar = |turns| json(0, &asked(turns))["bar"]["bar"]["value"].as_f64();
    assert_eq!((bar("60, 65"), bar("55, 15")), (Some(20.0), Some(15.0)));
    let said = ask(&asked("55, 15")).out;
    assert!(said.contains("turn  1  55 kg: strip 20, take this bar, add 20; then 20 on each side"), "{said}");
    // What none of these makes is told of the usual one, and a heavier one does not stand in.
    assert_eq!(json(1, &asked("65, 30"))["turns"][0]["turn"], 2);
    let answer = json(1, &asked("60, 12.5"));
    assert_eq!((&answer["bar"]["bar"]["value"], &answer["turns"][0]["turn"]), (&value!(20.0), &value!(2)));
}

#[test]
fn too_many_orders_are_told_beside_the_given_one() {
    let asked = (0..11).map(|n| format!("{} kg", 50 + 5 * n)).collect::<Vec<_>>().join(", ");
    let answer = json(0, &turns("bench-1", &asked, &[]));
    assert_eq!(answer["least"], value!({ "outcome": "too_many_orders", "product": 2_048, "most": 1_300 }));
    assert_eq!(answer["given"]["turns"].as_array().map(Vec::len), Some(11));
    let said = ask(&turns("bench-1", &asked, &[])).out;
    assert!(said.contains("multiply to 2048, and at most 1300 are looked at"), "{said}");
}

#[test]
fn bad_turns_are_all_refused_with_their_place() {
    let bad =
        "60, 0, 42,5 kg, , Ayla, -60 kg, Bram2 60, 900, 60 kg 42.5 kg, -Edda 60, Farid 60 st, Greta - 60";
    let a_load = "allowed a load such as 42.5 kg, with a name without digits";
    refused(
        &turns("bench-1", bad, &[]),
        &[
            "turns: 11 cannot be read",
            "turn 2: found \"0\", allowed 20 kg to 177.5 kg",
            &format!("turn 3: found \"42,5 kg\", {a_load}"),
            &format!("turn 4: found \"\", {a_load}"),
            &format!("turn 5: found \"Ayla\", {a_load}"),
            &format!("turn 6: found \"-60 kg\", {a_load}"),
            &format!("turn 7: found \"Bram2 60\", {a_load}"),
            "turn 8: found \"900\", allowed 20 kg to 177.5 kg",
            &format!("turn 9: found \"60 kg 42.5 kg\", {a_load}"),
            &format!("turn 10: found \"-Edda 60\", {a_load}"),
            &format!("turn 11: found \"Farid 60 st\", {a_load}"),
            &format!("turn 12: found \"Greta - 60\", {a_load}"),
        ],
    );
    for nothing in ["", " ", ","] {
        refused(&turns("bench-1", nothing, &[]), &["turn 1: found \"\""]);
    }
    refused(&turns("bench-1", "60,", &[]), &["turns: 1 cannot be read", "turn 2: found \"\""]);
    refused(
        &turns("bench-1", &["60"; 25].join(", "), &[]),
        &["turns: found \"25 turns\", allowed 1 to 24 turns"],
    );
    refused(
        &turns("bench-1", "500", &["--unit", "lb"]),
        &["turn 1: found \"500\", allowed 20 kg to 177.5 kg"],
    );
    refused(&turns("bench-1", "60, 42.5", &["--on", "7"]), &["on: found \"7\""]);
}

#[test]
fn turns_are_asked_of_a_bar_and_instead_of_a_target() {
    refused(&turns("row-1", "40, 30", &[]), &["turns: only with a station with a bar"]);
    refused(&turns("bench-1", "60", &["--target", "60"]), &["target and turns: exactly one of them"]);
    refused(
        &["load", "--floor", "FLOOR", "--station", "bench-1"],
        &["target and turns: exactly one of them"],
    );
}
