//! What holds for every set on any gear.

use proptest::prelude::*;
use turnabout_protocol::command::{Effort, Ending};
use turnabout_protocol::next::{Change, PerMille, Proposal};
use turnabout_protocol::units::{Mass, MassUnit};
use turnabout_protocol::work::Work;
use turnabout_server::training::loads::Direction;
use turnabout_server::training::next::policy::Policy;
use turnabout_server::training::next::{Ground, Set, after};
use turnabout_server::training::rule::{LoadRule, find, first};
use turnabout_server::training::session::{History, LastSet};

use crate::rack::{Rack, g, load_of};

fn any_rack() -> impl Strategy<Value = Rack> {
    let direction = prop_oneof![Just(Direction::Resists), Just(Direction::Assists)];
    let unit = prop_oneof![Just(MassUnit::Kg), Just(MassUnit::Lb)];
    (prop::collection::btree_set(0_i64..=200_000, 1..=40), unit, direction).prop_map(
        |(loads, unit, direction)| Rack { loads: loads.into_iter().map(g).collect(), unit, direction },
    )
}

fn any_effort() -> impl Strategy<Value = Option<Effort>> {
    prop_oneof![
        Just(None),
        Just(Some(Effort::Light)),
        Just(Some(Effort::Right)),
        Just(Some(Effort::Heavy)),
        (0_u8..=10).prop_map(|reps| Some(Effort::Rir { reps })),
    ]
}

fn any_ending() -> impl Strategy<Value = Ending> {
    prop_oneof![
        Just(Ending::Complete),
        Just(Ending::Short),
        (0_u8..=5).prop_map(|reps| Ending::Helped { reps }),
        Just(Ending::Failed),
        Just(Ending::FormBroken),
        Just(Ending::EquipmentFault),
    ]
}

fn any_set() -> impl Strategy<Value = Set> {
    let work = (1_u8..=15, 0_u8..=4).prop_map(|(least, more)| Work::Reps { least, most: least + more });
    (work, prop::option::of(1_u8..=5), 0_u8..=20, any_ending(), any_effort())
        .prop_map(|(work, reserve, reps, ending, effort)| Set { work, reserve, reps, ending, effort })
}

fn any_policy() -> impl Strategy<Value = Policy> {
    (0_u16..=200, any::<bool>()).prop_map(|(cap, reps_instead)| Policy {
        cap: PerMille(cap),
        reps_instead,
        ..Policy::default()
    })
}

/// How much harder the second load is than the first; negative where it is easier.
fn harder_by(rack: &Rack, from: Mass, to: Mass) -> i64 {
    let more = to.nanograms() - from.nanograms();
    if rack.direction == Direction::Resists { more } else { -more }
}

fn within_cap(rack: &Rack, policy: &Policy, now: Mass, next: Proposal) -> bool {
    harder_by(rack, now, load_of(next)) <= policy.cap.of(now).nanograms()
}

