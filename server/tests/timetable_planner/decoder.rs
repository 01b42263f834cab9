//! What the decoder says an order costs is what the checker says of its timetable, for any order at all.

use fastrand::Rng;

use turnabout_server::timetable::decode::Decoder;
use turnabout_server::timetable::plan::{first_orders, retime};
use turnabout_server::timetable::problem::Problem;

use crate::files::{instance, names};
use crate::orders::{nudged, shuffled};

/// All evenings: the published ones and the drawn ones.
fn evenings() -> Vec<String> {
    let of =
        |within: &str| names(within).into_iter().map(|n| format!("{within}/{n}.json")).collect::<Vec<_>>();
    let mut all = of("instances");
    all.extend(of("cpsat/instances"));
    all
}

#[test]
fn its_costs_are_the_checkers() {
    let mut rng = Rng::with_seed(11);
    let mut rules = [0_u32; 8];
    for path in evenings() {
        let evening = instance(&path);
        let problem = Problem::new(&evening);
        let mut decoder = Decoder::new(&problem);
        let first = first_orders(&problem).swap_remove(2);
        let many = if path.contains("large") { 4 } else { 25 };
        for _ in 0..many {
            let order = shuffled(&problem, &first, &mut rng);
            let cost = decoder.decode(&problem, &order);
            let plan = retime(&evening, &problem, order).unwrap();
            assert_eq!(plan.verdict.objective, cost.objective, "{path}");
            for breach in &plan.verdict.breaches {
                rules[usize::from(breach.rule)] += 1;
            }
        }
    }
    // A sequence drawn at random breaks the rotation and works in; nothing else: releases, rests, walks, stations and
    // coaches are kept by how times are worked out. (Of rule 2, only a limit that no start can keep.)
    for rule in [1, 3, 4, 5] {
        assert_eq!(rules[rule], 0, "rule {rule} was broken");
    }
    assert!(rules[6] > 0 && rules[7] > 0, "the draws are too tame: {rules:?}");
}

#[test]
fn first_orders_keep_every_rule() {
    for path in evenings() {
        let evening = instance(&path);
        let problem = Problem::new(&evening);
        let kept = first_orders(&problem)
            .into_iter()
            .map(|order| retime(&evening, &problem, order).unwrap())
            .filter(|plan| plan.verdict.breaches.iter().all(|b| b.rule == 7))
            .count();
        assert!(kept > 0, "{path}: no first order keeps the rules");
    }
}

#[test]
fn what_neighbours_have_in_common_changes_no_cost() {
    let mut rng = Rng::with_seed(12);
    for path in evenings() {
        let evening = instance(&path);
        let problem = Problem::new(&evening);
        let (mut near, mut whole) = (Decoder::new(&problem), Decoder::new(&problem));
        let mut now = first_orders(&problem).swap_remove(2);
        near.decode_and_keep(&problem, &now);
        for step in 0..40 {
            let next = nudged(&problem, &now, &mut rng);
            let cost = whole.decode(&problem, &next);
            let same = near.decode_below(&problem, &next, &now, f64::INFINITY);
            assert_eq!(same, Some(cost), "{path}, step {step}");
            if step % 3 != 0 {
                near.keep(&problem);
                now = next;
            }
        }
    }
}

#[test]
fn what_stops_early_would_have_cost_as_much() {
    let mut rng = Rng::with_seed(13);
    let mut stopped = 0;
    for path in evenings() {
        let evening = instance(&path);
        let problem = Problem::new(&evening);
        let mut decoder = Decoder::new(&problem);
        let now = first_orders(&problem).swap_remove(2);
        let base = decoder.decode_and_keep(&problem, &now).objective as f64;
        for _ in 0..20 {
            let next = nudged(&problem, &now, &mut rng);
            if decoder.decode_below(&problem, &next, &now, base).is_none() {
                stopped += 1;
                let cost = Decoder::new(&problem).decode(&problem, &next);
                assert!(cost.priced(0.0) >= base, "{path}: {cost:?} was given up at {base}");
            }
        }
    }
    assert!(stopped > 0, "nothing ever stopped early");
}
