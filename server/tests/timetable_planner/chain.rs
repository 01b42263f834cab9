//! Groups that begin when others are over. That they do is read off the timetables here with nothing of the planner's,
//! and the checker looks at each of them again.

use std::num::NonZeroUsize;

use proptest::prelude::*;
use turnabout_protocol::units::Secs;
use turnabout_server::timetable::answer::Timetable;
use turnabout_server::timetable::chain::{Chain, Chained};
use turnabout_server::timetable::check::check;
use turnabout_server::timetable::instance::Instance;
use turnabout_server::timetable::plan::{order_of, plan};
use turnabout_server::timetable::problem::Problem;
use turnabout_server::timetable::search::{Effort, counted, in_turn};

use crate::files::{instance, searched};

const PAUSE: Secs = Secs(120);

fn looked(chain: &Chain, warm: &[&Chained], seed: u64, evaluations: u64) -> Chained {
    let done = counted(evaluations);
    let threads = NonZeroUsize::new(2).expect("two");
    let warm: Vec<_> = warm.iter().map(|made| made.plan.order.clone()).collect();
    chain.plan(&warm, &Effort { seed, threads, done: &done, beside: &in_turn }).expect("it is one of it")
}

/// From when to when each group has turns.
fn spans(instance: &Instance, timetable: &Timetable) -> Vec<(u32, u32)> {
    let mut spans = vec![(u32::MAX, 0); instance.groups.len()];
    for row in &timetable.turns {
        let legs = &instance.groups[row.group].members[row.member].rounds[row.round].legs;
        for (start, turn) in row.starts.iter().zip(legs) {
            let Some((start, turn)) = start.zip(turn.as_ref()) else { continue };
            let span = &mut spans[row.group];
            *span = (span.0.min(start.0), span.1.max(start.0 + turn.length.0));
        }
    }
    spans
}

/// Whoever comes after others begins when these are over, and waits from then on; nothing else about the floor is changed.
fn assert_in_order(chain: &Chain, after: &[Vec<usize>], made: &Chained) {
    let spans = spans(&made.instance, &made.plan.timetable);
    let mut wanted = chain.instance().clone();
    for (group, before) in after.iter().enumerate() {
        for other in before {
            let over = spans[*other].1 + PAUSE.0;
            assert!(
                spans[group].0 >= over,
                "group {group} at {} after {other}, over at {over}",
                spans[group].0
            );
            for member in &mut wanted.groups[group].members {
                member.release.0 = member.release.0.max(over);
            }
        }
    }
    assert_eq!(made.instance, wanted);
    let verdict = check(&made.instance, &made.plan.timetable).expect("it is one of it");
    assert!(verdict.is_valid() && verdict.breaches.is_empty(), "{verdict:?}");
    assert_eq!(verdict, made.plan.verdict);
}

fn after(group: usize, pick: &[bool]) -> Vec<usize> {
    (0..group).filter(|other| pick[*other]).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Any group may come after any that are before it in the list, as many as there are.
    #[test]
    fn whatever_comes_after_what_the_order_is_kept(
        name in prop::sample::select(vec!["small-2", "small-8", "medium-1", "medium-2"]),
        picks in prop::collection::vec(prop::collection::vec(prop::bool::weighted(0.3), 12), 12),
        cap in 1_usize..5,
        seed in 0_u64..100,
    ) {
        let evening = instance(&format!("instances/{name}.json"));
        let count = evening.groups.len();
        let after: Vec<_> = (0..count).map(|group| after(group, &picks[group % 12][..])).collect();
        let chain = Chain::new(evening, after.clone(), PAUSE).expect("each comes after earlier ones");
        let eye = chain.seen(cap).expect("it is one of it");
        assert_in_order(&chain, &after, &eye);
        let found = looked(&chain, &[], seed, 400);
        assert_in_order(&chain, &after, &found);
        prop_assert!(found.plan.verdict.objective <= eye.plan.verdict.objective);
        // Nothing is lost by going on from there.
        let more = looked(&chain, &[&found], seed + 1, 200);
        assert_in_order(&chain, &after, &more);
        prop_assert!(more.plan.verdict.objective <= found.plan.verdict.objective);
    }
}

