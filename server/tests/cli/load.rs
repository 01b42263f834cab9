//! `turnabout load`.

use std::fs;

use serde_json::{Value, json as value};

use crate::asked::{ask, json, refused, values};

fn load<'a>(station: &'a str, target: &'a str, more: &[&'a str]) -> Vec<&'a str> {
    [&["load", "--floor", "FLOOR", "--station", station, "--target", target], more].concat()
}

fn card(arguments: &[&str]) -> Value {
    json(0, arguments)["card"].clone()
}

pub(crate) const HEAD: &str = r#"
[floor]
name = "Small"
zone = "Europe/Berlin"
[floor.emergency]
number = "112"
address = "Example Street 1"
defibrillator = "by the door"
first_aid = "by the door"
[[coach]]
key = "coach-1"
name = "Ayla"
[[exercise]]
key = "bench-press"
[[station]]
key = "mat"
name = "Mat"
at = [9.0, 9.0]
"#;

/// A floor whose bars are those of the published checks, with plates as they come in pairs.
fn floor_of(bars: &[(&str, &str, &str, &[&str])]) -> tempfile::NamedTempFile {
    let mut text = HEAD.to_owned();
    for (n, (key, bar, collar, plates)) in bars.iter().enumerate() {
        let plates: Vec<String> =
            plates.iter().map(|mass| format!("{{ mass = \"{mass}\", count = 6 }}")).collect();
        text += &format!(
            "[[station]]\nkey = \"{key}\"\nname = \"{key}\"\nat = [{n}.0, 1.0]\n[station.bar]\nbar = \"{bar}\"\n\
             collar = \"{collar}\"\nplates = [{}]\n",
            plates.join(", ")
        );
    }
    let file = tempfile::NamedTempFile::new().expect("a file");
    fs::write(file.path(), text).expect("it can be written");
    file
}

const KG: [&str; 7] = ["25 kg", "20 kg", "15 kg", "10 kg", "5 kg", "2.5 kg", "1.25 kg"];
const LB: [&str; 6] = ["45 lb", "35 lb", "25 lb", "10 lb", "5 lb", "2.5 lb"];

/// Plates of one side, computed: 100 kg on 20 kg is 25+15 with light clips and 25+10+2.5 with collars of 2.5 kg
/// (IPF Technical Rules Book, "Bars and discs": bar and collars are 25 kg), and so on; 135, 185, 225 and 315 lb on
/// a bar of 45 lb are common practice.
#[test]
fn the_plates_of_published_and_computed_loads() {
    let file = floor_of(&[
        ("light", "20 kg", "0 kg", &KG),
        ("heavy", "20 kg", "2.5 kg", &KG),
        ("short", "15 kg", "0 kg", &KG),
        ("pounds", "45 lb", "0 lb", &LB),
    ]);
    let path = file.path().to_str().expect("a path in UTF-8");
    for (station, target, side) in [
        ("light", "100", &[25.0, 15.0][..]),
        ("heavy", "100", &[25.0, 10.0, 2.5]),
        ("light", "60", &[20.0]),
        ("light", "102.5", &[25.0, 15.0, 1.25]),
        ("short", "77.5", &[25.0, 5.0, 1.25]),
        ("heavy", "142.5", &[25.0, 25.0, 5.0, 2.5, 1.25]),
        ("light", "27.5", &[2.5, 1.25]),
        ("light", "20", &[]),
        ("pounds", "135", &[45.0]),
        ("pounds", "185", &[45.0, 25.0]),
        ("pounds", "225", &[45.0, 45.0]),
        ("pounds", "315", &[45.0, 45.0, 45.0]),
    ] {
        let card = card(&["load", "--floor", path, "--station", station, "--target", target]);
        assert_eq!(values(&card["each_side"]), side, "{station} {target}");
        // Bar, collars and both sides are the total, to the nanogram.
        let ng = |mass: &Value| mass["ng"].as_i64().expect("nanograms");
        let sides: i64 = card["each_side"].as_array().expect("a list").iter().map(ng).sum();
        assert_eq!(ng(&card["total"]), ng(&card["bar"]) + 2 * ng(&card["collar"]) + 2 * sides);
    }
    let no_plates = refuse_at(path, "mat");
    assert!(
        no_plates.contains("mat has nothing to load, allowed light, heavy, short, pounds"),
        "{no_plates}"
    );
}

fn refuse_at(path: &str, station: &str) -> String {
    let said = ask(&["load", "--floor", path, "--station", station, "--target", "20"]);
    assert_eq!((said.code, said.out.as_str()), (2, ""));
    said.err
}

