//! What it takes to look at one order, how that grows with the floor, and that nothing is allocated while orders are
//! looked at.

use std::hint::black_box;
use std::num::NonZeroUsize;
use std::time::{Duration, Instant};

use turnabout_server::timetable::decode::Decoder;
use turnabout_server::timetable::instance::Instance;
use turnabout_server::timetable::order::Order;
use turnabout_server::timetable::plan::{plan, retime};
use turnabout_server::timetable::problem::Problem;
use turnabout_server::timetable::search::{Effort, improve, in_turn};

use crate::asked::Asked;
use crate::looking::median;
use crate::{arithmetic, counting, drawn, table};

/// Groups. Thirty are about what an outlook of a floor with ten stations has: those that train, and the twenty that wait
/// and are planned already.
const GROUPS: [usize; 5] = [10, 20, 30, 40, 80];
/// Where the dice of the evenings start.
const SEED: u64 = 1;
/// Orders that a search looks at.
const ORDERS: u64 = 40_000;
/// Decodes that are measured together, so that the clock is not in the figure, and how often.
const TOGETHER: u32 = 50;
const TRIES: usize = 41;
/// What a decode of ten groups may take, in microseconds.
const OF_TEN: f64 = 200.0;
/// How much longer it may take for eight times the groups: as much longer as they are more, and half of it again.
const OF_EIGHTY: f64 = 12.0;

pub(crate) fn run(asked: &Asked) {
    let orders = if asked.short { ORDERS / 10 } else { ORDERS };
    let unit = arithmetic::unit();
    let measured: Vec<Measured> = GROUPS.iter().map(|groups| Measured::of(*groups, orders)).collect();
    let first = &measured[0];
    let row = |one: &Measured| {
        vec![
            one.groups.to_string(),
            one.members.to_string(),
            one.rounds.to_string(),
            format!("{:.2}", one.evaluation),
            format!("{:.1}", one.evaluation / unit),
            format!("{:.2}", one.evaluation / first.evaluation),
            format!("{:.2}", one.decode),
            format!("{:.1}", one.decode / unit),
            format!("{:.2}", one.decode / first.decode),
            format!("{:.1}", one.event),
            one.of_decodes.to_string(),
            one.of_search.to_string(),
        ]
    };
    let head = [
        "groups",
        "clients",
        "rounds",
        "evaluation, us",
        "to unit",
        "to 10 groups",
        "whole decode, us",
        "to unit",
        "to 10 groups",
        "retimed and checked, us",
        "allocated by 50 decodes",
        "by as many more orders",
    ];
    let title = format!("One order, 1 thread, {orders} orders a search, a unit of {unit:.3} us");
    table::print(&title, &head, &measured.iter().map(row).collect::<Vec<_>>());
    bars(&measured);
}

/// What was asked of these figures, and whether it is so.
fn bars(measured: &[Measured]) {
    let (first, last) = (&measured[0], &measured[measured.len() - 1]);
    let growth = |of: fn(&Measured) -> f64| of(last) / of(first);
    let met = |yes: bool| if yes { "yes" } else { "**no**" }.to_owned();
    let allocated: u64 = measured.iter().map(|one| one.of_decodes + one.of_search).sum();
    let most = growth(|one| one.decode).max(growth(|one| one.evaluation));
    let rows = vec![
        vec![
            format!("a whole decode of 10 groups under {OF_TEN:.0} us"),
            format!("{:.1} us", first.decode),
            met(first.decode < OF_TEN),
        ],
        vec![
            format!("80 groups take at most {OF_EIGHTY:.0} times what 10 take"),
            format!("{most:.1} times"),
            met(most <= OF_EIGHTY),
        ],
        vec![
            "nothing is allocated while orders are looked at".to_owned(),
            allocated.to_string(),
            met(allocated == 0),
        ],
    ];
    table::print("Bars of one order", &["bar", "found", "met"], &rows);
}

/// Figures of one floor; times in microseconds.
struct Measured {
    groups: usize,
    members: usize,
    rounds: usize,
    /// Of an order that a search looks at: most are given up early.
    evaluation: f64,
    /// Of a good order, every turn of it.
    decode: f64,
    /// What an event leads to: the problem compiled, the order's times worked out, the checker's word.
    event: f64,
    /// Allocations of so many decodes.
    of_decodes: u64,
    /// Allocations that a search has more when it looks at twice as many orders.
    of_search: u64,
}

impl Measured {
    fn of(groups: usize, orders: u64) -> Self {
        let instance = drawn::evening(groups, SEED);
        let problem = Problem::new(&instance);
        let order = searched(&instance, orders);
        let mut decoder = Decoder::new(&problem);
        let decode = usual(|| {
            for _ in 0..TOGETHER {
                black_box(decoder.decode(&problem, black_box(&order)));
            }
        }) / f64::from(TOGETHER);
        let event = usual(|| {
            let problem = Problem::new(&instance);
            black_box(retime(&instance, &problem, order.clone()).expect("an order of this instance"));
        });
        let before = counting::count();
        for _ in 0..TOGETHER {
            black_box(decoder.decode(&problem, black_box(&order)));
        }
        let of_decodes = counting::count() - before;
        let members = instance.groups.iter().map(|group| group.members.len()).sum();
        let (evaluation, of_search) = twice_as_many(&problem, &order, orders);
        Self {
            groups,
            members,
            rounds: problem.slots.len(),
            evaluation,
            decode,
            event,
            of_decodes,
            of_search,
        }
    }
}

/// A good order.
fn searched(instance: &Instance, orders: u64) -> Order {
    let done = |evaluations: u64| evaluations as f64 / orders as f64;
    let effort = Effort { seed: SEED, threads: NonZeroUsize::MIN, done: &done, beside: &in_turn };
    let found = plan(instance, &[], &effort).expect("a timetable of this instance");
    assert!(found.verdict.is_valid(), "{}: {:?}", instance.name, found.verdict.faults);
    found.order
}

/// What a search costs more when it looks at twice as many orders: microseconds for each of them, and allocations. What it
/// begins and ends with does not depend on how many it looks at, and is in neither.
fn twice_as_many(problem: &Problem, order: &Order, orders: u64) -> (f64, u64) {
    let search = |orders: u64| {
        let done = |evaluations: u64| evaluations as f64 / orders as f64;
        let effort = Effort { seed: SEED, threads: NonZeroUsize::MIN, done: &done, beside: &in_turn };
        let (before, began) = (counting::count(), Instant::now());
        let found = improve(problem, std::slice::from_ref(order), &effort);
        (micros(began.elapsed()), found.evaluations, counting::count() - before)
    };
    let (once, twice) = (search(orders), search(2 * orders));
    ((twice.0 - once.0) / (twice.1 - once.1) as f64, twice.2.saturating_sub(once.2))
}

/// The median of some tries.
fn usual(mut what: impl FnMut()) -> f64 {
    let tries: Vec<f64> = (0..TRIES)
        .map(|_| {
            let began = Instant::now();
            what();
            micros(began.elapsed())
        })
        .collect();
    median(&tries)
}

fn micros(time: Duration) -> f64 {
    time.as_secs_f64() * 1e6
}
