//! What becomes of a proposal, and of a typed load.

use turnabout_protocol::next::{
    Change, CoachSaid, LoadQuestion, NextReason, PerMille, Proposal, Rule, SetTo, Settled,
};
use turnabout_protocol::units::Mass;
use turnabout_protocol::work::Work;
use turnabout_server::training::pins::Pins;
use turnabout_server::training::scale::Scale;
use turnabout_server::training::settle::{Before, SettleError, settle};
use turnabout_server::training::typed::ask_again;

use crate::rack::{assisting, bar, ground, kg, steps};

fn at(load: &str) -> SetTo {
    SetTo::Mass { load: kg(load) }
}

fn more_reps() -> Proposal {
    let reason = NextReason::StepTooBig { above: kg("22.5"), share: PerMille(100) };
    Proposal { set: at("20"), work: Work::reps(9), change: Change::MoreReps, reason, rule: Rule::ThreeWords }
}

fn heavier() -> Proposal {
    let (reason, rule) = (NextReason::FeltLight, Rule::ThreeWords);
    Proposal { set: at("62.5"), work: Work::reps(8), change: Change::Harder, reason, rule }
}

const BEFORE: Option<Before> =
    Some(Before { set: SetTo::Mass { load: Mass::from_grams(60_000) }, work: Work::reps(8) });

#[test]
fn a_proposal_is_taken_or_overridden_and_both_are_kept() {
    let rack = bar();
    let settled = |said| settle(heavier(), said, BEFORE, Scale::Loads(&rack)).unwrap();
    let kept = |said, load| Settled { proposed: heavier(), said, set: at(load), work: Work::reps(8) };
    for (said, load) in [
        (Some(CoachSaid::Accept), "62.5"),
        (Some(CoachSaid::Harder { steps: 2 }), "67.5"),
        (Some(CoachSaid::Easier { steps: 1 }), "60"),
        // Unanswered is the same load.
        (None, "60"),
    ] {
        assert_eq!(settled(said), kept(said, load));
    }
    let wire = serde_json::to_value(settled(Some(CoachSaid::Harder { steps: 2 }))).unwrap();
    assert_eq!(wire["said"], serde_json::json!({ "said": "harder", "steps": 2 }));
    assert_eq!(
        serde_json::from_value::<Settled>(wire).unwrap(),
        settled(Some(CoachSaid::Harder { steps: 2 }))
    );
}

#[test]
fn a_repetition_more_goes_with_the_load_it_was_meant_for() {
    let rack = bar();
    let before = Some(Before { set: at("20"), work: Work::reps(8) });
    let settled = |said| {
        let settled = settle(more_reps(), said, before, Scale::Loads(&rack)).unwrap();
        (settled.set, settled.work)
    };
    assert_eq!(settled(Some(CoachSaid::Accept)), (at("20"), Work::reps(9)));
    assert_eq!(settled(Some(CoachSaid::Harder { steps: 1 })), (at("22.5"), Work::reps(8)));
    assert_eq!(settled(None), (at("20"), Work::reps(8)));
}

#[test]
fn a_first_load_has_nothing_before_it() {
    let rack = bar();
    let first = Proposal { change: Change::First, ..heavier() };
    assert_eq!(settle(first, None, None, Scale::Loads(&rack)).unwrap().set, at("62.5"));
}

#[test]
fn an_override_stays_on_the_gear() {
    let rack = bar();
    let off = |said, scale| settle(heavier(), Some(said), BEFORE, scale).map(|settled| settled.set);
    let loads = Scale::Loads(&rack);
    for steps in [0, 11] {
        let error = SettleError::Steps { found: steps, most: 10 };
        assert_eq!(off(CoachSaid::Harder { steps }, loads), Err(error));
    }
    let short = steps(60_000, 2_500, 65_000);
    let ends = Err(SettleError::GearEnds { reached: 1 });
    assert_eq!(off(CoachSaid::Harder { steps: 2 }, Scale::Loads(&short)), ends);
    assert_eq!(off(CoachSaid::Easier { steps: 2 }, Scale::Loads(&short)), ends);
    assert_eq!(
        off(CoachSaid::Easier { steps: 1 }, Scale::Pins(Pins::resisting(12))),
        Err(SettleError::OtherGear)
    );
    let gear = assisting(bar());
    assert_eq!(off(CoachSaid::Easier { steps: 1 }, Scale::Loads(&gear)), Ok(at("65")));
}

#[test]
fn pins_are_stepped_within_the_stack() {
    let pin = |pin| Proposal { set: SetTo::Pin { pin }, ..heavier() };
    let off = |from, said| {
        settle(pin(from), Some(said), None, Scale::Pins(Pins::resisting(12))).map(|settled| settled.set)
    };
    assert_eq!(off(4, CoachSaid::Harder { steps: 2 }), Ok(SetTo::Pin { pin: 6 }));
    assert_eq!(off(12, CoachSaid::Harder { steps: 1 }), Err(SettleError::GearEnds { reached: 0 }));
    assert_eq!(off(1, CoachSaid::Easier { steps: 1 }), Err(SettleError::GearEnds { reached: 0 }));
}

#[test]
fn a_typed_load_far_above_the_last_is_asked_about_once() {
    // Common practice, no source: from 20 % on.
    let rack = bar();
    let asks = |typed, last| ask_again(kg(typed), kg(last), &ground(&rack));
    let far = LoadQuestion::FarFromLast { load: kg("60").into(), below: kg("50").into() };
    assert_eq!(asks("60", "50"), Some(far));
    assert!(asks("500", "50").is_some());
    for (typed, last) in [("57.5", "50"), ("50", "50"), ("20", "50")] {
        assert_eq!(asks(typed, last), None, "{typed} {last}");
    }
    let gear = assisting(steps(0, 2_500, 60_000));
    assert!(ask_again(kg("40"), kg("50"), &ground(&gear)).is_some());
    assert_eq!(ask_again(kg("60"), kg("50"), &ground(&gear)), None);
}