/// One pound is 0.45359237 kg exactly: 225 lb are 102.05828 kg, and 100 kg are 220.4623 lb. The number on the plate
/// is never converted.
#[test]
fn plates_read_as_stamped_and_the_other_unit_is_about() {
    let pounds = card(&load("incline-1", "85", &[]));
    assert_eq!(values(&pounds["each_side"]), [25.0]);
    assert_eq!(pounds["each_side"][0]["unit"], "lb");
    assert_eq!(pounds["about"]["value"], 38.56);
    assert_eq!(
        card(&load("bench-1", "100", &[]))["about"],
        value!({ "value": 220.46, "unit": "lb", "ng": 100_000_000_000_000_i64 })
    );
    let text = ask(&load("bench-1", "100", &[])).out;
    assert!(text.contains("100 kg (about 220.46 lb)"), "{text}");
    assert!(text.contains("stamped in kg, from the inside out"), "{text}");
    // A bar of 45 lb is no bar of 20 kg: asked in pounds, a bar in kilograms has only what is nearest.
    let answer = json(1, &load("bench-1", "45", &["--unit", "lb"]));
    assert_eq!(answer["target"], value!({ "value": 45.0, "unit": "lb", "ng": 45_i64 * 453_592_370_000 }));
    assert_eq!([&answer["below"]["value"], &answer["above"]["value"]], [&value!(20.0), &value!(22.5)]);
    let text = ask(&load("bench-1", "45", &["--unit", "lb"])).out;
    assert!(text.contains("45 lb (about 20.41 kg) cannot be set"), "{text}");
}

/// Seconds are common practice, no source.
#[test]
fn what_to_change_from_what_is_on_now() {
    let change = card(&load("bench-1", "82.5", &["--on", "20,5"]));
    assert_eq!(values(&change["each_side"]), [20.0, 10.0, 1.25]);
    assert_eq!([values(&change["strip"]), values(&change["add"])], [vec![5.0], vec![10.0, 1.25]]);
    assert_eq!(change["plates_handled"], 6);
    let done: Vec<&str> =
        change["steps"].as_array().expect("a list").iter().map(|step| step["do"].as_str().unwrap()).collect();
    let pairs = ["collar_off", "strip", "add", "add", "collar_on"];
    assert_eq!(done, pairs.iter().flat_map(|what| [*what, *what]).collect::<Vec<_>>());
    let ends = |at: usize| change["steps"][at]["end"].as_str();
    assert!((0..10).step_by(2).all(|at| ends(at) != ends(at + 1)), "both sides in turn");
    let [alone, together] = ["seconds_alone", "seconds_together"].map(|who| change[who].as_i64().unwrap());
    assert!(0 < together && together < alone);
    // Nothing to do, the empty bar, and nobody knows.
    let same = card(&load("bench-1", "70", &["--on", "20,5"]));
    assert_eq!([&same["steps"], &same["seconds_alone"]], [&value!([]), &value!(0)]);
    let empty = card(&load("bench-1", "60", &["--on", ""]));
    assert_eq!([values(&empty["strip"]), values(&empty["add"])], [vec![], vec![20.0]]);
    let unknown = card(&load("bench-1", "60", &[]));
    assert_eq!(
        (unknown.get("on_now"), unknown["steps"][0]["do"].as_str()),
        (None, Some("strip_what_is_there"))
    );
    let text = ask(&load("bench-1", "82.5", &["--on", "20,5"])).out;
    assert!(text.contains("Load and strip both sides in turn"), "{text}");
}

#[test]
fn what_cannot_be_built_says_what_is_nearest_and_is_no_success() {
    // 61 kg on a bar of 20 kg leaves half a kilogram on each side.
    for (station, target, why, below, above) in [
        ("bench-1", "61", "no_plates_make_it", value!(60.0), value!(62.5)),
        ("bench-1", "19", "below_the_bar", Value::Null, value!(20.0)),
        ("rack-1", "24", "below_the_bar", Value::Null, value!(25.0)),
        ("row-1", "42.5", "no_such_label", value!(40.0), value!(45.0)),
        ("row-1", "1", "no_such_label", Value::Null, value!(5.0)),
    ] {
        let answer = json(1, &load(station, target, &[]));
        assert_eq!(
            (&answer["outcome"], &answer["why"]),
            (&value!("not_built"), &value!(why)),
            "{station} {target}"
        );
        assert_eq!(
            [&answer["below"]["value"], &answer["above"]["value"]],
            [&below, &above],
            "{station} {target}"
        );
    }
    let said = ask(&load("bench-1", "61", &[]));
    assert_eq!((said.code, said.err.as_str()), (1, ""));
    assert!(said.out.contains("Nearest: 60 kg below, 62.5 kg above."), "{}", said.out);
    assert!(ask(&load("bench-1", "12", &[])).out.contains("a lighter bar or dumbbells"));
}

/// Discs of 10 kg and more are of full diameter (IWF Technical and Competition Rules and Regulations, section 3.3).
#[test]
fn a_pull_from_the_floor_needs_full_plates() {
    assert_eq!(values(&card(&load("bench-1", "30", &[]))["each_side"]), [5.0]);
    let answer = json(1, &load("bench-1", "30", &["--from-the-floor"]));
    assert_eq!([&answer["why"], &answer["above"]["value"]], [&value!("needs_full_plates"), &value!(40.0)]);
    assert_eq!(values(&card(&load("bench-1", "60", &["--from-the-floor"]))["each_side"]), [20.0]);
    refused(&load("row-1", "40", &["--from-the-floor"]), &["from-the-floor: only with a station with a bar"]);
}

