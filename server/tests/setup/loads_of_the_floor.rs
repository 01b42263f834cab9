//! What a floor sets about next loads: what is read, what is usual, and every kind of mistake in it.

use turnabout_protocol::next::PerMille;
use turnabout_server::floor::config::Floor;
use turnabout_server::setup::parse_floor;
use turnabout_server::training::next::policy::Policy;

use crate::small::{FLOOR, changed, told_of_floor};

/// The small floor with these settings.
fn with(lines: &str) -> String {
    changed(FLOOR, "[floor.emergency]", &format!("[floor.loads]\n{lines}\n[floor.emergency]"))
}

fn read(text: &str) -> Floor {
    parse_floor("floor.toml", text, None).unwrap_or_else(|mistakes| panic!("{mistakes}")).floor
}

#[test]
fn all_of_it_is_read_and_kept() {
    let text =
        "cap = \"7.5 %\"\nreps_instead = false\nask_again = \"15%\"\naway_days = 14\naway_less = \"5 %\"";
    let floor = read(&with(text));
    let expected = Policy {
        cap: PerMille(75),
        reps_instead: false,
        ask_again: PerMille(150),
        away_days: 14,
        away_less: PerMille(50),
    };
    assert_eq!(floor.policy.loads, expected);
    let row = serde_json::to_string(&floor).expect("a floor");
    assert_eq!(serde_json::from_str::<Floor>(&row).expect("the same"), floor);
    // Beside other rules of the manager, in either order.
    let both = changed(&with(text), "[floor.loads]", "[floor.policy]\nclients_a_coach = 6\n[floor.loads]");
    let policy = read(&both).policy;
    assert_eq!((policy.loads, policy.clients_a_coach), (expected, Some(6)));
}

#[test]
fn what_is_left_out_is_as_usual() {
    assert!(read(FLOOR).policy.loads.is_usual());
    assert!(read(&with("")).policy.loads.is_usual());
    let floor = read(&with("cap = \"0 %\""));
    assert_eq!(floor.policy.loads, Policy { cap: PerMille(0), ..Policy::default() });
    let example = read(include_str!("../../examples/floor.toml"));
    assert!(example.policy.loads.is_usual(), "the example says so");
}

#[test]
fn the_ends_of_every_range_are_read_and_what_is_beyond_is_told() {
    for ends in [
        "cap = \"20 %\"\nask_again = \"50 %\"\naway_days = 730\naway_less = \"50 %\"",
        "cap = \"0 %\"\nask_again = \"0 %\"\naway_days = 0\naway_less = \"0 %\"",
    ] {
        assert_eq!(read(&with(ends)).policy.loads.checked(), Ok(read(&with(ends)).policy.loads));
    }
    let beyond =
        "cap = \"20.1 %\"\nreps_instead = 1\nask_again = \"50.5 %\"\naway_days = 731\naway_less = \"60 %\"";
    let share = |most: &str| {
        format!("allowed a share such as \"10 %\" or \"2.5 %\", 0 % to {most}, at most 1 decimal")
    };
    assert_eq!(
        told_of_floor(&with(beyond)),
        [
            format!("floor.toml:5:7: floor.loads.cap: found \"20.1 %\", {}", share("20 %")),
            "floor.toml:6:16: floor.loads.reps_instead: found 1, allowed true or false".to_owned(),
            format!("floor.toml:7:13: floor.loads.ask_again: found \"50.5 %\", {}", share("50 %")),
            "floor.toml:8:13: floor.loads.away_days: found 731, allowed a whole number, 0 to 730".to_owned(),
            format!("floor.toml:9:13: floor.loads.away_less: found \"60 %\", {}", share("50 %")),
        ]
    );
}

#[test]
fn slips_are_told_with_what_may_help() {
    let share = "allowed a share such as \"10 %\" or \"2.5 %\", 0 % to 20 %, at most 1 decimal";
    for (line, found, hint) in [
        ("cap = 10", "10", " (write it with its sign: \"10 %\")"),
        ("cap = \"10\"", "\"10\"", " (write it with its sign: \"10 %\")"),
        ("cap = \"5 kg\"", "\"5 kg\"", ""),
        ("cap = \"-1 %\"", "\"-1 %\"", ""),
    ] {
        let told = told_of_floor(&with(line));
        assert_eq!(told, [format!("floor.toml:5:7: floor.loads.cap: found {found}, {share}{hint}")]);
    }
    assert_eq!(
        told_of_floor(&with("capp = \"10 %\"")),
        [
            "floor.toml:5:1: floor.loads.capp: found a field that is not known, allowed cap, ask_again, away_less, reps_instead, away_days (did you mean cap?)"
        ]
    );
    let list = changed(FLOOR, "[floor.emergency]", "[[floor.loads]]\ncap = \"10 %\"\n[floor.emergency]");
    assert_eq!(told_of_floor(&list).len(), 1);
}
