//! Searches by the clock, with what they cost.

use std::fs;
use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicU64, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use turnabout_server::timetable::instance::Instance;
use turnabout_server::timetable::order::Order;
use turnabout_server::timetable::plan::{Plan, plan};
use turnabout_server::timetable::search::{Effort, Part};

/// Searches beside each other: one for each core, as the command line has it.
pub(crate) fn threads() -> NonZeroUsize {
    thread::available_parallelism().unwrap_or(NonZeroUsize::MIN)
}

/// What a search found, and what it took from its first order to the word of the checker.
pub(crate) struct Looked {
    pub(crate) plan: Plan,
    pub(crate) wall: Duration,
    pub(crate) cpu: Duration,
}

/// Searches for so long with all [`threads`], from these orders or, where there are none, from first ones.
///
/// # Panics
/// Where what is found is no valid timetable: quality without the rules is none.
pub(crate) fn look(instance: &Instance, warm: &[Order], seed: u64, budget: Duration) -> Looked {
    let used = AtomicU64::new(0);
    let (began, own) = (Instant::now(), on_cpu());
    let done = |_: u64| began.elapsed().as_secs_f64() / budget.as_secs_f64();
    let of_threads = &used;
    let beside = |parts: &mut [Part<'_>]| {
        thread::scope(|scope| {
            for part in parts {
                scope.spawn(move || {
                    part();
                    of_threads.fetch_add(on_cpu(), Ordering::Relaxed);
                });
            }
        });
    };
    let effort = Effort { seed, threads: threads(), done: &done, beside: &beside };
    let plan =
        plan(instance, warm, &effort).unwrap_or_else(|misfits| panic!("{}: {misfits:?}", instance.name));
    assert!(plan.verdict.is_valid(), "{}: {:?}", instance.name, plan.verdict.faults);
    let cpu = Duration::from_nanos(used.load(Ordering::Relaxed) + (on_cpu() - own));
    Looked { plan, wall: began.elapsed(), cpu }
}

/// Nanoseconds that this thread has been on a CPU, as the kernel counts them.
fn on_cpu() -> u64 {
    // The kernel brings the count up to date whenever it looks for the next thread to run.
    thread::yield_now();
    let text = fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    text.split(' ').next().and_then(|first| first.parse().ok()).unwrap_or(0)
}

/// The middle one of some figures, the lower of two.
pub(crate) fn median<T: Copy + PartialOrd>(figures: &[T]) -> T {
    let mut sorted = figures.to_vec();
    sorted.sort_by(|a, b| a.partial_cmp(b).unwrap_or(std::cmp::Ordering::Equal));
    sorted[(sorted.len() - 1) / 2]
}

/// The middle one of some times, in seconds, as tables show it.
pub(crate) fn median_seconds(times: &[Duration]) -> String {
    format!("{:.3}", median(times).as_secs_f64())
}