/// The groups of an evening as one session after another for each coach.
fn by_coach(evening: &Instance) -> Vec<Vec<usize>> {
    let coach = |group: usize| evening.groups[group].coach;
    let last = |group: usize| (0..group).rev().find(|other| coach(*other) == coach(group));
    (0..evening.groups.len()).map(|group| last(group).into_iter().collect()).collect()
}

#[test]
fn a_search_in_parts_repeats_itself_and_finds_more_than_an_eye() {
    let evening = instance("instances/medium-2.json");
    let after = by_coach(&evening);
    assert!(after.iter().filter(|before| !before.is_empty()).count() >= 4, "{after:?}");
    let chain = Chain::new(evening, after.clone(), PAUSE).expect("in order");
    let found = looked(&chain, &[], 3, 4_000);
    assert_in_order(&chain, &after, &found);
    let again = looked(&chain, &[], 3, 4_000);
    assert_eq!((&found.plan.timetable, &found.instance), (&again.plan.timetable, &again.instance));
    assert_eq!(found.plan.evaluations, again.plan.evaluations);
    // Two threads, and each asks how far it is at every so many orders.
    assert!((8_000..10_000).contains(&found.plan.evaluations), "{}", found.plan.evaluations);
    assert_ne!(
        found.plan.timetable,
        looked(&chain, &[], 4, 4_000).plan.timetable,
        "the seed counts for nothing"
    );
    for cap in [1, 3, 6] {
        let eye = chain.seen(cap).expect("it is one of it");
        assert_in_order(&chain, &after, &eye);
        assert!(found.plan.verdict.objective < eye.plan.verdict.objective, "{cap}");
    }
}

/// Where nobody comes after anybody there is one search, the same as of the instance alone.
#[test]
fn nothing_changes_where_nobody_waits_for_anybody() {
    for name in ["medium-1", "medium-4"] {
        let evening = instance(&format!("instances/{name}.json"));
        let chain = Chain::loose(evening.clone());
        let (found, alone) = (looked(&chain, &[], 5, 2_000), searched(&evening, &[], 5, 2_000));
        assert_eq!(found.instance, evening);
        assert_eq!((&found.plan.timetable, found.plan.evaluations), (&alone.timetable, alone.evaluations));
    }
}

/// A timetable of the groups by themselves, in which nobody waits for anybody, breaks rule 1 once they come one after
/// another; what a search goes on from is put in order first.
#[test]
fn who_begins_too_early_is_found_and_put_in_order() {
    let evening = instance("instances/medium-2.json");
    let after = by_coach(&evening);
    let chain = Chain::new(evening.clone(), after.clone(), PAUSE).expect("in order");
    let done = counted(500);
    let effort = Effort { seed: 1, threads: NonZeroUsize::MIN, done: &done, beside: &in_turn };
    let loose = plan(&evening, &[], &effort).expect("it is one of it").timetable;
    let released = chain.released(&loose);
    let verdict = check(&released, &loose).expect("it is one of it");
    assert!(verdict.breaches.iter().any(|breach| breach.rule == 1), "{verdict:?}");
    let orders = order_of(&released, &Problem::new(&released), &loose);
    assert_in_order(&chain, &after, &chain.plan(&orders, &effort).expect("it is one of it"));
}

#[test]
fn nobody_comes_after_themselves_or_somebody_later() {
    let evening = instance("instances/small-2.json");
    assert!(evening.groups.len() >= 2);
    for after in [vec![vec![0]], vec![vec![1]], vec![vec![], vec![1]], vec![vec![]; evening.groups.len() + 1]]
    {
        assert!(Chain::new(evening.clone(), after.clone(), PAUSE).is_none(), "{after:?}");
    }
    assert!(Chain::new(evening, vec![vec![], vec![0]], PAUSE).is_some());
}
