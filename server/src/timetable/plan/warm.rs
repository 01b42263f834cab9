//! The order behind a timetable: who comes before whom wherever two rounds meet.

use std::collections::BTreeSet;

use crate::timetable::answer::Timetable;
use crate::timetable::instance::Instance;
use crate::timetable::order::Order;
use crate::timetable::problem::Problem;

/// The orders to begin from where a timetable exists: one in which every round waits for its start in the timetable,
/// and one in which each begins as early as that sequence allows. The timetable must be one of this instance.
///
/// A sequence by first starts alone would be wrong: of two rounds the one that begins later can be the first at a
/// station that both use. So whoever is first where two meet comes first, and first starts only decide between rounds
/// that do not meet. Where two rounds pass each other between two stations, which a sequence cannot say, the earlier
/// start goes first.
#[must_use]
pub fn order_of(instance: &Instance, problem: &Problem, timetable: &Timetable) -> Vec<Order> {
    let mut order = Order {
        stations: problem.settled.clone(),
        sequence: Vec::with_capacity(problem.slots.len()),
        delays: vec![0; problem.slots.len()],
    };
    for (g, rows) in timetable.stations.iter().enumerate().take(instance.groups.len()) {
        for (m, row) in problem.members_of(g).zip(rows) {
            for (leg, &station) in row.iter().enumerate() {
                order.stations[m * problem.width + leg] = station as u16;
            }
        }
    }
    let starts = starts_of(problem, timetable);
    order.sequence = sequence(problem, &order, &starts);
    let mut held = order.clone();
    for (slot, row) in starts.iter().enumerate() {
        if problem.slots[slot].legs_done == 0 {
            held.delays[slot] = row.first().copied().unwrap_or(0);
        }
    }
    vec![held, order]
}

/// Starts of the turns of every round, in the order of its turns.
fn starts_of(problem: &Problem, timetable: &Timetable) -> Vec<Vec<i32>> {
    let mut starts = vec![Vec::new(); problem.slots.len()];
    for row in &timetable.turns {
        let Some(m) = problem.members_of(row.group).nth(row.member) else { continue };
        let person = &problem.members[m];
        let own = &problem.slots[person.first_slot as usize..(person.first_slot + person.slots) as usize];
        for (k, slot) in own.iter().enumerate().filter(|(_, slot)| slot.round as usize == row.round) {
            let ops = &problem.ops[slot.first_op as usize..][..usize::from(slot.ops)];
            let start = |leg: u8| row.starts.get(usize::from(leg)).copied().flatten();
            starts[person.first_slot as usize + k] =
                ops.iter().filter_map(|op| start(op.leg)).map(|at| at.0 as i32).collect();
        }
    }
    starts
}

/// Sorts the rounds so that whoever is first at a station or a coach, or of one member, comes first.
fn sequence(problem: &Problem, order: &Order, starts: &[Vec<i32>]) -> Vec<u32> {
    let slots = problem.slots.len();
    let mut after: Vec<BTreeSet<u32>> = vec![BTreeSet::new(); slots];
    let mut before = vec![0_u32; slots];
    let mut link = |mut uses: Vec<(i32, u32)>| {
        uses.sort_unstable();
        for pair in uses.windows(2) {
            let (a, b) = (pair[0].1, pair[1].1);
            if a != b && after[a as usize].insert(b) {
                before[b as usize] += 1;
            }
        }
    };
    let ops = |s: u32| {
        let slot = &problem.slots[s as usize];
        (0..u32::from(slot.ops)).map(move |k| (k as usize, slot.first_op + k))
    };
    let all = 0..slots as u32;
    for station in 0..problem.places.len() {
        link(
            all.clone()
                .flat_map(|s| ops(s).map(move |(k, o)| (s, k, o)))
                .filter(|&(s, _, o)| {
                    let leg = problem.ops[o as usize].leg;
                    usize::from(order.station(problem, problem.slots[s as usize].member, leg)) == station
                })
                .filter_map(|(s, k, _)| Some((*starts[s as usize].get(k)?, s)))
                .collect(),
        );
    }
    for coach in 0..problem.coaches.len() {
        link(
            all.clone()
                .filter(|&s| usize::from(problem.slots[s as usize].coach) == coach)
                .flat_map(|s| ops(s).map(move |(k, o)| (s, k, o)))
                .filter(|&(_, _, o)| problem.ops[o as usize].spot_from >= 0)
                .filter_map(|(s, k, o)| {
                    Some((starts[s as usize].get(k)? + problem.ops[o as usize].spot_from, s))
                })
                .collect(),
        );
    }
    for person in &problem.members {
        link((0..person.slots).map(|k| (k as i32, person.first_slot + k)).collect());
    }
    let key = |s: u32| (starts[s as usize].first().copied().unwrap_or(0), s);
    let mut waiting: BTreeSet<(i32, u32)> = all.map(key).collect();
    let mut sorted = Vec::with_capacity(slots);
    while let Some(&first) = waiting.first() {
        let next = waiting.iter().find(|w| before[w.1 as usize] == 0).copied().unwrap_or(first);
        waiting.remove(&next);
        sorted.push(next.1);
        for &b in &after[next.1 as usize] {
            before[b as usize] = before[b as usize].saturating_sub(1);
        }
    }
    keep_members_in_order(problem, &mut sorted);
    sorted
}

/// A member's rounds in their order, whatever a knot in the links has done to them.
fn keep_members_in_order(problem: &Problem, sorted: &mut [u32]) {
    for person in &problem.members {
        let rounds = person.first_slot..person.first_slot + person.slots;
        let mut next = rounds.clone();
        for slot in sorted.iter_mut().filter(|s| rounds.contains(s)) {
            if let Some(own) = next.next() {
                *slot = own;
            }
        }
    }
}