#[test]
fn a_stack_has_a_pin() {
    let told = json(0, &load("row-1", "45", &["--on", "30"]));
    assert_eq!(told["outcome"], "stack");
    assert_eq!([&told["card"]["pin"], &told["card"]["pin_now"]], [&value!(9), &value!(6)]);
    assert_eq!(card(&load("row-1", "5", &[]))["pin"], 1);
    let text = ask(&load("row-1", "45", &["--on", "30"])).out;
    assert!(text.contains("pin        9, now at 6"), "{text}");
    refused(&load("row-1", "45", &["--on", "31"]), &["on: found \"31\"", "25 kg, 30 kg"]);
}

#[test]
fn bad_input_is_refused_with_its_field_and_range() {
    for target in ["0", "-82.5", "nan", "1e2", "", "177.51", "178", "99999999999999999999"] {
        refused(&load("bench-1", target, &[]), &["target: found", "allowed 20 kg to 177.5 kg"]);
    }
    refused(
        &load("bench-1", "500", &["--unit", "lb"]),
        &["target: found \"500 lb\"", "allowed 20 kg to 177.5 kg"],
    );
    refused(&load("row-1", "105", &[]), &["target: found \"105 kg\"", "allowed 5 kg to 100 kg"]);
    refused(
        &load("benhc-1", "60", &[]),
        &["station: found \"benhc-1\"", "did you mean \"bench-1\"?", "row-1"],
    );
    refused(&load("nowhere", "60", &[]), &["station: found \"nowhere\"", "allowed bench-1"]);
    refused(&load("bench-1", "60", &["--on", "7"]), &["on: found \"7\"", "20 kg, 15 kg, 10 kg"]);
    refused(&load("bench-1", "60", &["--on", "20,"]), &["on: found \"\""]);
    refused(&load("bench-1", "60", &["--on", "-20"]), &["on: found \"-20\""]);
    refused(&load("bench-1", "60", &["--on", "20,20,20"]), &["on: found 20 kg", "the 2 that there are"]);
    // A floor file that cannot be read is told like that of any other command.
    let said = ask(&["load", "--floor", "no/such/floor.toml", "--station", "bench-1", "--target", "60"]);
    assert_eq!((said.code, said.out.as_str()), (1, ""));
    assert!(said.err.contains("no/such/floor.toml"), "{}", said.err);
}

#[test]
fn a_station_with_the_plates_of_a_tree_is_loaded_from_all_of_them() {
    let text = format!(
        "{HEAD}[[tree]]\nkey = \"tree-1\"\nname = \"Tree\"\nplates = [{{ mass = \"20 kg\", count = 4 }}]\n\
         [[station]]\nkey = \"rack\"\nname = \"Rack\"\nat = [1.0, 1.0]\n[station.bar]\nbar = \"20 kg\"\n\
         collar = \"0 kg\"\ntree = \"tree-1\"\n"
    );
    let file = tempfile::NamedTempFile::new().expect("a file");
    fs::write(file.path(), text).expect("it can be written");
    let floor = file.path().to_str().expect("a path of text");
    let asked = ["load", "--floor", floor, "--station", "rack", "--target", "100"];
    assert_eq!(values(&card(&asked)["each_side"]), [20.0, 20.0]);
}

#[test]
fn a_belt_is_hung_with_single_plates_or_none() {
    let text = format!(
        "{HEAD}[[station]]\nkey = \"dips\"\nname = \"Dips\"\nat = [1.0, 1.0]\n[station.belt]\n\
         plates = [{{ mass = \"20 kg\", count = 1 }}, {{ mass = \"5 kg\", count = 1 }}]\n\
         [[station]]\nkey = \"bench\"\nname = \"Bench\"\nat = [2.0, 1.0]\n[station.bar]\nbar = \"20 kg\"\n\
         collar = \"0 kg\"\n"
    );
    let file = tempfile::NamedTempFile::new().expect("a file");
    fs::write(file.path(), text).expect("it can be written");
    let floor = file.path().to_str().expect("a path of text");
    let asked = |target| ["load", "--floor", floor, "--station", "dips", "--target", target];
    assert_eq!(values(&card(&asked("25"))["plates"]), [20.0, 5.0]);
    assert_eq!(values(&card(&asked("0"))["plates"]), [0.0; 0]);
    assert!(ask(&asked("0")).out.contains("body mass alone"));
    let not = json(1, &asked("10"));
    assert_eq!(
        (&not["why"], &not["below"]["value"], &not["above"]["value"]),
        (&value!("no_plates_make_it"), &value!(5.0), &value!(20.0))
    );
    refused(&asked("26"), &["target", "allowed 0 kg to 25 kg"]);
}
