//! The catalogue of exercises is whole, sound, and read as any floor file is.

use std::collections::BTreeSet;

use turnabout_protocol::card::GearKind;
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{Breathing, StartsWith};
use turnabout_protocol::words::Words;
use turnabout_server::setup::{catalogue, limits, parse_catalogue, parse_floor};
use turnabout_server::training::about::{Implement, breathe};
use turnabout_server::training::catalogue::{Entry, TEXT};
use turnabout_server::training::exercise::SpotRule;
use turnabout_server::training::movement::Movement;
use turnabout_server::training::muscle::Muscle;

use crate::small::FLOOR;

fn entry(key: &str) -> &'static Entry {
    catalogue().get(&key.parse().expect("a key")).unwrap_or_else(|| panic!("no {key}"))
}

#[test]
fn the_text_in_the_program_is_read_by_the_reader_of_floor_files() {
    let read = parse_catalogue("exercises.toml", TEXT).unwrap_or_else(|mistakes| panic!("{mistakes}"));
    assert_eq!(&read, catalogue());
    // The same text as part of a floor file means the same exercises, at every station with their gear.
    let stations = FLOOR.split("[[exercise]]").next().unwrap();
    let floor = parse_floor("floor.toml", &format!("{stations}{TEXT}"), None);
    let floor = floor.unwrap_or_else(|mistakes| panic!("{mistakes}")).floor;
    assert_eq!(floor.exercises.len(), catalogue().entries().count());
    for exercise in floor.exercises.values() {
        let on = catalogue().get(&exercise.key).unwrap().clone();
        assert_eq!(&on.on(exercise.id, exercise.stations.clone()), exercise);
        assert_eq!(exercise.stations.len(), 1, "the small floor has one station of each gear");
    }
}

#[test]
fn there_are_about_forty_over_every_implement() {
    assert!((40..=50).contains(&catalogue().entries().count()));
    let held = |implement| catalogue().entries().filter(|e| e.about.implement == Some(implement)).count();
    let implements =
        [Implement::Barbell, Implement::Cable, Implement::Dumbbells, Implement::Machine, Implement::BodyMass];
    for implement in implements {
        assert!(held(implement) >= 6, "{implement:?}");
    }
    for entry in catalogue().entries() {
        assert_eq!(entry.about.implement.map(Implement::gear), Some(entry.gear), "{}", entry.key);
    }
}

/// Every text of an exercise, each with the most characters it may have.
fn texts(entry: &Entry) -> Vec<(&Words, usize)> {
    let phases = entry.about.phases.as_ref().unwrap_or_else(|| panic!("{} names no phases", entry.key));
    let points = entry.about.set_up.iter().chain(&entry.about.cautions);
    let mut texts: Vec<_> = points.map(|words| (words, limits::SENTENCE)).collect();
    texts.extend([(&phases.eccentric, limits::PHASE), (&phases.concentric, limits::PHASE)]);
    texts.push((&entry.name, turnabout_server::floor::config::limits::NAME));
    texts
}

#[test]
fn every_exercise_is_whole_in_both_languages() {
    for entry in catalogue().entries() {
        let key = &entry.key;
        assert_ne!(entry.movement, Movement::Other, "{key}");
        assert!((3..=5).contains(&entry.about.set_up.len()), "{key}");
        assert!((1..=3).contains(&entry.about.cautions.len()), "{key}");
        assert!(!entry.about.muscles.prime_movers.is_empty(), "{key}");
        assert!(!entry.about.muscles.antagonists.is_empty(), "{key}");
        assert!(!entry.about.muscles.stabilisers.is_empty(), "{key}");
        assert_eq!(entry.about.breathing, Breathing::OutWithEffort, "{key}: none of them is a hold");
        for (words, most) in texts(entry) {
            for language in Language::ALL {
                let text = words.of(language);
                assert!((1..=most).contains(&text.chars().count()), "{key}: {text:?}");
                assert_eq!(text, text.trim(), "{key}");
            }
        }
        for point in entry.about.set_up.iter().chain(&entry.about.cautions) {
            assert_ne!(point.en, point.de, "{key}: the same in both languages is not translated");
            assert!(point.en.ends_with(['.', '?']) && point.de.ends_with(['.', '?']), "{key}: {point:?}");
        }
    }
}

#[test]
fn names_are_told_apart_and_muscles_have_words() {
    for language in Language::ALL {
        let names: BTreeSet<_> = catalogue().entries().map(|e| e.name.of(language)).collect();
        assert_eq!(names.len(), catalogue().entries().count());
        let muscles: BTreeSet<_> = Muscle::ALL.iter().map(|muscle| muscle.name(language)).collect();
        assert_eq!(muscles.len(), Muscle::ALL.len());
    }
    // Breath out with the effort (Narloch & Brandstater 1995, Arch Phys Med Rehabil 76(5):457-462: lower blood
    // pressure at the leg press than with the breath held).
    assert!(breathe(Breathing::OutWithEffort, Language::En).contains("out with the effort"));
    assert!(breathe(Breathing::OutWithEffort, Language::De).starts_with("Mit der Anstrengung ausatmen"));
}

