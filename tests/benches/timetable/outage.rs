//! A bar goes out of service in the middle of an evening: what the plan is worth at once, from the order that was.

use std::collections::BTreeSet;

use turnabout_server::timetable::answer::Timetable;
use turnabout_server::timetable::instance::{At, Instance, StationKind, Window};
use turnabout_server::timetable::order::Order;
use turnabout_server::timetable::plan::{order_of, seen};
use turnabout_server::timetable::problem::{MOST_SECONDS, Problem};

use crate::asked::Asked;
use crate::looking::{look, median};
use crate::published;
use crate::table;

/// Seconds after which the floor wants to know, and after which the planner has thought it over.
const SOON: f64 = 0.01;
const LATER: f64 = 10.0;
/// Clients at a pair of stations, by eye.
const CAP: usize = 3;
/// How far above the later plan the first may be, and above what part of the floor run by eye.
const BARS: (f64, f64) = (1.01, 0.75);

pub(crate) fn run(asked: &Asked) {
    let (soon, later) = (asked.time(SOON), asked.time(LATER));
    let mut rows = Vec::new();
    for name in published::evenings().iter().filter(|name| published::is_snapshot(name)) {
        let before = published::evening(name);
        let there = published::solution(name, &before);
        for bar in in_use(&before) {
            let out = Out::of(&before, &there, bar);
            let found = |time| -> Vec<(u64, i64)> {
                let seeds = asked.seeds();
                let rank = |seed| {
                    let verdict = look(&out.instance, &out.orders, seed, time).plan.verdict;
                    (verdict.breach_seconds(), verdict.objective)
                };
                seeds.map(rank).collect()
            };
            let (at_once, thought_over) = (median(&found(soon)), found(later));
            let best = thought_over.iter().copied().min().unwrap_or(at_once);
            let eye = seen(&out.instance, CAP).expect("a timetable of this instance").verdict;
            let to = |other: i64| at_once.1 as f64 / other as f64;
            let (to_best, to_eye) = (to(best.1), to(eye.objective));
            let met = to_best <= BARS.0 && to_eye <= BARS.1 && at_once.0 == 0;
            rows.push(vec![
                name.clone(),
                bar.to_string(),
                out.moved.to_string(),
                at_once.1.to_string(),
                median(&thought_over).1.to_string(),
                best.1.to_string(),
                eye.objective.to_string(),
                format!("{:.2}", (to_best - 1.0) * 100.0),
                format!("{to_eye:.2}"),
                at_once.0.to_string(),
                if met { "yes" } else { "**no**" }.to_owned(),
            ]);
        }
    }
    let (soon, later) = (soon.as_secs_f64(), later.as_secs_f64());
    let (at_once, over, best) =
        (format!("after {soon} s, p50"), format!("after {later} s, p50"), format!("best after {later} s"));
    let head = [
        "snapshot",
        "bar",
        "groups moved",
        &at_once,
        &over,
        &best,
        "by eye",
        "above the best, %",
        "to by eye",
        "breaches, s",
        "within 1 % and .75",
    ];
    table::print(&format!("A bar out of service, {} seeds", asked.seeds().count()), &head, &rows);
}

/// Bars at which somebody who has begun trains.
fn in_use(instance: &Instance) -> BTreeSet<usize> {
    let members = instance.groups.iter().flat_map(|group| &group.members);
    let stations = members.filter(|member| member.has_begun()).filter_map(|member| member.stations.as_ref());
    stations.flatten().copied().filter(|at| instance.stations[*at].kind == StationKind::Bar).collect()
}

/// A snapshot without one of its bars.
struct Out {
    instance: Instance,
    /// The old order, with the groups of that bar at each other one.
    orders: Vec<Order>,
    /// Groups that cannot stay where they were.
    moved: usize,
}

impl Out {
    /// The bar is busy from now to the end. Whoever had no other one, or had begun there, goes to any other bar; the
    /// other stations stay as they were settled. Somebody between two exercises walks from the new bar, which differs by
    /// a few seconds from the truth.
    fn of(before: &Instance, there: &Timetable, bar: usize) -> Self {
        let mut instance = before.clone();
        let others: Vec<usize> = (0..instance.stations.len())
            .filter(|at| *at != bar && instance.stations[*at].kind == StationKind::Bar)
            .collect();
        instance.stations[bar].busy = vec![Window { from: before.now, to: At(MOST_SECONDS) }];
        let mut moved = 0;
        for group in &mut instance.groups {
            let settled = group.members.iter().find_map(|member| member.stations.clone());
            let was_there = settled.as_ref().is_some_and(|stations| stations.contains(&bar));
            let mut goes = was_there;
            for (leg, suits) in group.eligible.iter_mut().enumerate() {
                suits.retain(|at| *at != bar);
                goes |= suits.is_empty();
                match &settled {
                    Some(stations) if was_there && stations[leg] != bar => *suits = vec![stations[leg]],
                    _ if suits.is_empty() => suits.clone_from(&others),
                    Some(_) | None => {}
                }
            }
            if was_there {
                group.members.iter_mut().for_each(|member| member.stations = None);
                group.holds.retain(|held| *held != bar);
            }
            moved += usize::from(goes);
        }
        let problem = Problem::new(&instance);
        let orders = others
            .iter()
            .flat_map(|other| order_of(&instance, &problem, &elsewhere(&instance, there, (bar, *other))));
        Self { orders: orders.collect(), moved, instance }
    }
}

/// The timetable with everybody of one station at another, or where that does not suit them at one that does.
fn elsewhere(instance: &Instance, there: &Timetable, (bar, other): (usize, usize)) -> Timetable {
    let mut timetable = there.clone();
    timetable.breaches.clear();
    for (group, rows) in instance.groups.iter().zip(&mut timetable.stations) {
        for stations in rows {
            for (suits, at) in group.eligible.iter().zip(stations).filter(|(_, at)| **at == bar) {
                *at = if suits.contains(&other) { other } else { suits[0] };
            }
        }
    }
    timetable
}
