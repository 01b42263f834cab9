//! The same search finds the same: nothing but seed, threads and evaluations counts.

use std::num::NonZeroUsize;

use turnabout_server::timetable::plan::plan;
use turnabout_server::timetable::search::{Effort, in_turn};

use crate::files::{instance, searched};

#[test]
fn a_search_repeats_itself() {
    let evening = instance("instances/medium-2.json");
    let (a, b) = (searched(&evening, &[], 7, 3_000), searched(&evening, &[], 7, 3_000));
    assert_eq!(a.timetable, b.timetable);
    assert_eq!(a.evaluations, b.evaluations);
    assert_ne!(a.timetable, searched(&evening, &[], 8, 3_000).timetable, "the seed counts for nothing");
}

#[test]
fn threads_count_and_one_is_enough() {
    let evening = instance("instances/medium-1.json");
    for threads in 1..=3 {
        let effort =
            |done| Effort { seed: 1, threads: NonZeroUsize::new(threads).unwrap(), done, beside: &in_turn };
        let done = |n: u64| n as f64 / 2_000.0;
        let a = plan(&evening, &[], &effort(&done)).unwrap();
        let b = plan(&evening, &[], &effort(&done)).unwrap();
        assert_eq!(a.timetable, b.timetable, "{threads} threads");
        assert!(a.verdict.is_valid() && a.verdict.breaches.is_empty());
    }
}

#[test]
fn more_looking_is_never_worse_and_there_is_an_answer_at_once() {
    let evening = instance("instances/medium-4.json");
    let stopped = |_: u64| 1.0;
    let effort = Effort { seed: 1, threads: NonZeroUsize::MIN, done: &stopped, beside: &in_turn };
    let first = plan(&evening, &[], &effort).unwrap();
    assert!(first.verdict.is_valid(), "{:?}", first.verdict.faults);
    let better = searched(&evening, std::slice::from_ref(&first.order), 1, 5_000);
    assert!(better.verdict.objective < first.verdict.objective);
    // By eye, at most three clients a pair, as published beside the instance.
    assert!(better.verdict.objective < 921_454);
}
