//! Stacks whose labels are mere numbers: our own rules, without a source.

use turnabout_protocol::command::{Effort, Ending};
use turnabout_protocol::load::Load;
use turnabout_protocol::next::{Change, CoachSaid, LoadQuestion, NextReason, PerMille, Rule, SetTo};
use turnabout_protocol::work::Work;
use turnabout_server::training::light::LightSets;
use turnabout_server::training::loads::Direction;
use turnabout_server::training::next::Set;
use turnabout_server::training::next::pins::after;
use turnabout_server::training::no_proposal::NoProposal;
use turnabout_server::training::pins::{Pins, find_on, first};
use turnabout_server::training::rule::LoadRule;
use turnabout_server::training::rule::find::Found;
use turnabout_server::training::scale::{Footing, Scale};
use turnabout_server::training::session::{History, LastSet};
use turnabout_server::training::settle::settle;

use crate::rack::{POLICY, bar, kg};

const TWELVE: Pins = Pins::resisting(12);
const HELPS: Pins = Pins { count: 12, direction: Direction::Assists };

const fn at(pin: u16) -> Load {
    Load::Pin { pin }
}

const fn felt(effort: Effort) -> Set {
    Set {
        work: Work::Reps { least: 10, most: 10 },
        reserve: None,
        reps: 10,
        ending: Ending::Complete,
        effort: Some(effort),
    }
}

fn history(last: Load, before: Option<Load>, reps: u8, days: u16) -> History {
    let set = |load| LastSet { load, goal: Work::reps(10), reps, ending: Ending::Complete };
    History { last: set(last), before: before.map(set), days }
}

fn begins(rule: LoadRule, history: Option<&History>) -> (SetTo, Change, NextReason, Rule) {
    let proposal = first(rule, Work::reps(10), history, TWELVE, &POLICY).expect("a pin to begin with");
    (proposal.set, proposal.change, proposal.reason, proposal.rule)
}

#[test]
fn where_the_stack_helps_a_higher_pin_is_easier() {
    let next = |pin, set| after(pin, HELPS, &set, &POLICY).map(|next| (next.set.load(), next.change));
    assert_eq!(next(7, felt(Effort::Light)), Ok((at(6), Change::Harder)));
    assert_eq!(next(7, felt(Effort::Heavy)), Ok((at(8), Change::Easier)));
    assert_eq!(next(1, felt(Effort::Light)), Ok((at(1), Change::MoreReps)));
    assert_eq!(next(12, felt(Effort::Heavy)), Ok((at(12), Change::Same)));
    let scale = Scale::Pins(HELPS);
    assert_eq!((scale.easiest(), scale.at_hardest(at(20))), (Some(at(12)), None));
    assert!(scale.harder(at(3), at(4)) && !scale.harder(kg("3").into(), at(4)));
}

#[test]
fn a_first_pin_is_the_plans_or_the_last_one_or_the_easiest() {
    let (plan, never) =
        (NextReason::AsPlanned, (SetTo::Pin { pin: 1 }, Change::First, NextReason::NeverHere, Rule::FindIt));
    let fixed = |pin| LoadRule::Fixed { load: at(pin) };
    assert_eq!(begins(fixed(7), None), (SetTo::Pin { pin: 7 }, Change::First, plan, Rule::Plan));
    assert_eq!(begins(fixed(14), None).2, NextReason::NotOnGear { load: at(14) });
    for rule in [LoadRule::FindIt, LoadRule::AsLastTime, LoadRule::ForReserve { reserve: 2 }] {
        assert_eq!(begins(rule, None), never);
    }
    let lately = |days, reps| begins(LoadRule::AsLastTime, Some(&history(at(7), Some(at(7)), reps, days)));
    assert_eq!(lately(3, 10), (SetTo::Pin { pin: 7 }, Change::Same, NextReason::AsLastTime, Rule::TwoForTwo));
    let over = NextReason::OverTheGoal { reps: 2 };
    assert_eq!(lately(3, 12), (SetTo::Pin { pin: 8 }, Change::Harder, over, Rule::TwoForTwo));
    let long = NextReason::LongAway { days: 22 };
    assert_eq!(lately(22, 12), (SetTo::Pin { pin: 6 }, Change::Easier, long, Rule::Practice));
    // By its reserve it goes on from there too: there is no maximum.
    let last = history(at(7), None, 10, 3);
    assert_eq!(begins(LoadRule::ForReserve { reserve: 2 }, Some(&last)).0, SetTo::Pin { pin: 7 });
    // The stack was labelled anew, or has fewer labels now.
    assert_eq!(begins(LoadRule::AsLastTime, Some(&history(kg("40").into(), None, 10, 3))), never);
    let gone = begins(LoadRule::AsLastTime, Some(&history(at(15), None, 10, 3)));
    assert_eq!((gone.0, gone.2), (SetTo::Pin { pin: 12 }, NextReason::NotOnGear { load: at(15) }));
}

