//! Keys keep their numbers.

use turnabout_protocol::ids::{CoachId, ExerciseId, StationId};
use turnabout_server::floor::config::Person;
use turnabout_server::setup::parse_floor;

use crate::small::{FLOOR, changed, floor};

#[test]
fn numbers_go_by_the_place_in_the_file_from_1() {
    let floor = floor().floor;
    let keys: Vec<(u16, &str)> = floor.stations.iter().map(|(id, s)| (id.0, s.key.as_str())).collect();
    assert_eq!(keys, [(1, "bench-1"), (2, "row-1"), (3, "mat")]);
    let exercises: Vec<(u16, &str)> = floor.exercises.values().map(|e| (e.id.0, e.key.as_str())).collect();
    assert_eq!(exercises, [(1, "bench-press"), (2, "cable-row"), (3, "push-up")]);
}

#[test]
fn a_known_key_keeps_its_number_and_a_new_one_goes_above() {
    let known = floor().floor;
    // The second station goes, a new one comes first; a coach comes before the known one; exercises change order.
    let text = changed(
        FLOOR,
        "[[station]]\nkey = \"bench-1\"",
        "[[station]]\nkey = \"rack\"\nname = \"Rack\"\nat = [1, 1]\n[[station]]\nkey = \"bench-1\"",
    );
    let text = changed(&text, "key = \"row-1\"", "key = \"row-9\"");
    let text = changed(&text, "[[coach]]", "[[coach]]\nkey = \"coach-0\"\nname = \"Bram\"\n[[coach]]");
    let text = changed(&text, "key = \"bench-press\"", "key = \"floor-press\"");
    let file = parse_floor("floor.toml", &text, Some(&known)).unwrap();
    let keys: Vec<(u16, &str)> = file.floor.stations.iter().map(|(id, s)| (id.0, s.key.as_str())).collect();
    assert_eq!(keys, [(1, "bench-1"), (3, "mat"), (4, "rack"), (5, "row-9")]);
    assert_eq!(file.names[&Person::Coach(CoachId(1))], "Ayla");
    assert_eq!(file.names[&Person::Coach(CoachId(2))], "Bram");
    assert_eq!(file.floor.exercises[&ExerciseId(4)].key.as_str(), "floor-press");
    assert_eq!(file.floor.exercises[&ExerciseId(4)].id, ExerciseId(4));
    // Where an exercise is done is told by those numbers.
    let done = |id| file.floor.exercises[&ExerciseId(id)].stations.iter().map(|s| s.0).collect::<Vec<_>>();
    assert_eq!((done(4), done(2), done(3)), (vec![1], vec![5], vec![3, 4]));
}

#[test]
fn reading_the_same_again_changes_nothing() {
    let known = floor();
    assert_eq!(parse_floor("floor.toml", FLOOR, Some(&known.floor)).unwrap(), known);
}

#[test]
fn numbers_that_are_used_up_are_a_mistake() {
    let mut known = floor().floor;
    let mat = known.stations.remove(&StationId(3)).unwrap();
    known.stations.insert(StationId(u16::MAX), mat);
    let text = changed(FLOOR, "key = \"row-1\"", "key = \"row-9\"");
    let mistakes = parse_floor("floor.toml", &text, Some(&known)).unwrap_err();
    let told =
        "floor.toml:19:7: station[2].key: found a new key, allowed none: all 65535 numbers have been given";
    assert_eq!(mistakes.to_string(), told);
}
