//! From one session to the next.

use turnabout_protocol::command::Ending;
use turnabout_protocol::next::{Change, NextReason, PerMille, Proposal, Rule};
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_protocol::work::Work;
use turnabout_server::training::loads::Direction;
use turnabout_server::training::next::Ground;
use turnabout_server::training::next::policy::Policy;
use turnabout_server::training::rule::{LoadRule, first};
use turnabout_server::training::session::{History, LastSet, steps_in_band};

use crate::rack::{POLICY, Rack, assisting, bar, ground, kg, load_of, mass, steps};

fn last(load: Mass, goal: u8, reps: u8) -> LastSet {
    LastSet { load: load.into(), goal: Work::reps(goal), reps, ending: Ending::Complete }
}

fn twice(load: Mass, before: u8, reps: u8) -> History {
    History { last: last(load, 10, reps), before: Some(last(load, 10, before)), days: 7 }
}

fn next(history: &History, ground: &Ground<'_>) -> Proposal {
    first(LoadRule::AsLastTime, Work::reps(10), Some(history), ground).expect("a load to propose")
}

#[test]
fn two_over_the_goal_twice_running_raise_the_load() {
    // 2-for-2, NSCA Essentials 4th ed. (from a secondary text): goal 3 x 10 at 135 lb, last sets 12 and 12: raise;
    // 12 and 11: no.
    let loads = (9..=60).map(|n| mass(&format!("{} lb", n * 5))).collect();
    let rack = Rack { loads, unit: MassUnit::Lb, direction: Direction::Resists };
    let up = next(&twice(mass("135 lb"), 12, 12), &ground(&rack));
    assert_eq!((load_of(up), up.change, up.rule), (mass("140 lb"), Change::Harder, Rule::TwoForTwo));
    assert_eq!(up.reason, NextReason::OverTheGoal { reps: 2 });
    for (before, reps) in [(12, 11), (11, 12), (10, 10)] {
        let same = next(&twice(mass("135 lb"), before, reps), &ground(&rack));
        assert_eq!((load_of(same), same.reason), (mass("135 lb"), NextReason::AsLastTime), "{before} {reps}");
    }
}

#[test]
fn the_rule_wants_two_sessions_with_the_same_load_and_all_repetitions_alone() {
    let good = twice(kg("60"), 12, 13);
    assert!(good.two_for_two());
    assert!(!History { before: None, ..good }.two_for_two());
    assert!(!History { before: Some(last(kg("57.5"), 10, 12)), ..good }.two_for_two());
    for ending in [Ending::Helped { reps: 1 }, Ending::Failed, Ending::FormBroken, Ending::EquipmentFault] {
        assert!(!History { last: LastSet { ending, ..good.last }, ..good }.two_for_two(), "{ending:?}");
    }
    // A range has its goal at the upper end.
    let range = LastSet { goal: Work::Reps { least: 8, most: 12 }, ..good.last };
    assert!(!History { last: range, ..good }.two_for_two());
}

#[test]
fn steps_lie_between_two_and_ten_percent() {
    // ACSM 2009, Ratamess et al., Med Sci Sports Exerc 41(3):687-708 (verified: 2 to 10 %); rows computed.
    for (load, allowed) in [
        ("60", &["62.5", "65"][..]),
        ("80", &["82.5", "85", "87.5"]),
        ("100", &["102.5", "105", "107.5", "110"]),
        ("20", &[]),
    ] {
        let allowed: Vec<Mass> = allowed.iter().map(|load| kg(load)).collect();
        assert_eq!(steps_in_band(kg(load), &bar()), allowed, "{load}");
    }
    // Half a kilogram on 100 is no step.
    assert_eq!(steps_in_band(kg("100"), &steps(20_000, 500, 200_000)).first(), Some(&kg("102")));
    let gear = assisting(steps(0, 1_000, 50_000));
    assert_eq!(steps_in_band(kg("30"), &gear), ["29", "28", "27"].map(kg));
}

#[test]
fn where_no_step_fits_the_repetitions_go_up() {
    let rack = bar();
    let up = next(&twice(kg("20"), 12, 12), &ground(&rack));
    assert_eq!((load_of(up), up.work, up.change), (kg("20"), Work::reps(11), Change::MoreReps));
    let too_big = NextReason::StepTooBig { above: kg("22.5"), share: PerMille(100) };
    assert_eq!((up.reason, up.rule), (too_big, Rule::TwoForTwo));
    // Plates of a quarter kilogram make it fit.
    let fine = steps(20_000, 500, 60_000);
    assert_eq!(load_of(next(&twice(kg("20"), 12, 12), &ground(&fine))), kg("20.5"));
    // A step smaller than the band is none, and is not taken in place of one that is too large.
    let odd = Rack { loads: ["100", "101", "115"].map(kg).to_vec(), ..bar() };
    let kept = next(&twice(kg("100"), 12, 12), &ground(&odd));
    assert_eq!((load_of(kept), kept.change), (kg("100"), Change::MoreReps));
    let without = Policy { reps_instead: false, ..POLICY };
    let same = next(&twice(kg("20"), 12, 12), &Ground { policy: &without, ..ground(&rack) });
    assert_eq!((load_of(same), same.work, same.change), (kg("20"), Work::reps(10), Change::Same));
}

#[test]
fn the_floors_cap_holds_between_sessions_too() {
    let rack = bar();
    let careful = Policy { cap: PerMille(30), ..POLICY };
    let kept = next(&twice(kg("60"), 12, 12), &Ground { policy: &careful, ..ground(&rack) });
    assert_eq!(kept.reason, NextReason::StepTooBig { above: kg("62.5"), share: PerMille(30) });
    assert_eq!(load_of(kept), kg("60"));
    let near = next(&twice(kg("60"), 12, 12), &Ground { one_rm: Some(kg("62")), ..ground(&rack) });
    assert_eq!((load_of(near), near.reason, near.change), (kg("60"), NextReason::NearMax, Change::Same));
}

#[test]
fn after_a_long_time_it_starts_lower() {
    // Common practice, no source.
    let rack = bar();
    let away = |days| next(&History { days, ..twice(kg("60"), 12, 12) }, &ground(&rack));
    assert_eq!((load_of(away(21)), away(21).change), (kg("62.5"), Change::Harder));
    let lower = away(22);
    assert_eq!((load_of(lower), lower.change), (kg("52.5"), Change::Easier));
    assert_eq!((lower.reason, lower.rule), (NextReason::LongAway { days: 22 }, Rule::Practice));
    let gear = assisting(steps(5_000, 5_000, 50_000));
    let easier = next(&History { days: 90, ..twice(kg("30"), 12, 12) }, &ground(&gear));
    assert_eq!((load_of(easier), easier.change), (kg("35"), Change::Easier));
}

#[test]
fn settings_out_of_their_range_are_named() {
    assert_eq!(POLICY.checked(), Ok(POLICY));
    assert_eq!(Policy::default(), POLICY);
    for (policy, said) in [
        (Policy { cap: PerMille(201), ..POLICY }, "cap: found 201, allowed 0 to 200"),
        (Policy { ask_again: PerMille(501), ..POLICY }, "ask_again: found 501, allowed 0 to 500"),
        (Policy { away_days: 731, ..POLICY }, "away_days: found 731, allowed 0 to 730"),
        (Policy { away_less: PerMille(501), ..POLICY }, "away_less: found 501, allowed 0 to 500"),
    ] {
        assert_eq!(policy.checked().unwrap_err().to_string(), said);
    }
}
