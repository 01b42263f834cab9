//! Optima that somebody else proved: of the small published instances, and of the drawn ones of
//! `tests/published/timetable/cpsat/`, where OR-Tools CP-SAT found and proved them with a model of its own.

use crate::files::{instance, json, names, searched};

#[test]
fn small_evenings_come_out_best() {
    let best = json("best.json");
    for name in names("instances").iter().filter(|n| n.starts_with("small")) {
        let evening = instance(&format!("instances/{name}.json"));
        let optimum = best[name]["objective"].as_i64().unwrap();
        for seed in 0..3 {
            let found = searched(&evening, &[], seed, 20_000);
            assert_eq!(found.verdict.objective, optimum, "{name}, seed {seed}");
            assert!(found.verdict.breaches.is_empty(), "{name}: {:?}", found.verdict.breaches);
        }
    }
}

#[test]
fn no_drawn_evening_is_cheaper_than_its_proved_optimum_and_nearly_all_come_out_at_it() {
    let optima = json("cpsat/optima.json");
    let mut missed = Vec::new();
    for name in names("cpsat/instances") {
        let evening = instance(&format!("cpsat/instances/{name}.json"));
        let optimum = optima["optima"][&name]["objective"].as_i64().unwrap();
        let found = searched(&evening, &[], 1, 20_000);
        assert!(found.verdict.breaches.is_empty(), "{name}: {:?}", found.verdict.breaches);
        let objective = found.verdict.objective;
        assert!(objective >= optimum, "{name}: {objective} is below the proved optimum {optimum}");
        assert!(
            objective * 100 <= optimum * 102,
            "{name}: {objective} is more than two percent above {optimum}"
        );
        if objective != optimum {
            missed.push(name);
        }
    }
    // Times are worked out in three passes, not exactly: these few differ by up to one and a half percent.
    assert!(missed.len() <= 3, "not at the proved optimum: {missed:?}");
}
