//! A floor file takes exercises from the catalogue by their keys, changes them, and adds its own.

use std::collections::BTreeMap;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::ids::{ExerciseId, Key, StationId};
use turnabout_protocol::view::{Breathing, PhaseWords, StartsWith};
use turnabout_protocol::words::Words;
use turnabout_server::setup::{catalogue, parse_floor};
use turnabout_server::training::about::{About, Implement};
use turnabout_server::training::exercise::{Exercise, SpotRule};
use turnabout_server::training::movement::Movement;
use turnabout_server::training::muscle::{Muscle, Muscles};

use crate::small::{self, FLOOR, changed, told_of_floor};

/// The small floor with other exercises, the first table in line 35.
fn with(exercises: &str) -> String {
    format!("{}{exercises}", FLOOR.split("[[exercise]]").next().expect("a first part"))
}

/// Its mat has a peg.
fn read(exercises: &str) -> Vec<Exercise> {
    let peg = "at = [0, 0]\nsettings = [ { name = \"Peg\", values = [1, 2] } ]\n";
    let file = parse_floor("floor.toml", &changed(&with(exercises), "at = [0, 0]\n", peg), None);
    file.unwrap_or_else(|mistakes| panic!("{mistakes}")).floor.exercises.into_values().collect()
}

#[test]
fn a_key_of_the_catalogue_is_enough() {
    let read =
        read("[[exercise]]\nkey = \"bench-press\"\n[[exercise]]\nkey = \"crunch\"\nstations = [\"mat\"]\n");
    let whole = |key: &str, id, station| {
        let entry = catalogue().get(&key.parse().unwrap()).unwrap().clone();
        entry.on(ExerciseId(id), [StationId(station)].into())
    };
    assert_eq!(read, [whole("bench-press", 1, 1), whole("crunch", 2, 3)]);
    // What nobody lists is not on the floor: a stack alone does not make a leg press of a cable row.
    assert_eq!(read.len(), 2);
}

#[test]
fn a_field_of_the_file_goes_before_the_catalogue() {
    let text = "[[exercise]]\nkey = \"bench-press\"\nname = \"Bankdr\u{fc}cken 3\"\nsettings = []\n\
                cautions = [\"Ask first.\"]\n";
    let changed = read(text).remove(0);
    let entry = catalogue().get(&changed.key).unwrap();
    assert_eq!(changed.name, Words::same("Bankdr\u{fc}cken 3"));
    assert_eq!(changed.about.cautions, [Words::same("Ask first.")]);
    assert!(changed.about.settings.is_empty() && !entry.about.settings.is_empty());
    let rest = About {
        cautions: entry.about.cautions.clone(),
        settings: entry.about.settings.clone(),
        ..(*changed.about).clone()
    };
    assert_eq!(rest, *entry.about);
    assert_eq!((changed.spot, changed.movement), (entry.spot, entry.movement));
}

#[test]
fn other_gear_drops_what_was_held_unless_it_suits() {
    let held = |fields: &str| {
        let exercise = read(&format!("[[exercise]]\nkey = \"leg-press\"\n{fields}\n")).remove(0);
        (exercise.gear, exercise.about.implement)
    };
    assert_eq!(held(""), (GearKind::Stack, Some(Implement::Machine)));
    assert_eq!(held("gear = \"stack\""), (GearKind::Stack, Some(Implement::Machine)));
    assert_eq!(held("gear = \"bar\""), (GearKind::Bar, None), "a sledge with plates");
    assert_eq!(held("implement = \"barbell\""), (GearKind::Bar, Some(Implement::Barbell)));
}

