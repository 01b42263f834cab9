//! Job shops of the literature, with waiting and without.

use crate::asked::Asked;
use crate::looking::{Looked, look, median, median_seconds, threads};
use crate::published;
use crate::table;

/// `(name, the least makespan, the least without waiting)`, as `tests/published/timetable/README.md` has them.
const OPTIMA: [(&str, i64, i64); 8] = [
    ("ft06", 55, 73),
    ("ft10", 930, 1607),
    ("la01", 666, 971),
    ("la02", 655, 937),
    ("la03", 597, 820),
    ("la04", 590, 887),
    ("la05", 593, 777),
    ("la16", 945, 1575),
];

/// Seconds that each gets.
const TIME: f64 = 10.0;

pub(crate) fn run(asked: &Asked) {
    let time = asked.time(TIME);
    let mut rows = Vec::new();
    for kind in ["jobshop", "nowait"] {
        let mut gaps = Vec::new();
        for (name, shop, nowait) in OPTIMA {
            let optimum = if kind == "jobshop" { shop } else { nowait };
            let name = format!("{name}-{kind}");
            let instance = published::instance(&format!("classic/{name}.json"));
            let looked: Vec<Looked> = asked.seeds().map(|seed| look(&instance, &[], seed, time)).collect();
            let spans: Vec<i64> = looked.iter().map(|one| one.plan.verdict.parts.makespan).collect();
            let gap = |span: i64| (span as f64 / optimum as f64 - 1.0) * 100.0;
            gaps.push(gap(median(&spans)));
            rows.push(row(&name, optimum, &looked, &spans, gap(median(&spans))));
        }
        let mut all = vec![format!("all {kind}"), String::from("-")];
        all.extend(["-"; 3].map(str::to_owned));
        all.push(format!("{:.2}", median(&gaps)));
        all.extend(["-"; 6].map(str::to_owned));
        rows.push(all);
    }
    let head = [
        "shop",
        "optimum",
        "makespan p50",
        "least",
        "most",
        "gap p50, %",
        "at the optimum",
        "breaches, s",
        "threads",
        "CPU, s",
        "wall, s",
        "orders",
    ];
    let title = format!("Job shops, {} s, {} seeds", time.as_secs_f64(), asked.seeds().count());
    table::print(&title, &head, &rows);
}

fn row(name: &str, optimum: i64, looked: &[Looked], spans: &[i64], gap: f64) -> Vec<String> {
    let cpu: Vec<_> = looked.iter().map(|one| one.cpu).collect();
    let wall: Vec<_> = looked.iter().map(|one| one.wall).collect();
    let orders: Vec<u64> = looked.iter().map(|one| one.plan.evaluations).collect();
    let there = spans.iter().filter(|span| **span == optimum).count();
    let breaches = looked.iter().map(|one| one.plan.verdict.breach_seconds()).max().unwrap_or(0);
    vec![
        name.to_owned(),
        optimum.to_string(),
        median(spans).to_string(),
        spans.iter().min().map_or_else(String::new, i64::to_string),
        spans.iter().max().map_or_else(String::new, i64::to_string),
        format!("{gap:.2}"),
        format!("{there} of {}", spans.len()),
        breaches.to_string(),
        threads().to_string(),
        median_seconds(&cpu),
        median_seconds(&wall),
        median(&orders).to_string(),
    ]
}
