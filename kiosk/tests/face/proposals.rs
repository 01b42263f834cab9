//! What a station says of the load that is proposed for the coming set.

use turnabout_protocol::load::Load;
use turnabout_protocol::next::{Change, CoachSaid, NextReason, SetTo};
use turnabout_protocol::text::Language;
use turnabout_protocol::units::{MassUnit, Secs};
use turnabout_protocol::view::{ProposalPart, SetName, StationPart};
use turnabout_protocol::work::Work;

use crate::panels;
use crate::scenes::*;

fn in_both_languages(part: &StationPart) -> [String; 2] {
    Language::ALL.map(|language| {
        let face = Sample::new("", view(vec![part.clone()])).face(language);
        panels(&face)[0].proposal.clone()
    })
}

fn check(part: ProposalPart, en: &str, de: &str) {
    assert_eq!(in_both_languages(&bench_with(part)), [en, de]);
}

fn light() -> ProposalPart {
    proposed("62.5 kg", Change::Harder, NextReason::FeltLight)
}

#[test]
fn an_open_proposal_says_that_the_coach_decides_and_the_load_that_holds_stays_large() {
    let station = bench_with(light());
    let said = in_both_languages(&station);
    // How a set felt is between the client and the coach: anybody can read a station.
    assert_eq!(said, ["Coach decides: 62.5 kg next.", "Coach entscheidet: 62,5 kg als Nächstes."]);
    let face = Sample::new("", view(vec![station])).face(Language::En);
    assert_eq!(panels(&face)[0].load.number, "60");
}

#[test]
fn one_repetition_more_names_the_repetitions() {
    check(
        too_big(),
        "Coach decides: 60 kg, 11 reps next. The next step, 62.5 kg, is more than 2.5 % at once.",
        "Coach entscheidet: 60 kg, 11 Wdh. als Nächstes. Der nächste Schritt, 62,5 kg, ist mehr als 2,5 % auf einmal.",
    );
    let taken = said(too_big(), CoachSaid::Accept, "60 kg");
    assert!(in_both_languages(&bench_with(taken))[0].starts_with("60 kg, 11 reps: the next step, 62.5 kg,"));
    let mut range = too_big();
    range.proposal.work = Work::Reps { least: 9, most: 11 };
    assert!(in_both_languages(&bench_with(range))[0].starts_with("Coach decides: 60 kg, 9 to 11 reps next."));
}

#[test]
fn repetitions_that_change_with_the_load_are_named_too() {
    let mut fewer = light();
    fewer.proposal.work = Work::Hold { secs: Secs(30) };
    assert!(in_both_languages(&bench_with(fewer))[0].starts_with("Coach decides: 62.5 kg, hold 30 s next."));
}

#[test]
fn what_the_coach_took_is_said_with_its_reason_and_what_the_coach_chose_as_such() {
    let taken = said(light(), CoachSaid::Accept, "62.5 kg");
    check(taken, "62.5 kg: the coach chose it.", "62,5 kg: vom Coach gewählt.");
    let chosen = said(light(), CoachSaid::Harder { steps: 1 }, "65 kg");
    check(chosen, "65 kg: the coach chose it.", "65 kg: vom Coach gewählt.");
    let stayed = said(light(), CoachSaid::Easier { steps: 1 }, "60 kg");
    check(stayed, "60 kg: the coach chose it.", "60 kg: vom Coach gewählt.");
}

#[test]
fn what_was_made_another_load_since_is_not_explained_by_what_was_proposed() {
    check(said(light(), CoachSaid::Accept, "60 kg"), "", "");
    check(said(light(), CoachSaid::Harder { steps: 1 }, "60 kg"), "", "");
    // A display is told one step each way.
    check(said(light(), CoachSaid::Harder { steps: 2 }, "67.5 kg"), "", "");
}