#[test]
fn a_new_exercise_can_say_everything() {
    let exercise = read(NEW).remove(0);
    let words = |en: &str, de: &str| Words { en: en.to_owned(), de: de.to_owned() };
    assert_eq!(exercise.name, words("Sandbag hold", "Sandsack halten"));
    assert_eq!((exercise.gear, exercise.starts_with), (GearKind::Plain, StartsWith::Concentric));
    assert_eq!((exercise.spot, exercise.movement), (SpotRule::None, Movement::Other));
    assert_eq!(exercise.handle.as_ref().map(Key::as_str), Some("strap"));
    let about = About {
        implement: None,
        muscles: Muscles {
            prime_movers: [Muscle::ForearmFlexors].into(),
            stabilisers: [Muscle::ErectorSpinae, Muscle::Obliques].into(),
            ..Muscles::default()
        },
        phases: Some(PhaseWords { eccentric: Words::same("hold"), concentric: Words::same("hold") }),
        breathing: Breathing::Even,
        set_up: vec![Words::same("Stand tall."), words("Hold tight.", "Gut festhalten.")],
        cautions: Vec::new(),
        settings: ["peg".parse().unwrap()].into(),
        opposing: Some("crunch".parse().unwrap()),
    };
    assert_eq!(*exercise.about, about);
}

const NEW: &str = r#"[[exercise]]
key = "sandbag-hold"
name = { en = "Sandbag hold", de = "Sandsack halten" }
gear = "plain"
starts_with = "lifting"
spot = "none"
handle = "strap"
breathing = "even"
set_up = ["Stand tall.", { en = "Hold tight.", de = "Gut festhalten." }]
settings = ["peg"]
opposing = "crunch"
[exercise.phases]
eccentric = "hold"
concentric = "hold"
[exercise.muscles]
prime_movers = ["forearm-flexors"]
stabilisers = ["erector-spinae", "obliques"]
"#;

#[test]
fn numbers_stay_whether_the_file_or_the_catalogue_says_it() {
    let known = small::floor().floor;
    let numbers = |text: &str| -> BTreeMap<String, u16> {
        let floor = parse_floor("floor.toml", text, Some(&known)).unwrap().floor;
        floor.exercises.values().map(|e| (e.key.to_string(), e.id.0)).collect()
    };
    let short = with(
        "[[exercise]]\nkey = \"crunch\"\n[[exercise]]\nkey = \"cable-row\"\n[[exercise]]\nkey = \"bench-press\"\n",
    );
    let expected = [("bench-press", 1), ("cable-row", 2), ("crunch", 4)];
    assert_eq!(numbers(&short), expected.map(|(key, id)| (key.to_owned(), id)).into());
}

#[test]
fn mistakes_are_told_all_at_once_where_they_stand() {
    let told = |exercises: &str| told_of_floor(&with(exercises));
    let of = |exercises: &str, expected: &[&str]| {
        let expected: Vec<String> = expected.iter().map(|line| format!("floor.toml:{line}")).collect();
        assert_eq!(told(exercises), expected, "{exercises}");
    };
    of(
        "[[exercise]]\nkey = \"bench-pres\"\nstations = [\"bench-2\"]\n",
        &[
            "36:7: exercise[1].key: found \"bench-pres\", allowed the key of an exercise of the catalogue, or a new one with name, gear, starts_with and spot (did you mean \"bench-press\"?)",
            "37:13: exercise[1].stations[1]: found \"bench-2\", allowed the key of a [[station]] of this file (did you mean \"bench-1\"?)",
        ],
    );
    of(
        "[[exercise]]\nkey = \"own\"\nname = { en = \"Own\" }\n",
        &[
            "35:1: exercise[1].gear: found nothing, allowed \"bar\" or \"stack\" or \"dumbbells\" or \"belt\" or \"plain\"",
            "35:1: exercise[1].starts_with: found nothing, allowed \"lowering\" or \"pulling\" or \"lifting\"",
            "35:1: exercise[1].spot: found nothing, allowed \"none\" or \"over-face\" or \"on-shoulders\"",
            "37:8: exercise[1].name.de: found nothing, allowed text in quotation marks, 1 to 40 characters on one line",
        ],
    );
    of(
        "[[exercise]]\nkey = \"own\"\nname = 1\nimplement = \"cable\"\ngear = \"bar\"\nstarts_with = \"lifting\"\nspot = \"over-face\"\nmovement = \"explosive\"\nopposing = \"crunsh\"\n",
        &[
            "37:8: exercise[1].name: found 1, allowed text in quotation marks, 1 to 40 characters on one line, or one for each language: { en = \"\", de = \"\" }",
            "38:13: exercise[1].implement: found \"cable\", allowed \"barbell\" with the gear \"bar\"",
            "41:8: exercise[1].spot: found the spot rule \"over-face\" for the movement \"explosive\", allowed \"none\" (nobody stands where such a bar may come down)",
            "43:12: exercise[1].opposing: found \"crunsh\", allowed the key of an exercise of the catalogue or of this file (did you mean \"crunch\"?)",
        ],
    );
    of(
        "[[exercise]]\nkey = \"deadlift\"\nspot = \"on-shoulders\"\n[exercise.muscles]\nprime_movers = [\"vasti\"]\nsynergists = [\"vasti\"]\n",
        &[
            "37:8: exercise[1].spot: found the spot rule \"on-shoulders\" for the movement \"floor-pull\", allowed \"none\" (nobody stands where such a bar may come down)",
            "40:15: exercise[1].muscles.synergists[1]: found vasti again, allowed once; it stands in line 39 too (choose another, or take one of the two away)",
        ],
    );
}

