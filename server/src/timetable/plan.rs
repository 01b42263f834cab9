//! From an instance to a timetable that the checker has looked at.

mod warm;

pub use warm::order_of;

use super::answer::{RoundStarts, Timetable};
use super::build::by_eye;
use super::check::{Misfit, Verdict, check};
use super::decode::{Cost, Decoder};
use super::instance::{At, Instance};
use super::order::Order;
use super::problem::Problem;
use super::search::{Effort, Found, improve};

/// The most clients a pair of stations gets in the orders that a search begins from: more than that on one pair is
/// never good (`super::rotation`).
pub(super) const MOST_BY_EYE: usize = 6;

/// A timetable with what the checker says of it.
#[derive(Clone, Debug)]
pub struct Plan {
    /// The order it came from, which is what is kept when times have to be worked out again.
    pub order: Order,
    /// The timetable, with the rules it cannot keep named as its breaches.
    pub timetable: Timetable,
    /// What the checker found: the objective in its parts.
    pub verdict: Verdict,
    /// How many orders were looked at.
    pub evaluations: u64,
}

/// First orders as an experienced eye would run the floor, with one to six clients on a pair of stations.
#[must_use]
pub fn first_orders(problem: &Problem) -> Vec<Order> {
    let mut decoder = Decoder::new(problem);
    (1..=MOST_BY_EYE).map(|cap| by_eye(problem, &mut decoder, cap)).collect()
}

/// Looks for a good timetable, from the orders given or, where there are none, from [`first_orders`].
///
/// # Errors
///
/// Where the checker cannot read the timetable as one of this instance, which is never shown.
pub fn plan(instance: &Instance, warm: &[Order], effort: &Effort<'_>) -> Result<Plan, Vec<Misfit>> {
    let problem = Problem::new(instance);
    let Found { order, evaluations, .. } = if warm.is_empty() {
        improve(&problem, &first_orders(&problem), effort)
    } else {
        improve(&problem, warm, effort)
    };
    looked_at(instance, &problem, order, evaluations)
}

/// The timetable of a floor that is run by eye, with at most `cap` clients at a pair of stations, without any search:
/// the order of [`by_eye`], in which nobody begins later than they could for the sake of what comes after.
///
/// # Errors
///
/// As [`plan`].
pub fn seen(instance: &Instance, cap: usize) -> Result<Plan, Vec<Misfit>> {
    let problem = Problem::new(instance);
    let mut decoder = Decoder::new(&problem);
    let order = by_eye(&problem, &mut decoder, cap);
    let timetable = timetable_of(instance, &problem, &order, |op| decoder.start(op));
    with_breaches(instance, order, timetable, 1)
}

/// The timetable of one order, without any search.
///
/// # Errors
///
/// As [`plan`].
pub fn retime(instance: &Instance, problem: &Problem, order: Order) -> Result<Plan, Vec<Misfit>> {
    looked_at(instance, problem, order, 1)
}

/// The order's exact times, and the checker's word on them.
fn looked_at(
    instance: &Instance,
    problem: &Problem,
    order: Order,
    evaluations: u64,
) -> Result<Plan, Vec<Misfit>> {
    let mut decoder = Decoder::new(problem);
    let _: Cost = decoder.decode(problem, &order);
    let timetable = timetable_of(instance, problem, &order, |op| decoder.start(op));
    with_breaches(instance, order, timetable, evaluations)
}

/// A timetable that names the rules it breaks.
pub(super) fn with_breaches(
    instance: &Instance,
    order: Order,
    mut timetable: Timetable,
    evaluations: u64,
) -> Result<Plan, Vec<Misfit>> {
    let mut verdict = check(instance, &timetable)?;
    if !verdict.breaches.is_empty() {
        timetable.breaches.clone_from(&verdict.breaches);
        verdict = check(instance, &timetable)?;
    }
    Ok(Plan { order, timetable, verdict, evaluations })
}

/// An order with the start of every turn, in the form of a timetable.
pub(super) fn timetable_of(
    instance: &Instance,
    problem: &Problem,
    order: &Order,
    start: impl Fn(u32) -> i32,
) -> Timetable {
    let mut stations = Vec::with_capacity(instance.groups.len());
    let mut turns = Vec::with_capacity(problem.slots.len());
    for (g, group) in instance.groups.iter().enumerate() {
        let legs = group.eligible.len();
        let row = |m: usize| (0..legs).map(|l| usize::from(order.stations[m * problem.width + l])).collect();
        stations.push(problem.members_of(g).map(row).collect());
        for (member, m) in problem.members_of(g).enumerate() {
            let person = &problem.members[m];
            for s in person.first_slot..person.first_slot + person.slots {
                let slot = &problem.slots[s as usize];
                if !slot.chained {
                    let starts = vec![None; legs];
                    turns.push(RoundStarts { group: g, member, round: slot.round as usize, starts });
                }
                let Some(row) = turns.last_mut() else { continue };
                for o in slot.first_op..slot.first_op + u32::from(slot.ops) {
                    let start = u32::try_from(start(o)).unwrap_or(0);
                    row.starts[usize::from(problem.ops[o as usize].leg)] = Some(At(start));
                }
            }
        }
    }
    Timetable { instance: instance.name.clone(), stations, turns, breaches: Vec::new() }
}
