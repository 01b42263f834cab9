//! What a way costs: the timetable without the group beside the one with it.

use turnabout_protocol::ids::GroupId;
use turnabout_protocol::units::Secs;

use super::limits::{EACH, EVALUATIONS, SEARCHED};
use super::toll::{Toll, last_at};
use super::ways::Way;
use super::{Admission, Side, Weighed};
use crate::floor::outlook::kept::{KeptOrder, PlacedOrder};
use crate::floor::outlook::{Outlook, flat};
use crate::timetable::decode::Decoder;
use crate::timetable::instance::At;
use crate::timetable::order::Order;
use crate::timetable::plan::retime;
use crate::timetable::problem::Problem;
use crate::timetable::search::improve_by;

/// The dice of every small search: the same floor leads to the same proposals.
const SEED: u64 = 1;

/// The ways of a group that are worth proposing, the best first.
pub(super) fn weigh(outlook: &Outlook, kept: &KeptOrder, group: GroupId, ways: &[Way]) -> Vec<Weighed> {
    let Some(place) = outlook.who.group(group).filter(|_| !ways.is_empty()) else { return Vec::new() };
    let mut base = outlook.clone();
    base.instance.groups.remove(place);
    base.who.groups.remove(place);
    let problem = Problem::new(&base.instance);
    let order = searched(&problem, &[flat::flat(&base, &problem, &kept.fitted(&base))]);
    let Ok(plan) = retime(&base.instance, &problem, order) else { return Vec::new() };
    // What the order without the group is, with the group among it where as many rounds of everybody have gone.
    let kept = kept.keep(&base, &flat::placed(&base, &problem, &plan.order));
    let without = Side { outlook: base, plan };
    let mut timed: Vec<(Rank, usize, Timed)> = Vec::new();
    for (n, way) in ways.iter().enumerate() {
        let Some(outlook) = placed_at(outlook, &without, place, way) else { continue };
        let timed_way = Timed::of(outlook, &kept, place);
        timed.push((timed_way.rank, n, timed_way));
    }
    timed.sort_by_key(|(rank, n, _)| (*rank, *n));
    let same = |(one, ..): &(Rank, usize, Timed), (other, ..): &(Rank, usize, Timed)| one == other;
    let mut all: Vec<Weighed> = unlike_first(timed, SEARCHED, same)
        .into_iter()
        .filter_map(|(_, n, timed)| weighed(timed, &without, place, ways.get(n)?))
        .filter(|weighed| broken(&weighed.with) <= broken(&without))
        .collect();
    let cost = |weighed: &Weighed| (broken(&weighed.with), weighed.with.plan.verdict.objective);
    all.sort_by_key(cost);
    let same = |one: &Weighed, other: &Weighed| {
        let told = |of: &Weighed| (of.admission.from, of.admission.works_in, of.admission.longer.clone());
        told(one) == told(other)
    };
    let mut proposed = unlike_first(all, EACH, same);
    proposed.sort_by_key(cost);
    proposed
}

/// Seconds by which rules are broken, then the objective.
type Rank = (i64, i64);

fn broken(side: &Side) -> u64 {
    side.plan.verdict.breach_seconds()
}

/// The first of each kind, then the others, so many in all. What is like another says nothing new.
fn unlike_first<T>(all: Vec<T>, most: usize, same: impl Fn(&T, &T) -> bool) -> Vec<T> {
    let (mut unlike, mut like): (Vec<T>, Vec<T>) = (Vec::new(), Vec::new());
    for one in all {
        let known = unlike.iter().any(|other| same(&one, other));
        if known { like.push(one) } else { unlike.push(one) }
    }
    unlike.extend(like);
    unlike.truncate(most);
    unlike
}

/// A way with its first orders.
struct Timed {
    outlook: Outlook,
    problem: Problem,
    orders: Vec<Order>,
    rank: Rank,
}

impl Timed {
    /// The group among the others, before them, and after them.
    fn of(outlook: Outlook, kept: &KeptOrder, place: usize) -> Self {
        let problem = Problem::new(&outlook.instance);
        let among = kept.fitted(&outlook);
        let moved = |first: bool| {
            let mut sequence = among.sequence.clone();
            sequence.sort_by_key(|at| (at.group == place) != first);
            PlacedOrder { stations: among.stations.clone(), sequence }
        };
        let orders = [moved(true), moved(false), among.clone()];
        let orders: Vec<Order> = orders.iter().map(|placed| flat::flat(&outlook, &problem, placed)).collect();
        let mut decoder = Decoder::new(&problem);
        let ranks = orders.iter().map(|order| decoder.decode(&problem, order).rank());
        let rank = ranks.min().unwrap_or_default();
        Self { outlook, problem, orders, rank }
    }
}

/// What there is to do with the group at the stations of a way, no sooner than those are free that it waits for.
fn placed_at(outlook: &Outlook, without: &Side, place: usize, way: &Way) -> Option<Outlook> {
    let mut outlook = outlook.clone();
    let stations: Option<Vec<usize>> = way.stations.iter().map(|id| outlook.who.station(*id)).collect();
    let stations = stations?;
    let free = way.after.iter().filter_map(|(station, group)| {
        let side = &without.outlook;
        let (station, group) = (side.who.station(*station)?, side.who.group(*group)?);
        last_at(&side.instance, &without.plan.timetable, group, station)
    });
    let free: At = free.max().unwrap_or_default();
    let alone = |station: &usize| outlook.instance.stations.get(*station).is_some_and(|of| !of.work_in);
    let holds: Vec<usize> = stations.iter().copied().filter(alone).collect();
    let group = outlook.instance.groups.get_mut(place)?;
    // What is taken now is nobody else's from now, whoever would have gone first by the order.
    if !way.later {
        group.holds = holds;
        group.holds.sort_unstable();
        group.holds.dedup();
    }
    group.eligible = stations.iter().map(|station| vec![*station]).collect();
    for member in &mut group.members {
        if let Some(first) = member.rounds.first_mut().filter(|_| free > At::default()) {
            first.not_before = first.not_before.max(Some(free));
        }
    }
    Some(outlook)
}

fn weighed(timed: Timed, without: &Side, place: usize, way: &Way) -> Option<Weighed> {
    let Timed { outlook, problem, orders, .. } = timed;
    let plan = retime(&outlook.instance, &problem, searched(&problem, &orders)).ok()?;
    let own = Toll::of(&outlook.instance, &plan.timetable, place);
    let mut longer: Vec<(GroupId, Secs)> = Vec::new();
    for (at, id) in outlook.who.groups().enumerate().filter(|(at, _)| *at != place) {
        let with = Toll::of(&outlook.instance, &plan.timetable, at);
        let before = at - usize::from(at > place);
        let by = with.beyond(Toll::of(&without.outlook.instance, &without.plan.timetable, before));
        longer.extend((by > Secs(0)).then_some((id, by)));
    }
    longer.sort_by_key(|(id, by)| (std::cmp::Reverse(*by), *id));
    let admission = Admission {
        group: outlook.who.groups().nth(place)?,
        block: outlook.who.block(place)?,
        stations: way.stations.clone(),
        from: outlook.who.instant(own.begins?),
        works_in: way.works_in,
        longer,
        own_overrun: own.overrun,
    };
    Some(Weighed { admission, without: without.clone(), with: Side { outlook, plan } })
}

/// The best order met from these by a small search.
fn searched(problem: &Problem, starts: &[Order]) -> Order {
    improve_by(problem, starts, SEED, EVALUATIONS).order
}