#[test]
fn a_muscle_that_is_not_known_is_told_with_those_that_are() {
    let told = told_of_floor(&with(
        "[[exercise]]\nkey = \"deadlift\"\n[exercise.muscles]\nprime_movers = [\"hamstring\"]\n",
    ));
    let start = "floor.toml:38:17: exercise[1].muscles.prime_movers[1]: found \"hamstring\", allowed \"pectoralis-major\" or \"serratus-anterior\" or ";
    assert!(told.len() == 1 && told[0].starts_with(start), "{told:?}");
    assert!(told[0].ends_with("\"tibialis-anterior\" (did you mean \"hamstrings\"?)"), "{told:?}");
}

#[test]
fn an_exercise_of_the_catalogue_needs_a_station_with_its_gear() {
    let no_stack =
        changed(FLOOR, "[station.stack]\nfirst = \"5 kg\"\nstep = \"5 kg\"\nlast = \"50 kg\"\n", "");
    let text =
        format!("{}[[exercise]]\nkey = \"pulldown\"\n", no_stack.split("[[exercise]]").next().unwrap());
    let told = "floor.toml:32:7: exercise[1].key: found an exercise that needs a stack, allowed one for the gear of a station: no station has a stack (give a [[station]] that gear, or take the exercise away)";
    assert_eq!(told_of_floor(&text), [told]);
}

#[test]
fn a_pull_from_the_floor_is_one_of_a_bar() {
    let pull = |more: &str| format!("[[exercise]]\nkey = \"deadlift\"\n{more}");
    assert!(read(&pull("")).remove(0).from_the_floor);
    assert!(!read(&pull("from_the_floor = false\n")).remove(0).from_the_floor, "off blocks, say");
    // On another machine the catalogue's word says nothing.
    assert!(!read(&pull("gear = \"stack\"\n")).remove(0).from_the_floor);
    let row = "[[exercise]]\nkey = \"cable-row\"\nfrom_the_floor = true\n";
    let told = "floor.toml:37:18: exercise[1].from_the_floor: found true, allowed false: only a bar is pulled from the floor";
    assert_eq!(told_of_floor(&with(row)), [told]);
}

#[test]
fn a_programme_asks_of_a_pull_what_full_plates_make() {
    let floor = with("[[exercise]]\nkey = \"deadlift\"\n");
    let group = "[[client]]\nnumber = 104\nname = \"Dara\"\n[[group]]\nnumber = 1\ncoach = \"coach-1\"\nclients = [104]\n\
                 [[group.block]]\nrounds = 3\nrest = [\"60 s\", \"2 min\"]\n[[group.block.exercise]]\nuse = \"deadlift\"\n\
                 reps = 5\ntempo = \"2-0-1-0\"\nload = \"LOAD\"\n";
    let told = |load: &str| small::told_of(&floor, &group.replace("LOAD", load));
    // A pair of tens, with or without the small ones outside them.
    assert_eq!((told("40 kg"), told("50 kg")), (Vec::new(), Vec::new()));
    let expected = "programme.toml:15:8: group[1].block[1].exercise[1].load: found 25 kg, allowed what a station for deadlift can be set to: 40 kg";
    assert!(told("25 kg").first().is_some_and(|line| line.starts_with(expected)), "{:?}", told("25 kg"));
}
