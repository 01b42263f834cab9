//! Job shops of the literature: ft from Fisher & Thompson 1963, la from Lawrence 1984; optima as
//! `tests/published/timetable/README.md` states them, proved there with a CP solver.

use crate::files::{instance, searched};

/// `(name, the least makespan without waiting, the least with)`.
const OPTIMA: [(&str, i64, i64); 6] = [
    ("ft06", 73, 55),
    ("la01", 971, 666),
    ("la02", 937, 655),
    ("la03", 820, 597),
    ("la04", 887, 590),
    ("la05", 777, 593),
];

#[test]
fn without_waiting_they_come_within_four_percent() {
    for (name, optimum, _) in OPTIMA {
        let found = searched(&instance(&format!("classic/{name}-nowait.json")), &[], 1, 150_000);
        assert!(found.verdict.breaches.is_empty(), "{name}: {:?}", found.verdict.breaches);
        let makespan = found.verdict.parts.makespan;
        assert!(makespan >= optimum, "{name}: {makespan} is below the optimum {optimum}");
        assert!(makespan * 100 <= optimum * 104, "{name}: {makespan}, the optimum is {optimum}");
    }
}

#[test]
fn with_waiting_they_come_within_six_percent_and_the_easy_ones_out_best() {
    for (name, _, optimum) in OPTIMA {
        let found = searched(&instance(&format!("classic/{name}-jobshop.json")), &[], 1, 60_000);
        assert!(found.verdict.breaches.is_empty(), "{name}: {:?}", found.verdict.breaches);
        let makespan = found.verdict.parts.makespan;
        assert!(makespan >= optimum, "{name}: {makespan} is below the optimum {optimum}");
        let allowed = if matches!(name, "ft06" | "la01" | "la05") { optimum } else { optimum * 106 / 100 };
        assert!(makespan <= allowed, "{name}: {makespan}, the optimum is {optimum}");
    }
}
