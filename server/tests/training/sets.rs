//! From set to set.

use turnabout_protocol::command::{Effort, Ending};
use turnabout_protocol::next::{Change, NextReason, PerMille, Proposal, Rule, SetTo};
use turnabout_protocol::units::{Mass, MassUnit, Secs};
use turnabout_protocol::work::Work;
use turnabout_server::training::loads::Direction;
use turnabout_server::training::next::policy::Policy;
use turnabout_server::training::next::{Ground, Set, after, pins};
use turnabout_server::training::no_proposal::NoProposal;
use turnabout_server::training::pins::Pins;

use crate::rack::{POLICY, Rack, assisting, bar, ground, kg, load_of, mass, steps};

const SET: Set = Set { work: Work::reps(8), reserve: None, reps: 8, ending: Ending::Complete, effort: None };

fn felt(effort: Effort) -> Set {
    Set { effort: Some(effort), ..SET }
}

fn left(reps: u8, wanted: u8) -> Set {
    Set { reserve: Some(wanted), ..felt(Effort::Rir { reps }) }
}

fn on_bar(load: &str, set: Set) -> Proposal {
    after(kg(load), &set, &ground(&bar())).expect("a load to propose")
}

fn said(proposal: Proposal) -> (Mass, Change, NextReason) {
    (load_of(proposal), proposal.change, proposal.reason)
}

#[test]
fn the_published_table_moves_the_load_for_two_in_reserve() {
    // J Hum Kinet 2024;91:87-103, doi 10.5114/jhk/185637, table 1D (verified): target rating 8; rating 5 to 6 up
    // 5 kg, 7 up 2.5, 8 the same, 9 down 2.5, 10 down 5.
    for (reserve, to) in
        [(6, "105"), (5, "105"), (4, "105"), (3, "102.5"), (2, "100"), (1, "97.5"), (0, "95")]
    {
        let next = on_bar("100", left(reserve, 2));
        assert_eq!((load_of(next), next.rule), (kg(to), Rule::AnswerTable), "{reserve}");
    }
    assert_eq!(on_bar("100", left(4, 2)).reason, NextReason::MoreInReserve { reps: 4, wanted: 2 });
    assert_eq!(on_bar("100", left(2, 2)).reason, NextReason::AsItShould);
    assert_eq!(on_bar("100", left(0, 2)).reason, NextReason::LessInReserve { reps: 0, wanted: 2 });
    // A block that names no reserve means the table's own target.
    assert_eq!(on_bar("100", felt(Effort::Rir { reps: 3 })).rule, Rule::AnswerTable);
}

#[test]
fn for_another_target_the_table_is_shifted_and_says_so() {
    for (reserve, wanted, to) in [(3, 1, "105"), (2, 1, "102.5"), (1, 1, "100"), (0, 1, "97.5"), (2, 4, "95")]
    {
        let next = on_bar("100", left(reserve, wanted));
        assert_eq!((load_of(next), next.rule), (kg(to), Rule::DerivedTable), "{reserve} of {wanted}");
    }
    // Above six in reserve nothing is published.
    assert_eq!(on_bar("100", left(7, 2)).rule, Rule::DerivedTable);
}

#[test]
fn on_pounds_the_tables_step_is_five_and_derived() {
    let loads = (9..=60).map(|n| mass(&format!("{} lb", n * 5))).collect();
    let rack = Rack { loads, unit: MassUnit::Lb, direction: Direction::Resists };
    for (reserve, to) in [(4, "145 lb"), (3, "140 lb"), (2, "135 lb"), (1, "130 lb"), (0, "125 lb")] {
        let next = after(mass("135 lb"), &left(reserve, 2), &ground(&rack)).unwrap();
        assert_eq!((load_of(next), next.rule), (mass(to), Rule::DerivedTable), "{reserve}");
    }
}

#[test]
fn three_words_move_the_load_by_five_percent() {
    // Our own rule.
    for (effort, to, change, reason) in [
        (Effort::Light, "105", Change::Harder, NextReason::FeltLight),
        (Effort::Right, "100", Change::Same, NextReason::AsItShould),
        (Effort::Heavy, "95", Change::Easier, NextReason::FeltHeavy),
    ] {
        let next = on_bar("100", felt(effort));
        assert_eq!((said(next), next.rule), ((kg(to), change, reason), Rule::ThreeWords));
    }
    // A rise is rounded down, a fall is rounded down too; the next step is taken where five percent has none.
    assert_eq!(load_of(on_bar("60", felt(Effort::Light))), kg("62.5"));
    assert_eq!(load_of(on_bar("30", felt(Effort::Light))), kg("32.5"));
    assert_eq!(load_of(on_bar("60", felt(Effort::Heavy))), kg("55"));
}

