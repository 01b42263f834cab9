//! The documented examples are what the documentation says, and the small files mean what they say.

use std::collections::BTreeMap;

use turnabout_protocol::ids::{ClientId, CoachId, ExerciseId, GroupId, StationId};
use turnabout_protocol::load::Load;
use turnabout_protocol::tempo::Tempo;
use turnabout_protocol::units::{Mass, Secs};
use turnabout_protocol::view::StartsWith;
use turnabout_protocol::work::Work;
use turnabout_server::floor::config::{Person, Settings};
use turnabout_server::loading::gear::Gear;
use turnabout_server::setup::{parse_floor, parse_programme};
use turnabout_server::training::block::{Prescription, Target, Technique};
use turnabout_server::training::exercise::Exercise;

use crate::small;

#[test]
fn the_examples_parse_and_three_groups_want_two_benches() {
    let floor = parse_floor("floor.toml", include_str!("../../examples/floor.toml"), None);
    let floor = floor.unwrap_or_else(|mistakes| panic!("{mistakes}")).floor;
    let text = include_str!("../../examples/programme.toml");
    let file = parse_programme("programme.toml", text, &floor);
    let file = file.unwrap_or_else(|mistakes| panic!("{mistakes}"));
    assert_eq!((floor.stations.len(), floor.coaches.len()), (9, 2));
    assert_eq!(file.programme.groups.len(), 4);
    assert_eq!(file.names.len(), file.programme.clients.len());
    let press = floor.exercises.values().find(|e| e.key.as_str() == "bench-press").unwrap().id;
    let groups = file.programme.groups.values();
    let at_a_bench = groups.filter(|g| g.blocks[0].legs[0].exercise == press).count();
    assert_eq!(at_a_bench, 3);
    for group in file.programme.groups.values() {
        assert!((2..=3).contains(&group.clients.len()));
        for block in &group.blocks {
            assert_eq!((block.legs.len(), block.rounds), (2, 3));
            assert!(block.rest_min >= Secs(60) && block.rest_max <= Secs(120));
        }
    }
}

#[test]
fn the_example_says_where_each_exercise_is_done() {
    let floor = parse_floor("floor.toml", include_str!("../../examples/floor.toml"), None).unwrap().floor;
    let keys =
        |e: &Exercise| e.stations.iter().map(|id| floor.stations[id].key.to_string()).collect::<Vec<_>>();
    let done: BTreeMap<&str, _> =
        floor.exercises.values().map(|e| (e.key.as_str(), keys(e).join(" "))).collect();
    let expected = [
        ("bench-press", "bench-1 bench-2"),
        ("bench-pull", "rack-1"),
        ("cable-row", "row-1 row-2 row-3"),
        ("close-grip-pulldown", "pulldown-1"),
        ("incline-bench-press", "incline-1"),
        ("leg-extension", "leg-1"),
        ("overhead-press", "rack-1"),
        ("pulldown", "pulldown-1"),
    ];
    assert_eq!(done, expected.map(|(exercise, keys)| (exercise, keys.to_owned())).into());
}

#[test]
fn an_exercise_is_done_where_the_file_says_or_else_wherever_its_gear_is() {
    let more = "[[station]]\nkey = \"row-2\"\nname = \"Row 2\"\nat = [4, 4]\n[station.stack]\nfirst = \"5 kg\"\nstep = \"5 kg\"\nlast = \"50 kg\"\n[[coach]]";
    let text = small::changed(small::FLOOR, "[[coach]]", more);
    let rows = |text: &str| {
        parse_floor("floor.toml", text, None).unwrap().floor.exercises[&ExerciseId(2)].stations.clone()
    };
    assert_eq!(rows(&text), [StationId(2), StationId(4)].into());
    let named = small::changed(&text, "gear = \"stack\"", "gear = \"stack\"\nstations = [\"row-2\"]");
    assert_eq!(rows(&named), [StationId(4)].into());
}

#[test]
fn the_examples_say_the_settings_that_are_usual() {
    let floor = parse_floor("floor.toml", include_str!("../../examples/floor.toml"), None).unwrap().floor;
    assert_eq!(floor.settings, Settings::default());
    assert_eq!(small::floor().floor.settings, Settings::default());
}

