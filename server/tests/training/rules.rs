//! The first working load.

use turnabout_protocol::command::{Effort, Ending};
use turnabout_protocol::next::{Change, NextReason, PerMille, Proposal, Rule};
use turnabout_protocol::units::{Mass, Secs};
use turnabout_protocol::work::Work;
use turnabout_server::training::next::{Ground, Set};
use turnabout_server::training::no_proposal::NoProposal;
use turnabout_server::training::rule::find::{Found, on, start};
use turnabout_server::training::rule::{LoadRule, first};

use crate::rack::{assisting, bar, ground, kg, load_of, steps};

fn knowing(one_rm: &str, rule: LoadRule, work: Work) -> Result<Proposal, NoProposal> {
    let rack = bar();
    first(rule, work, None, &Ground { one_rm: Some(kg(one_rm)), ..ground(&rack) })
}

fn said(proposal: Proposal) -> (Mass, Change, NextReason, Rule) {
    (load_of(proposal), proposal.change, proposal.reason, proposal.rule)
}

#[test]
fn a_planned_load_is_taken_as_it_is_or_the_nearest_lighter_with_a_word() {
    let rack = bar();
    let fixed = |load| first(LoadRule::Fixed { load: kg(load).into() }, Work::reps(8), None, &ground(&rack));
    let planned = (kg("60"), Change::First, NextReason::AsPlanned, Rule::Plan);
    assert_eq!(fixed("60").map(said), Ok(planned));
    let not = NextReason::NotOnGear { load: kg("61").into() };
    assert_eq!(fixed("61").map(said), Ok((kg("60"), Change::First, not, Rule::Plan)));
    assert_eq!(fixed("15"), Err(NoProposal::NothingEasyEnough { easiest: Some(kg("20")) }));
    let below_zero = LoadRule::Fixed { load: kg("5").times(-1).unwrap().into() };
    let refused = first(below_zero, Work::reps(8), None, &ground(&rack)).unwrap_err();
    assert_eq!(refused.to_string(), "load: found -5 kg, allowed 0 to 9000 kg");
}

#[test]
fn a_share_of_the_maximum_is_rounded_down() {
    let share = |share| LoadRule::ShareOfMax { share: PerMille(share) };
    let reason = NextReason::ShareOfMax { share: PerMille(800) };
    assert_eq!(
        knowing("103", share(800), Work::reps(8)).map(said),
        Ok((kg("80"), Change::First, reason, Rule::PercentTable))
    );
    assert_eq!(knowing("100", share(1_000), Work::reps(1)), Err(NoProposal::Maximal));
    for found in [0, 1_001, u16::MAX] {
        let error = NoProposal::Share { found, least: 1, most: 999 };
        assert_eq!(knowing("100", share(found), Work::reps(8)), Err(error));
    }
    let rack = bar();
    assert_eq!(first(share(800), Work::reps(8), None, &ground(&rack)), Err(NoProposal::NoMax));
}

#[test]
fn repetitions_with_reserve_go_by_the_derived_grid() {
    let rule = |reserve| LoadRule::ForReserve { reserve };
    // 5 repetitions at rating 8 of 100 kg: 83 kg by the derived grid, 82.5 on the bar.
    let reason = NextReason::ForReserve { reps: 5, wanted: 2 };
    assert_eq!(
        knowing("100", rule(2), Work::reps(5)).map(said),
        Ok((kg("82.5"), Change::First, reason, Rule::DerivedGrid))
    );
    // A range is looked up by its upper end, the lighter one.
    let range = knowing("100", rule(2), Work::Reps { least: 6, most: 8 });
    assert_eq!(range.map(load_of), Ok(kg("75")));
    assert_eq!(knowing("100", rule(6), Work::reps(5)), Err(NoProposal::Reserve { found: 6, most: 5 }));
    let many = NoProposal::Reps { found: 17, least: 1, most: 15 };
    assert_eq!(knowing("100", rule(2), Work::reps(15)), Err(many));
    assert_eq!(knowing("100", rule(2), Work::Hold { secs: Secs(30) }), Err(NoProposal::Hold));
    assert_eq!(knowing("100", rule(0), Work::reps(1)), Err(NoProposal::Maximal));
    assert_eq!(knowing("100", rule(1), Work::reps(1)).map(load_of), Ok(kg("95")));
}

