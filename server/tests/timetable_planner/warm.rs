//! From a timetable that exists back to its order.

use turnabout_server::timetable::check::check;
use turnabout_server::timetable::plan::{order_of, retime};
use turnabout_server::timetable::problem::Problem;

use crate::files::{instance, json, searched, solution};

#[test]
fn the_order_of_a_timetable_costs_no_more_than_it() {
    for name in ["medium-9-snapshot", "medium-10-snapshot"] {
        let evening = instance(&format!("instances/{name}.json"));
        let there = solution(name, &evening);
        let before = check(&evening, &there).unwrap().objective;
        let problem = Problem::new(&evening);
        let orders = order_of(&evening, &problem, &there);
        let best = orders
            .into_iter()
            .map(|order| retime(&evening, &problem, order).unwrap())
            .filter(|plan| plan.verdict.breaches.is_empty())
            .map(|plan| plan.verdict.objective)
            .min()
            .expect("an order without breaches");
        assert!(best <= before, "{name}: {best} from a timetable that costs {before}");
    }
}

#[test]
fn a_few_evaluations_from_a_plan_that_exists_stay_within_two_percent() {
    let published = json("best.json");
    for name in ["medium-9-snapshot", "medium-10-snapshot"] {
        let evening = instance(&format!("instances/{name}.json"));
        let problem = Problem::new(&evening);
        let warm = order_of(&evening, &problem, &solution(name, &evening));
        let (best, alone) =
            (published[name]["objective"].as_i64().unwrap(), published[name]["alone"].as_i64().unwrap());
        for seed in 0..5 {
            let found = searched(&evening, &warm, seed, 500).verdict.objective;
            // The gap of `tests/published/timetable/README.md`, "Measure of quality".
            assert!(
                (found - alone) * 100 <= (best - alone) * 102,
                "{name}, seed {seed}: {found}, best known {best}"
            );
        }
    }
}