#[test]
fn a_floor_file_means_what_it_says() {
    let file = small::floor();
    let bench = &file.floor.stations[&StationId(1)];
    assert_eq!((bench.name.as_str(), bench.at_cm), ("Bench 1", [200, 350]));
    let Gear::Bar(bar) = &bench.gear else { panic!("{:?}", bench.gear) };
    assert_eq!((bar.empty(), bar.collar), (Mass::from_grams(20_000), Mass::ZERO));
    let plates: Vec<_> = bar.plates.iter().map(|p| (p.mass, p.count)).collect();
    assert_eq!(plates, [(Mass::from_grams(10_000), 2), (Mass::from_grams(2_500), 4)]);
    let Gear::Stack(stack) = &file.floor.stations[&StationId(2)].gear else { panic!("no stack") };
    assert_eq!(stack.labels().len(), 10);
    assert_eq!(file.floor.stations[&StationId(2)].at_cm, [200, -300]);
    assert_eq!(file.floor.stations[&StationId(3)].gear, Gear::Plain);
    assert_eq!(file.names[&Person::Coach(CoachId(1))], "Ayla");
    assert_eq!(file.floor.exercises[&ExerciseId(2)].starts_with, StartsWith::Concentric);
    assert_eq!(file.floor.emergency.number, "112");
}

#[test]
fn settings_are_the_floors_own_choice() {
    let text = "[floor.settings]\nget_set = \"5 s\"\nwipe_down = \"1 min 30 s\"\n[[coach]]";
    let text = small::changed(small::FLOOR, "[[coach]]", text);
    let settings = parse_floor("floor.toml", &text, None).unwrap().floor.settings;
    let expected =
        Settings { get_set: Secs(5), get_set_spotted: Secs(10), wipe_down: Secs(90), ..Settings::default() };
    assert_eq!(settings, expected);
}

#[test]
fn a_programme_file_means_what_it_says() {
    let floor = small::floor().floor;
    let file = parse_programme("programme.toml", small::PROGRAMME, &floor).unwrap();
    let clients: Vec<_> = file.programme.clients.iter().map(|(id, c)| (id.0, c.show_load)).collect();
    assert_eq!(clients, [(104, true), (105, false), (106, true)]);
    assert_eq!(file.names[&Person::Client(ClientId(105))], "Edda");
    let group = &file.programme.groups[&GroupId(1)];
    assert_eq!((group.coach, &group.clients), (CoachId(1), &vec![ClientId(104), ClientId(105)]));
    let [pair, single] = group.blocks.as_slice() else { panic!("{:?}", group.blocks) };
    assert_eq!(
        (pair.rounds, pair.rest_min, pair.rest_max, pair.changeover),
        (3, Secs(60), Secs(120), Secs(20))
    );
    assert_eq!((single.rest_min, single.rest_max, single.changeover), (Secs(60), Secs(90), Secs(0)));
    let [press, row] = pair.legs.as_slice() else { panic!("{:?}", pair.legs) };
    let (kg, light) = (Mass::from_grams, Some(Mass::from_grams(20_000)));
    let prescribed = |tempo: &str, technique: (u8, Option<Mass>), reps, load| Prescription {
        tempo: tempo.parse().unwrap(),
        technique: Technique { reps: technique.0, load: technique.1.map(Load::Mass), ramp: false },
        rounds: vec![Target::plain(Work::reps(reps), load)],
        reserve: None,
    };
    let tempo = press.sets[&ClientId(104)].tempo.to_string();
    let whole = prescribed(&tempo, (3, light), 10, Some(kg(40_000)));
    let own = prescribed(&tempo, (3, light), 8, Some(kg(25_000)));
    assert_eq!((&press.sets[&ClientId(104)], &press.sets[&ClientId(105)]), (&whole, &own));
    assert_eq!(row.sets[&ClientId(104)].technique.reps, 4);
    assert_eq!(row.sets[&ClientId(104)].tempo, "2-0-X-1".parse::<Tempo>().unwrap());
    let straight = &single.legs[0].sets[&ClientId(104)];
    let nothing = prescribed(&straight.tempo.to_string(), (4, None), 15, None);
    assert_eq!(*straight, nothing);
}