#[test]
fn opposites_are_mutual_and_their_movements_and_muscles_opposite() {
    let mut alone = Vec::new();
    for entry in catalogue().entries() {
        let key = &entry.key;
        let Some(name) = &entry.about.opposing else {
            assert_eq!(entry.movement.opposite(), None, "{key} has an opposite movement");
            alone.push(key.as_str());
            continue;
        };
        let other = catalogue().get(name).unwrap_or_else(|| panic!("{key}: no {name}"));
        assert_ne!(key, name);
        assert_eq!(other.about.opposing.as_ref(), Some(key));
        assert_eq!(entry.movement.opposite(), Some(other.movement), "{key}");
        assert_eq!(other.movement.opposite(), Some(entry.movement), "{key}");
        let (does, undoes) = (&entry.about.muscles.prime_movers, &other.about.muscles.antagonists);
        assert!(does.is_subset(undoes), "{key}: {does:?} are not all among {undoes:?} of {name}");
    }
    // Not paired: nothing in a gym does the reverse of these.
    assert_eq!(alone, ["deadlift", "power-clean"]);
}

#[test]
fn each_movement_but_the_last_three_has_an_opposite_and_comes_back() {
    for entry in catalogue().entries() {
        let there = entry.movement.opposite();
        assert_eq!(there.map_or(Some(entry.movement), Movement::opposite), Some(entry.movement));
        assert_ne!(there, Some(entry.movement));
    }
}

#[test]
fn a_muscle_plays_one_part_in_an_exercise() {
    for entry in catalogue().entries() {
        let muscles = &entry.about.muscles;
        let parts = [&muscles.prime_movers, &muscles.antagonists, &muscles.synergists, &muscles.stabilisers];
        let named: usize = parts.iter().map(|part| part.len()).sum();
        let all: BTreeSet<_> = parts.into_iter().flatten().collect();
        assert_eq!(all.len(), named, "{}", entry.key);
    }
}

#[test]
fn only_free_weights_over_face_or_on_shoulders_are_spotted() {
    // NSCA Essentials of Strength Training and Conditioning, ch. 15, from memory: free weights over head or
    // face and bars on the shoulders need a spotter; power exercises are not spotted. Machines lead the load.
    let spotted: Vec<_> = catalogue()
        .entries()
        .filter(|entry| entry.spot.spotted())
        .map(|entry| (entry.key.as_str(), entry.spot))
        .collect();
    let expected = [
        ("back-squat", SpotRule::OnShoulders),
        ("bench-press", SpotRule::OverFace),
        ("dumbbell-bench-press", SpotRule::OverFace),
        ("dumbbell-fly", SpotRule::OverFace),
        ("dumbbell-shoulder-press", SpotRule::OverFace),
        ("incline-bench-press", SpotRule::OverFace),
        ("lying-triceps-extension", SpotRule::OverFace),
        ("overhead-press", SpotRule::OverFace),
        ("overhead-triceps-extension", SpotRule::OverFace),
    ];
    assert_eq!(spotted, expected);
    for entry in catalogue().entries() {
        assert!(entry.movement.may_be(entry.spot), "{}", entry.key);
        let free = matches!(entry.about.implement, Some(Implement::Barbell | Implement::Dumbbells));
        assert!(free || !entry.spot.spotted(), "{}", entry.key);
        let on_shoulders = entry.spot == SpotRule::OnShoulders;
        assert!(!on_shoulders || entry.gear == GearKind::Bar, "{}", entry.key);
    }
}

#[test]
fn explosive_lifts_and_pulls_from_the_floor_are_never_spotted() {
    for key in ["deadlift", "power-clean"] {
        assert_eq!(entry(key).spot, SpotRule::None, "{key}");
    }
    for movement in [Movement::FloorPull, Movement::Explosive] {
        assert!(movement.may_be(SpotRule::None));
        assert!(!movement.may_be(SpotRule::OverFace) && !movement.may_be(SpotRule::OnShoulders));
    }
}

#[test]
fn only_what_lies_on_the_floor_before_each_repetition_is_pulled_from_it() {
    // Common practice, no source: a row and a Romanian deadlift hang from the arms between repetitions.
    let pulled: Vec<&str> =
        catalogue().entries().filter(|entry| entry.from_the_floor).map(|entry| entry.key.as_str()).collect();
    assert_eq!(pulled, ["deadlift", "power-clean"]);
}

#[test]
fn what_starts_at_the_top_starts_by_lowering() {
    // Common practice, no source: a bench press or squat is lifted off at the top; a row, a curl and a bar
    // taken at the shoulders start with the effort.
    for key in ["bench-press", "push-up", "back-squat", "romanian-deadlift", "dumbbell-fly"] {
        assert_eq!(entry(key).starts_with, StartsWith::Eccentric, "{key}");
    }
    for key in ["cable-row", "pull-up", "barbell-curl", "overhead-press", "deadlift", "leg-curl"] {
        assert_eq!(entry(key).starts_with, StartsWith::Concentric, "{key}");
    }
    let words = |key| {
        let phases = entry(key).about.phases.as_ref().unwrap();
        (phases.eccentric.en.as_str(), phases.concentric.en.as_str())
    };
    assert_eq!(words("bench-press"), ("lower", "press"));
    assert_eq!(words("cable-row"), ("return", "pull"));
}
