//! Quality after so much time on the published evenings, snapshots from the published timetables on.

use turnabout_server::timetable::instance::Instance;
use turnabout_server::timetable::order::Order;
use turnabout_server::timetable::plan::order_of;
use turnabout_server::timetable::problem::Problem;

use crate::asked::Asked;
use crate::looking::{Looked, look, median, median_seconds, threads};
use crate::published::{self, Best, CLASSES};
use crate::table;

/// Seconds that every evening gets.
const TIMES: [f64; 3] = [0.01, 1.0, 10.0];
/// Seconds that large ones get as well when asked.
const LONG: f64 = 60.0;

pub(crate) fn run(asked: &Asked) {
    let best = Best::read();
    let mut rows = Vec::new();
    let mut medians: Vec<(&str, f64, f64)> = Vec::new();
    for name in published::evenings() {
        let instance = published::evening(&name);
        let class = published::class(&name);
        let warm = warm(&name, &instance);
        let long = (asked.long && class == "large").then_some(LONG);
        for seconds in TIMES.into_iter().chain(long) {
            let time = asked.time(seconds);
            let looked: Vec<Looked> = asked.seeds().map(|seed| look(&instance, &warm, seed, time)).collect();
            let gaps: Vec<f64> =
                looked.iter().map(|one| best.gap(&name, one.plan.verdict.objective)).collect();
            medians.push((class, time.as_secs_f64(), median(&gaps)));
            rows.push(row(&name, time.as_secs_f64(), !warm.is_empty(), &looked, &gaps));
        }
    }
    let head = [
        "evening",
        "from",
        "budget, s",
        "gap p50, %",
        "least",
        "most",
        "breaches, s",
        "threads",
        "CPU, s",
        "wall, s",
        "orders",
        "CPU us an order",
    ];
    table::print(&format!("Gap to the best known, {} seeds", asked.seeds().count()), &head, &rows);
    classes(&medians);
}

/// The published timetable of a snapshot, as orders; nothing of a whole evening.
fn warm(name: &str, instance: &Instance) -> Vec<Order> {
    if !published::is_snapshot(name) {
        return Vec::new();
    }
    order_of(instance, &Problem::new(instance), &published::solution(name, instance))
}

fn row(name: &str, seconds: f64, warm: bool, looked: &[Looked], gaps: &[f64]) -> Vec<String> {
    let of = |pick: fn(f64, f64) -> f64, from: f64| gaps.iter().copied().fold(from, pick);
    let cpu: Vec<_> = looked.iter().map(|one| one.cpu).collect();
    let wall: Vec<_> = looked.iter().map(|one| one.wall).collect();
    let orders: Vec<u64> = looked.iter().map(|one| one.plan.evaluations).collect();
    let each: Vec<f64> =
        looked.iter().map(|one| one.cpu.as_secs_f64() * 1e6 / one.plan.evaluations.max(1) as f64).collect();
    let breaches = looked.iter().map(|one| one.plan.verdict.breach_seconds()).max().unwrap_or(0);
    vec![
        name.to_owned(),
        if warm { "its timetable" } else { "nothing" }.to_owned(),
        seconds.to_string(),
        format!("{:.2}", median(gaps)),
        format!("{:.2}", of(f64::min, f64::INFINITY)),
        format!("{:.2}", of(f64::max, f64::NEG_INFINITY)),
        breaches.to_string(),
        threads().to_string(),
        median_seconds(&cpu),
        median_seconds(&wall),
        median(&orders).to_string(),
        format!("{:.2}", median(&each)),
    ]
}

/// The median of each class over the medians of its evenings.
fn classes(medians: &[(&str, f64, f64)]) {
    let mut times: Vec<f64> = medians.iter().map(|(_, time, _)| *time).collect();
    times.sort_by(f64::total_cmp);
    times.dedup();
    let mut head = vec!["evenings".to_owned(), "count".to_owned()];
    head.extend(times.iter().map(|time| format!("{time} s")));
    let row = |class: &&str| {
        let of = |time: f64| -> Vec<f64> {
            medians.iter().filter(|one| one.0 == *class && one.1 == time).map(|one| one.2).collect()
        };
        let cell = |time: &f64| match of(*time) {
            gaps if gaps.is_empty() => "-".to_owned(),
            gaps => format!("{:.2}", median(&gaps)),
        };
        let count = of(times[0]).len().to_string();
        [(*class).to_owned(), count].into_iter().chain(times.iter().map(cell)).collect()
    };
    let head: Vec<&str> = head.iter().map(String::as_str).collect();
    let rows: Vec<Vec<String>> = CLASSES.iter().map(row).collect();
    table::print(
        "The median of each class, in percent; snapshots from their timetables, all else from nothing",
        &head,
        &rows,
    );
}
