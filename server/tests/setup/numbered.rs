//! Stacks whose labels are mere numbers, and what is said of them in programmes: what is read, and every kind of mistake.

use turnabout_protocol::ids::{ClientId, GroupId};
use turnabout_protocol::load::Load;
use turnabout_server::floor::config::Programme;
use turnabout_server::loading::gear::{Gear, Numbered};
use turnabout_server::setup::{parse_floor, parse_programme};
use turnabout_server::training::block::Prescription;
use turnabout_server::training::rule::LoadRule;

use crate::small::{FLOOR, PROGRAMME, changed, told_of, told_of_floor};

const STEPS: &str = "first = \"5 kg\"\nstep = \"5 kg\"\nlast = \"50 kg\"\n";

/// The small floor, whose row has twelve numbers.
fn numbered(more: &str) -> String {
    changed(FLOOR, STEPS, &format!("numbers = 12\n{more}"))
}

/// The small programme with other lines for the row, and what the first client has.
fn row(load: &str) -> String {
    changed(PROGRAMME, "load = \"30 kg\"\n", &format!("{load}\n"))
}

fn gear(text: &str) -> Gear {
    let floor = parse_floor("floor.toml", text, None).unwrap_or_else(|mistakes| panic!("{mistakes}")).floor;
    floor.stations.values().find(|station| station.key.as_str() == "row-1").expect("a row").gear.clone()
}

fn read(text: &str) -> Programme {
    let floor = parse_floor("floor.toml", &numbered(""), None).expect("a floor").floor;
    let file = parse_programme("programme.toml", text, &floor);
    file.unwrap_or_else(|mistakes| panic!("{mistakes}\n{text}")).programme
}

fn rows(text: &str) -> Prescription {
    read(text).groups[&GroupId(1)].blocks[0].legs[1].sets[&ClientId(104)].clone()
}

fn told(floor: &str, programme: &str) -> Vec<String> {
    let lines = told_of(floor, programme);
    let place = |line: &String| {
        let line = line.strip_prefix("programme.toml:").expect("a place");
        line.split_once(' ').map_or("", |(_, rest)| rest).to_owned()
    };
    lines.iter().map(place).collect()
}

#[test]
fn a_stack_of_numbers_is_read() {
    assert_eq!(gear(&numbered("")), Gear::Numbered(Numbered { numbers: 12, assists: false }));
    assert_eq!(gear(&numbered("assists = true\n")), Gear::Numbered(Numbered { numbers: 12, assists: true }));
}

#[test]
fn what_weighs_something_has_no_place_beside_numbers() {
    let beside = "found this beside numbers, allowed numbers by themselves or with assists: nobody knows what such a label \
                  weighs (take it away, or write the masses of the labels in place of numbers)";
    for (name, said) in [
        ("first", "first = \"5 kg\"\n"),
        ("labels", "labels = [\"5 kg\"]\n"),
        ("ratio", "ratio = \"2:1\"\n"),
        ("add_ons", "add_ons = [{ mass = \"1 kg\", count = 1 }]\n"),
    ] {
        let at = said.find('=').unwrap() + 3;
        let told = told_of_floor(&numbered(said));
        assert_eq!(told, [format!("floor.toml:24:{at}: station[2].stack.{name}: {beside}")], "{name}");
    }
    let of = |numbers: &str| told_of_floor(&changed(FLOOR, STEPS, &format!("numbers = {numbers}\n")));
    for wrong in ["0", "201", "\"12\"", "[1, 2]"] {
        let told = of(wrong);
        assert_eq!(told.len(), 1, "{told:?}");
        assert!(told[0].contains("station[2].stack.numbers: found "), "{told:?}");
        assert!(told[0].contains("allowed a whole number, 1 to 200"), "{told:?}");
    }
}

#[test]
fn a_programme_says_pins() {
    let set = rows(&row("load = \"pin 7\"\ntechnique = { load = \"pin 2\", ramp = true }"));
    assert_eq!(set.rounds[0].load, Some(LoadRule::Fixed { load: Load::Pin { pin: 7 } }));
    assert_eq!((set.technique.load, set.technique.ramp), (Some(Load::Pin { pin: 2 }), true));
    let set = rows(&row("load = [\"pin 5\", \"pin 6\", \"pin 12\"]"));
    assert_eq!(set.loads().collect::<Vec<_>>(), [5, 6, 12].map(|pin| Load::Pin { pin }));
    for (said, rule) in [
        ("load = \"as-last-time\"", LoadRule::AsLastTime),
        ("load = \"find-it\"", LoadRule::FindIt),
        // Without a maximum, and for more repetitions than the table has.
        ("load = \"by-reserve\"\nreserve = 4", LoadRule::ForReserve { reserve: 4 }),
    ] {
        assert_eq!(rows(&row(said)).rounds[0].load, Some(rule), "{said}");
    }
    let own = "load = \"pin 7\"\nown = [ { client = 105, load = \"pin 3\", technique_load = \"pin 1\" } ]";
    let programme = read(&row(own));
    let edda = &programme.groups[&GroupId(1)].blocks[0].legs[1].sets[&ClientId(105)];
    assert_eq!(edda.loads().collect::<Vec<_>>(), [1, 3].map(|pin| Load::Pin { pin }));
    let kept = serde_json::to_string(&programme).unwrap();
    assert_eq!(serde_json::from_str::<Programme>(&kept).unwrap(), programme);
}