#[test]
fn silence_changes_nothing() {
    assert_eq!(said(on_bar("100", SET)), (kg("100"), Change::Same, NextReason::NoAnswer));
}

#[test]
fn the_cap_holds_for_rises_and_not_for_falls() {
    // The table would say 45 kg and 35 kg; ten percent of 40 kg is 4.
    assert_eq!(load_of(on_bar("40", left(4, 2))), kg("42.5"));
    assert_eq!(load_of(on_bar("40", left(0, 2))), kg("35"));
    let rack = bar();
    let tight = Policy { cap: PerMille(20), ..POLICY };
    let kept = after(kg("100"), &felt(Effort::Light), &Ground { policy: &tight, ..ground(&rack) }).unwrap();
    let too_big = NextReason::StepTooBig { above: kg("102.5"), share: PerMille(20) };
    assert_eq!(said(kept), (kg("100"), Change::MoreReps, too_big));
}

#[test]
fn a_step_that_is_too_large_becomes_a_repetition() {
    let range = Set { work: Work::Reps { least: 6, most: 8 }, ..felt(Effort::Light) };
    let next = on_bar("20", range);
    let too_big = NextReason::StepTooBig { above: kg("22.5"), share: PerMille(100) };
    assert_eq!(said(next), (kg("20"), Change::MoreReps, too_big));
    assert_eq!(next.work, Work::Reps { least: 7, most: 9 });
    let rack = bar();
    let off = Policy { reps_instead: false, ..POLICY };
    let same = after(kg("20"), &range, &Ground { policy: &off, ..ground(&rack) }).unwrap();
    assert_eq!((said(same), same.work), ((kg("20"), Change::Same, too_big), range.work));
    let top = on_bar("300", felt(Effort::Light));
    assert_eq!(said(top), (kg("300"), Change::MoreReps, NextReason::NothingHarder));
    // A hold and a set of a hundred have none to add.
    for work in [Work::Hold { secs: Secs(30) }, Work::reps(100)] {
        let next = on_bar("20", Set { work, reps: 100, ..felt(Effort::Light) });
        assert_eq!((next.work, next.change), (work, Change::Same));
    }
}

#[test]
fn what_went_wrong_goes_down_whatever_was_answered() {
    for effort in [None, Some(Effort::Light), Some(Effort::Right), Some(Effort::Heavy)] {
        let went = |ending| said(on_bar("100", Set { ending, reps: 6, effort, ..SET }));
        assert_eq!(went(Ending::Failed), (kg("95"), Change::Easier, NextReason::NotMade));
        let helped = NextReason::Helped { reps: 2 };
        assert_eq!(went(Ending::Helped { reps: 2 }), (kg("95"), Change::Easier, helped));
        assert_eq!(went(Ending::EquipmentFault), (kg("100"), Change::Same, NextReason::GearFailed));
    }
    let broke = |effort| on_bar("100", Set { ending: Ending::FormBroken, effort, ..SET });
    let least = (kg("97.5"), Change::Easier, NextReason::FormBroke);
    assert_eq!((said(broke(None)), broke(None).rule), (least, Rule::Outcome));
    assert_eq!(said(broke(Some(Effort::Light))), least);
    // An answer that asks for a larger fall is heard.
    assert_eq!(load_of(broke(Some(Effort::Heavy))), kg("95"));
    let failed = Set { ending: Ending::Failed, reps: 6, ..left(0, 2) };
    assert_eq!(load_of(on_bar("60", failed)), kg("55"));
}

#[test]
fn too_few_repetitions_never_rise_and_may_fall() {
    let short = |effort| Set { ending: Ending::Short, reps: 6, effort, ..SET };
    let few = NextReason::TooFewReps { least: 8 };
    assert_eq!(said(on_bar("100", short(Some(Effort::Light)))), (kg("100"), Change::Same, few));
    assert_eq!(load_of(on_bar("100", short(Some(Effort::Heavy)))), kg("95"));
    assert_eq!(said(on_bar("100", short(None))).2, NextReason::NoAnswer);
    // Within a range the lower end is enough.
    let range = Set { work: Work::Reps { least: 6, most: 8 }, ..short(Some(Effort::Light)) };
    assert_eq!(load_of(on_bar("100", range)), kg("105"));
}