#[test]
fn no_rule_comes_to_the_maximum_or_above() {
    let planned = knowing("100", LoadRule::Fixed { load: kg("100").into() }, Work::reps(3)).map(said);
    assert_eq!(planned, Ok((kg("97.5"), Change::First, NextReason::NearMax, Rule::Plan)));
    let bar_alone = knowing("20", LoadRule::Fixed { load: kg("30").into() }, Work::reps(3));
    assert_eq!(bar_alone, Err(NoProposal::NothingEasyEnough { easiest: Some(kg("20")) }));
}

#[test]
fn a_share_of_the_maximum_says_nothing_on_assisting_gear() {
    let gear = assisting(steps(5_000, 5_000, 50_000));
    let ground = Ground { one_rm: Some(kg("100")), ..ground(&gear) };
    let rule = LoadRule::ShareOfMax { share: PerMille(500) };
    assert_eq!(first(rule, Work::reps(8), None, &ground), Err(NoProposal::Assisted));
}

#[test]
fn where_the_client_has_never_been_it_starts_with_the_easiest() {
    let rack = bar();
    let never = (kg("20"), Change::First, NextReason::NeverHere, Rule::FindIt);
    for rule in [LoadRule::FindIt, LoadRule::AsLastTime] {
        assert_eq!(first(rule, Work::reps(8), None, &ground(&rack)).map(said), Ok(never));
    }
    let gear = assisting(steps(5_000, 5_000, 50_000));
    assert_eq!(start(Work::reps(8), &ground(&gear)).map(load_of), Ok(kg("50")));
    let nothing = crate::rack::Rack { loads: Vec::new(), ..bar() };
    assert_eq!(start(Work::reps(8), &ground(&nothing)), Err(NoProposal::NothingEasyEnough { easiest: None }));
}

fn felt(effort: Option<Effort>) -> Set {
    Set { work: Work::reps(5), reserve: None, reps: 5, ending: Ending::Complete, effort }
}

#[test]
fn finding_a_load_goes_up_until_it_is_right() {
    let rack = bar();
    let mut load = load_of(start(Work::reps(5), &ground(&rack)).unwrap());
    let mut went = Vec::new();
    while let Found::Onward(next) = {
        // Light up to 50 kg, right from there on.
        let effort = if load < kg("50") { Effort::Light } else { Effort::Right };
        on(load, &felt(Some(effort)), &ground(&rack)).unwrap()
    } {
        assert_eq!(
            (next.change, next.reason, next.rule),
            (Change::Harder, NextReason::FeltLight, Rule::FindIt)
        );
        load = load_of(next);
        went.push(load);
    }
    assert_eq!(went, ["22.5", "25", "30", "35", "40", "47.5", "55"].map(kg));
}

#[test]
fn finding_a_load_ends_with_what_is_too_heavy_and_waits_for_an_answer() {
    let rack = bar();
    let after = |set| on(kg("60"), &set, &ground(&rack)).unwrap();
    assert!(matches!(after(felt(None)), Found::Onward(next) if load_of(next) == kg("60")));
    let heavy = after(felt(Some(Effort::Heavy)));
    assert!(matches!(heavy, Found::Here(next) if load_of(next) == kg("55")), "{heavy:?}");
    let failed = after(Set { ending: Ending::Failed, reps: 3, ..felt(Some(Effort::Light)) });
    assert!(matches!(failed, Found::Here(next) if load_of(next) == kg("55")), "{failed:?}");
    let fault = after(Set { ending: Ending::EquipmentFault, reps: 1, ..felt(None) });
    assert!(matches!(fault, Found::Onward(next) if load_of(next) == kg("60")));
    let top = on(kg("300"), &felt(Some(Effort::Light)), &ground(&rack)).unwrap();
    assert!(matches!(top, Found::Here(next) if next.reason == NextReason::NothingHarder));
}