#[test]
fn a_first_load_and_one_that_stays_give_their_reason_alone_where_there_is_something_to_read() {
    let last = proposed("60 kg", Change::First, NextReason::AsLastTime);
    check(last, "As last time here.", "Wie beim letzten Mal hier.");
    let fault = proposed("60 kg", Change::Same, NextReason::GearFailed);
    let same = "The gear failed, so the same again.";
    assert_eq!(in_both_languages(&bench_with(fault.clone()))[0], same);
    assert_eq!(in_both_languages(&bench_with(said(fault, CoachSaid::Accept, "60 kg")))[0], same);
    check(proposed("60 kg", Change::Same, NextReason::TooFewReps { least: 8 }), "", "");
    check(proposed("60 kg", Change::Same, NextReason::AsItShould), "", "");
    check(proposed("60 kg", Change::Same, NextReason::NoAnswer), "", "");
}

#[test]
fn nothing_is_proposed_under_a_lifter() {
    let mut station = bench_with(light());
    station.turn.as_mut().unwrap().phase = under_way(-13);
    assert_eq!(in_both_languages(&station), ["", ""]);
}

#[test]
fn a_pair_of_dumbbells_is_two() {
    let mut station = bench_with(light());
    let turn = station.turn.as_mut().unwrap();
    turn.load = Some(pair("20 kg"));
    turn.proposal = Some(proposed("22.5 kg", Change::Harder, NextReason::FeltLight));
    assert_eq!(in_both_languages(&station)[0], "Coach decides: 2 × 22.5 kg next.");
}

#[test]
fn masses_are_read_as_the_gear_is_stamped() {
    let mut pounds = light();
    pounds.unit = MassUnit::Lb;
    pounds.proposal.set = SetTo::Mass { load: stamped("135 lb") };
    assert_eq!(in_both_languages(&bench_with(pounds))[0], "Coach decides: 135 lb next.");
}

#[test]
fn missing_plates_are_named_with_how_many_there_are() {
    let missing = |kinds: &[(&str, u8, u8, u8)], language| {
        let part = lacking(bench_1(coming(rest(57), 57, 57, &[])), kinds);
        let face = Sample::new("", view(vec![part])).face(language);
        panels(&face)[0].missing.clone()
    };
    let pair = [("20", 4, 0, 1), ("2.5", 2, 2, 0)];
    assert_eq!(missing(&pair, Language::En), "missing: 2 × 2.5 kg");
    assert_eq!(missing(&pair, Language::De), "fehlt: 2 × 2.5 kg");
    assert_eq!(missing(&[("20", 4, 0, 1)], Language::En), "");
    let many = [("20", 4, 2, 0), ("10", 4, 4, 0), ("5", 2, 2, 0), ("2.5", 2, 2, 0)];
    assert_eq!(missing(&many, Language::En), "missing: 2 × 20 kg, 4 × 10 kg, …");
}

#[test]
fn a_ramp_set_is_named_as_one() {
    let mut part = bench_1(coming(rest(20), 20, 20, &[]));
    part.turn.as_mut().unwrap().set = SetName::Ramp;
    for (language, name) in [(Language::En, "ramp set"), (Language::De, "Steigerungssatz")] {
        let face = Sample::new("", view(vec![part.clone()])).face(language);
        assert_eq!(panels(&face)[0].set, name);
    }
}

#[test]
fn a_pin_of_a_stack_of_numbers_is_proposed_and_chosen_by_its_number() {
    let mut pins = light();
    pins.proposal.set = SetTo::Pin { pin: 8 };
    let pin = |pin| Some(Load::Pin { pin });
    (pins.load, pins.easier, pins.harder) = (pin(7), pin(7), pin(9));
    let row = |part: ProposalPart| {
        let mut station = row_with(on_numbers(7, Some(7)));
        station.turn.as_mut().unwrap().proposal = Some(part);
        station
    };
    let said = in_both_languages(&row(pins.clone()));
    assert_eq!(said, ["Coach decides: pin 8 next.", "Coach entscheidet: Pin 8 als Nächstes."]);
    let chosen = ProposalPart { said: Some(CoachSaid::Harder { steps: 1 }), load: pin(9), ..pins };
    assert_eq!(in_both_languages(&row(chosen))[0], "Pin 9: the coach chose it.");
}