/// A load that is on the rack, or, one time in four, one that is not any more.
fn on(rack: &Rack, pick: prop::sample::Index, off: bool) -> Mass {
    let load = *pick.get(&rack.loads);
    if off { load + Mass::from_grams(333) } else { load }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4_000))]

    #[test]
    fn every_proposal_is_on_the_gear_under_the_cap_and_never_up_after_what_went_wrong(
        rack in any_rack(),
        pick in any::<prop::sample::Index>(),
        off in prop::bool::weighted(0.25),
        set in any_set(),
        policy in any_policy(),
        one_rm in prop::option::of(1_000_i64..=250_000),
    ) {
        let now = on(&rack, pick, off);
        let one_rm = one_rm.map(g);
        let ground = Ground { loads: &rack, policy: &policy, one_rm };
        // Only the gear may say no: every number is in its range.
        let Ok(next) = after(now, &set, &ground) else {
            let easy = rack.loads.iter().any(|load| harder_by(&rack, now, *load) <= 0);
            prop_assert!(!easy || one_rm.is_some());
            return Ok(());
        };
        let load = load_of(next);
        prop_assert!(rack.loads.contains(&load));
        prop_assert!(within_cap(&rack, &policy, now, next));
        let change = harder_by(&rack, now, load);
        match set.ending {
            Ending::Failed | Ending::Helped { .. } | Ending::FormBroken | Ending::EquipmentFault => {
                prop_assert!(change <= 0);
                prop_assert_eq!(next.work, set.work);
            }
            Ending::Complete | Ending::Short | Ending::Stopped => {}
        }
        if set.effort.is_none() || !set.work.is_met_by(set.alone()) {
            prop_assert!(change <= 0);
            prop_assert_eq!(next.work, set.work);
        }
        let said = match (change.signum(), next.work == set.work) {
            (1, true) => Change::Harder,
            (-1, true) => Change::Easier,
            (0, true) => Change::Same,
            (0, false) => Change::MoreReps,
            other => return Err(TestCaseError::fail(format!("both load and work changed: {other:?}"))),
        };
        prop_assert_eq!(next.change, said);
        if let (Some(one_rm), Direction::Resists, 0..=1) = (one_rm, rack.direction, set.alone()) {
            // What one repetition shows is no more than what was known, unless more was left.
            let left = matches!(set.effort, Some(Effort::Rir { reps: 1.. }));
            prop_assert!(left || load < one_rm);
        }
    }

    #[test]
    fn heavier_answers_never_come_to_heavier_loads(
        rack in any_rack(), pick in any::<prop::sample::Index>(), set in any_set(), policy in any_policy(),
    ) {
        let now = *pick.get(&rack.loads);
        let ground = Ground { loads: &rack, policy: &policy, one_rm: None };
        let next = |effort| after(now, &Set { effort: Some(effort), ..set }, &ground).map(load_of);
        let by_reserve: Result<Vec<_>, _> = (0..=10).map(|reps| next(Effort::Rir { reps })).collect();
        let by_word: Result<Vec<_>, _> = [Effort::Heavy, Effort::Right, Effort::Light].map(next).into_iter().collect();
        for row in [by_reserve.unwrap(), by_word.unwrap()] {
            prop_assert!(row.windows(2).all(|pair| harder_by(&rack, pair[0], pair[1]) >= 0), "{:?}", row);
        }
    }

    #[test]
    fn between_sessions_the_same_holds(
        rack in any_rack(),
        pick in any::<prop::sample::Index>(),
        policy in any_policy(),
        reps in 0_u8..=20,
        before in prop::option::of(0_u8..=20),
        ending in any_ending(),
        days in 0_u16..=60,
    ) {
        let load = *pick.get(&rack.loads);
        let last = LastSet { load: load.into(), goal: Work::reps(10), reps, ending };
        let before = before.map(|reps| LastSet { reps, ending: Ending::Complete, ..last });
        let history = History { last, before, days };
        let ground = Ground { loads: &rack, policy: &policy, one_rm: None };
        let next = first(LoadRule::AsLastTime, Work::reps(10), Some(&history), &ground).unwrap();
        prop_assert!(rack.loads.contains(&load_of(next)));
        prop_assert!(within_cap(&rack, &policy, load, next));
        let rises = harder_by(&rack, load, load_of(next)) > 0 || next.change == Change::MoreReps;
        prop_assert!(!rises || (history.two_for_two() && days <= policy.away_days));
    }

    #[test]
    fn finding_a_load_always_comes_to_an_end_on_the_gear(rack in any_rack(), right in 0_i64..=220_000) {
        let policy = Policy::default();
        let ground = Ground { loads: &rack, policy: &policy, one_rm: None };
        let mut load = load_of(find::start(Work::reps(5), &ground).unwrap());
        for _ in 0..=rack.loads.len() {
            let light = harder_by(&rack, load, g(right)) > 0;
            let effort = Some(if light { Effort::Light } else { Effort::Right });
            let set = Set { work: Work::reps(5), reserve: None, reps: 5, ending: Ending::Complete, effort };
            match find::on(load, &set, &ground).unwrap() {
                find::Found::Here(next) => {
                    prop_assert!(rack.loads.contains(&load_of(next)));
                    return Ok(());
                }
                find::Found::Onward(next) => {
                    let step = harder_by(&rack, load, load_of(next));
                    let most = g(20_000).max(PerMille(200).of(load));
                    prop_assert!(step > 0 && step <= most.nanograms());
                    load = load_of(next);
                }
            }
        }
        prop_assert!(false, "more sets than loads");
    }

    #[test]
    fn a_load_from_the_maximum_lies_below_it(
        rack in any_rack(), one_rm in 1_000_i64..=250_000, share in 1_u16..=999, reserve in 0_u8..=5, reps in 2_u8..=10,
    ) {
        let policy = Policy::default();
        let ground = Ground { loads: &rack, policy: &policy, one_rm: Some(g(one_rm)) };
        for rule in [LoadRule::ShareOfMax { share: PerMille(share) }, LoadRule::ForReserve { reserve }] {
            if let Ok(next) = first(rule, Work::reps(reps), None, &ground) {
                prop_assert!(rack.loads.contains(&load_of(next)) && load_of(next) < g(one_rm));
            }
        }
    }
}
