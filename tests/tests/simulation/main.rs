//! A whole floor on a simulated network: the real server, its real journal and the kiosks' real link, in
//! simulated time.
//!
//! A seed stands for a [`Plan`]: who is there, and what goes wrong when. [`world`] runs it; nothing in it is
//! left to the machine it runs on, so that a seed which fails fails again: `SEED=17 cargo test -p turnabout-tests
//! --test simulation`, and with `HISTORY=1` everything that happened is printed.
//!
//! What is simulated differs from a real network in this: nothing is sent twice. A break that TCP would bridge
//! in time is one that holds back what is sent (see [`plan`]); a longer one loses it, and with it the
//! connection, though neither side hears of that. Time goes in steps of five milliseconds.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

mod disk;
#[path = "../../../kiosk/src/face/mod.rs"]
#[allow(dead_code, unreachable_pub, unused_imports, reason = "the kiosk's source, used in part")]
mod face;
mod ghost;
mod hand;
mod history;
mod house;
mod lines;
#[allow(dead_code, unreachable_pub, reason = "the kiosk's source, used in part")]
mod link;
mod network;
mod pause;
mod plan;
mod screen;
mod truth;
mod world;

use std::collections::BTreeMap;
use std::num::NonZero;
use std::panic::catch_unwind;
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};
use std::thread;

use plan::Plan;
use truth::Wrong;
use world::{CURRENT_WITHIN_MS, Planted, Report, run};

const SEEDS: u64 = 50;

/// Runs a seed twice. A report of it, or what is wrong.
fn try_twice(seed: u64) -> Result<Report, String> {
    let plan = Plan::new(seed);
    let report = run(&plan, Planted::Nothing);
    if std::env::var_os("HISTORY").is_some() {
        report.history.iter().for_each(|line| println!("{line}"));
    }
    if let Some(wrong) = report.wrong.first() {
        return Err(format!("{wrong:?} and {} more", report.wrong.len() - 1));
    }
    let again = run(&plan, Planted::Nothing);
    let first = report.history.iter().zip(&again.history).find(|(once, again)| once != again);
    match first {
        Some((once, again)) => Err(format!("not the same again:\n{once}\n{again}")),
        None if report.history.len() != again.history.len() => Err("not as long again".to_owned()),
        None => Ok(report),
    }
}

/// Runs every seed on as many threads as there are processors.
fn try_all(seeds: &[u64]) -> BTreeMap<u64, Result<Report, String>> {
    let (next, reports) = (AtomicU64::new(0), Mutex::new(BTreeMap::new()));
    let work = || {
        while let Some(seed) = seeds.get(usize::try_from(next.fetch_add(1, Ordering::Relaxed)).unwrap()) {
            let tried = catch_unwind(|| try_twice(*seed)).unwrap_or_else(|_| Err("it panicked".to_owned()));
            reports.lock().unwrap().insert(*seed, tried);
        }
    };
    thread::scope(|scope| {
        for _ in 0..thread::available_parallelism().map_or(1, NonZero::get) {
            scope.spawn(work);
        }
    });
    reports.into_inner().unwrap()
}

#[test]
fn whatever_the_network_and_the_machine_do_displays_are_current_soon_and_nothing_is_lost() {
    let seeds = match std::env::var("SEED") {
        Ok(seed) => vec![seed.parse().expect("SEED is a whole number")],
        Err(_) => (0..SEEDS).collect(),
    };
    let (mut histories, mut failures) = (BTreeMap::new(), Vec::new());
    let (mut unwritten, mut untold) = (0, 0);
    for (seed, tried) in try_all(&seeds) {
        let report = match tried {
            Ok(report) => report,
            Err(wrong) => {
                failures.push(format!("SEED={seed}: {wrong}"));
                continue;
            }
        };
        println!("seed {seed}: {report}");
        assert!(report.entries > 0 && report.accepted > 0, "seed {seed}: nothing happens");
        assert!(report.current_after.is_some_and(|after| after <= CURRENT_WITHIN_MS), "seed {seed}");
        unwritten += report.counts.unwritten();
        untold += report.counts.untold();
        if let Some(other) = histories.insert(report.history, seed) {
            failures.push(format!("seeds {other} and {seed} lead to the same"));
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
    let all = seeds.len() > 1;
    assert!(
        !all || (unwritten > 0 && untold > 0),
        "no kill hit a commit: {unwritten} before, {untold} after"
    );
}

#[test]
fn a_planted_display_that_never_comes_back_is_found() {
    let report = run(&Plan::new(0), Planted::GivesUp);
    let stale = |wrong: &Wrong| matches!(wrong, Wrong::Stale { display, .. } if display == "display-0");
    assert!(!report.wrong.is_empty() && report.wrong.iter().all(stale), "{:?}", report.wrong);
}

#[test]
fn a_planted_disk_that_answers_before_it_has_written_is_found() {
    let lost = |wrong: &Wrong| matches!(wrong, Wrong::Lost { .. });
    assert!((0..5).any(|seed| run(&Plan::new(seed), Planted::Lies).wrong.iter().any(lost)));
}