#[test]
fn no_load_is_proposed_at_the_maximum_or_above() {
    let rack = bar();
    let at =
        |one_rm, load, set: Set| after(kg(load), &set, &Ground { one_rm: Some(kg(one_rm)), ..ground(&rack) });
    let single = Set { work: Work::reps(1), reps: 1, ..felt(Effort::Light) };
    assert_eq!(at("102", "100", single).map(said), Ok((kg("100"), Change::Same, NextReason::NearMax)));
    // At the maximum already, it comes down.
    assert_eq!(at("100", "100", single).map(said), Ok((kg("97.5"), Change::Easier, NextReason::NearMax)));
    // An old estimate takes nothing away from a client who has just done eight.
    assert_eq!(at("90", "100", felt(Effort::Light)).map(load_of), Ok(kg("105")));
    let asked = Set { reserve: Some(0), ..single };
    assert_eq!(at("100", "90", asked), Err(NoProposal::Maximal));
    assert_eq!(
        at("20", "20", Set { ending: Ending::Failed, reps: 0, ..SET }),
        Err(NoProposal::NothingEasyEnough { easiest: Some(kg("20")) })
    );
}

#[test]
fn the_lightest_stays_and_what_the_gear_lacks_goes_to_the_easier_side() {
    let heavy = felt(Effort::Heavy);
    assert_eq!(said(on_bar("20", heavy)), (kg("20"), Change::Same, NextReason::NothingEasier));
    let lost = NextReason::NotOnGear { load: kg("61").into() };
    assert_eq!(said(on_bar("61", felt(Effort::Right))), (kg("60"), Change::Easier, lost));
    assert_eq!(
        after(kg("15"), &felt(Effort::Right), &ground(&bar())),
        Err(NoProposal::NothingEasyEnough { easiest: Some(kg("20")) })
    );
    // A fall that the gear cannot make in full ends at its lightest.
    assert_eq!(load_of(on_bar("22.5", left(0, 2))), kg("20"));
}

#[test]
fn on_assisting_gear_too_heavy_adds_mass() {
    let gear = assisting(steps(0, 2_500, 60_000));
    let next = |effort| said(after(kg("50"), &felt(effort), &ground(&gear)).unwrap());
    assert_eq!(next(Effort::Heavy), (kg("52.5"), Change::Easier, NextReason::FeltHeavy));
    assert_eq!(next(Effort::Light), (kg("47.5"), Change::Harder, NextReason::FeltLight));
    let failed = Set { ending: Ending::Failed, reps: 2, ..SET };
    assert_eq!(load_of(after(kg("60"), &failed, &ground(&gear)).unwrap()), kg("60"));
    let none = said(after(Mass::ZERO, &felt(Effort::Light), &ground(&gear)).unwrap());
    assert_eq!(none, (Mass::ZERO, Change::MoreReps, NextReason::NothingHarder));
}

#[test]
fn a_stack_of_unknown_mass_goes_by_pins() {
    const TWELVE: Pins = Pins::resisting(12);
    let next = |pin, set| {
        let proposal = pins::after(pin, TWELVE, &set, &POLICY).unwrap();
        (proposal.set, proposal.change, proposal.reason)
    };
    let at = |pin| SetTo::Pin { pin };
    let more = NextReason::MoreInReserve { reps: 6, wanted: 2 };
    assert_eq!(next(4, left(6, 2)), (at(5), Change::Harder, more));
    assert_eq!(next(4, SET), (at(4), Change::Same, NextReason::NoAnswer));
    let failed = Set { ending: Ending::Failed, reps: 2, ..SET };
    assert_eq!(next(4, failed), (at(3), Change::Easier, NextReason::NotMade));
    assert_eq!(next(1, failed), (at(1), Change::Same, NextReason::NothingEasier));
    assert_eq!(next(12, felt(Effort::Light)), (at(12), Change::MoreReps, NextReason::NothingHarder));
    assert_eq!(pins::after(4, TWELVE, &left(3, 2), &POLICY).unwrap().rule, Rule::DerivedTable);
    for pin in [0, 13] {
        assert_eq!(pins::after(pin, TWELVE, &SET, &POLICY), Err(NoProposal::Pin { found: pin, most: 12 }));
    }
}

#[test]
fn numbers_out_of_range_are_named() {
    let refused = |load, set: Set| after(load, &set, &ground(&bar())).unwrap_err().to_string();
    let negative = kg("1").times(-1).unwrap();
    assert_eq!(refused(negative, SET), "load: found -1 kg, allowed 0 to 9000 kg");
    assert_eq!(refused(kg("60"), Set { reps: 101, ..SET }), "reps: found 101, allowed 0 to 100");
    assert_eq!(refused(kg("60"), left(11, 2)), "reserve: found 11, allowed 0 to 10");
    assert_eq!(refused(kg("60"), left(2, 11)), "reserve: found 11, allowed 0 to 10");
}