#[test]
fn mistakes_in_pins_are_told() {
    let only = "allowed a pin, \"pin 1\" to \"pin 12\", or \"as-last-time\", \"find-it\" or \"by-reserve\": the labels of every stack \
                for cable-row are mere numbers (nobody knows what a numbered label weighs, so nothing is worked out from \
                masses there)";
    let at = "group[1].block[1].exercise[2]";
    for (load, place, problem) in [
        ("load = \"30 kg\"", "load", format!("found 30 kg, {only}")),
        ("load = \"70 %\"", "load", format!("found 70 %, {only}")),
        (
            "load = \"pin 3\"\ntechnique = { load = \"10 kg\" }",
            "technique.load",
            format!("found 10 kg, {only}"),
        ),
        (
            "load = \"pin 13\"",
            "load",
            "found pin 13, allowed what a station for cable-row can be set to: pin 12 is the heaviest"
                .to_owned(),
        ),
        (
            "load = \"pin 3\"\ntechnique = { load = \"pin 4\" }",
            "technique.load",
            "found pin 4 for the technique set, allowed at most the load of client 104, pin 3".to_owned(),
        ),
    ] {
        let told = told(&numbered(""), &row(load));
        assert!(told.contains(&format!("{at}.{place}: {problem}")), "{load}: {told:#?}");
    }
    for wrong in ["pin", "pin 0", "pin 201", "pin7", "pin -1", "pin 7 kg", "7"] {
        let told = told(&numbered(""), &row(&format!("load = \"{wrong}\"")));
        assert_eq!(told.len(), 1, "{told:?}");
        assert!(
            told[0].contains("where labels are mere numbers a pin such as \"pin 7\", 1 to 200"),
            "{told:?}"
        );
    }
    let told = told(FLOOR, &row("load = \"pin 7\""));
    let problem = "found pin 7, allowed a mass such as \"40 kg\": no stack for cable-row has mere numbers for labels (pins are for \
                   stacks of the floor file with numbers, such as numbers = 20)";
    assert_eq!(told, [format!("{at}.load: {problem}")]);
}

#[test]
fn a_maximum_and_an_earlier_mass_say_nothing_there() {
    let with = |lines: &str| {
        changed(&row("load = \"pin 7\""), "name = \"Dara\"\n", &format!("name = \"Dara\"\n{lines}"))
    };
    let told_with = |lines: &str| told(&numbered(""), &with(lines));
    let max = "found a maximum, allowed none: the labels of every stack for cable-row are mere numbers";
    assert!(told_with("max = { cable-row = \"60 kg\" }\n")[0].contains(max));
    let set = |load: &str| {
        format!(
            "[[client.earlier]]\nstation = \"row-1\"\nexercise = \"cable-row\"\non = 2026-11-18\nload = \"{load}\"\n\
             goal = 10\nreps = 9\nending = \"short\"\n"
        )
    };
    let earlier = read(&with(&set("pin 6"))).clients[&ClientId(104)].earlier.clone();
    assert_eq!(earlier.iter().map(|row| row.set.load).collect::<Vec<_>>(), [Load::Pin { pin: 6 }]);
    let at = "client[1].earlier[1].load:";
    let mass = "found 40 kg, allowed a pin, \"pin 1\" to \"pin 12\": the labels of row-1 are mere numbers";
    assert_eq!(told_with(&set("40 kg")), [format!("{at} {mass}")]);
    let high = "found pin 13, allowed what row-1 can be set to: pin 12 is the heaviest";
    assert_eq!(told_with(&set("pin 13")), [format!("{at} {high}")]);
    let none = "found pin 6, allowed a mass such as \"40 kg\": the labels of row-1 are no mere numbers";
    let on_masses = changed(&with(&set("pin 6")), "load = \"pin 7\"", "load = \"30 kg\"");
    assert_eq!(told(FLOOR, &on_masses), [format!("{at} {none}")]);
}