#[test]
fn what_needs_a_mass_says_nothing_of_a_pin() {
    let first = |rule| first(rule, Work::reps(10), None, TWELVE, &POLICY);
    let share = LoadRule::ShareOfMax { share: PerMille(700) };
    assert_eq!(first(share), Err(NoProposal::Numbered));
    assert_eq!(first(LoadRule::Fixed { load: kg("40").into() }), Err(NoProposal::OtherScale));
    let rack = bar();
    for (scale, load) in [(Scale::Pins(TWELVE), kg("40").into()), (Scale::Loads(&rack), at(7))] {
        let footing = Footing { scale, policy: &POLICY, one_rm: None };
        assert_eq!(footing.after(load, &felt(Effort::Light)), Err(NoProposal::OtherScale));
        assert_eq!(footing.find_on(load, &felt(Effort::Light)), Err(NoProposal::OtherScale));
        assert_eq!(
            footing.first(LoadRule::Fixed { load }, Work::reps(10), None),
            Err(NoProposal::OtherScale)
        );
        assert_eq!(
            (scale.light_sets(load), scale.next_harder(load), scale.at_hardest(load)),
            (None, None, None)
        );
    }
}

#[test]
fn light_sets_are_forty_and_eighty_percent_of_the_number() {
    let light =
        |pins: Pins, work| pins.light_sets(work).map(|LightSets { technique, ramp }| (technique, ramp));
    for (work, sets) in
        [(10, (4, Some(8))), (7, (2, Some(5))), (3, (1, Some(2))), (2, (1, None)), (1, (1, None))]
    {
        assert_eq!(light(TWELVE, work), Some(sets), "{work}");
    }
    assert_eq!((light(TWELVE, 0), light(TWELVE, 13)), (None, None));
    assert_eq!((light(HELPS, 7), light(HELPS, 12)), (Some((8, None)), Some((12, None))));
}

#[test]
fn a_typed_pin_far_above_the_last_is_asked_about_and_one_pin_never_is() {
    let asks = |typed, last| {
        Footing { scale: Scale::Pins(TWELVE), policy: &POLICY, one_rm: None }.ask_again(at(typed), at(last))
    };
    assert_eq!(asks(12, 10), Some(LoadQuestion::FarFromLast { load: at(12), below: at(10) }));
    assert!(asks(4, 2).is_some() && asks(9, 7).is_some());
    // 13 after 11 is less than a fifth.
    for (typed, last) in [(3, 2), (2, 1), (13, 11), (7, 7), (1, 12)] {
        assert_eq!(asks(typed, last), None, "{typed} {last}");
    }
    assert!(HELPS.asks_again(3, 9, &POLICY) && !HELPS.asks_again(9, 3, &POLICY));
}

#[test]
fn a_pin_is_found_one_by_one_and_stepped_by_the_coach() {
    let found = |effort| find_on(4, &felt(effort), TWELVE, &POLICY).unwrap();
    assert!(
        matches!(found(Effort::Light), Found::Onward(next) if next.set == SetTo::Pin { pin: 5 } && next.rule == Rule::FindIt)
    );
    assert!(matches!(found(Effort::Right), Found::Here(next) if next.set == SetTo::Pin { pin: 4 }));
    assert!(matches!(found(Effort::Heavy), Found::Here(next) if next.set == SetTo::Pin { pin: 3 }));
    let silent = Set { effort: None, ..felt(Effort::Right) };
    assert!(
        matches!(find_on(4, &silent, TWELVE, &POLICY), Ok(Found::Onward(next)) if next.change == Change::Same)
    );
    let Found::Onward(proposed) = found(Effort::Light) else { panic!("onward") };
    let settled = settle(proposed, Some(CoachSaid::Easier { steps: 1 }), None, Scale::Pins(HELPS)).unwrap();
    assert_eq!(settled.set, SetTo::Pin { pin: 6 }, "where the stack helps");
}
