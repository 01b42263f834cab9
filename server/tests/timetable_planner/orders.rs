//! Orders drawn at random, well formed as the search keeps them.

use fastrand::Rng;

use turnabout_server::timetable::order::Order;
use turnabout_server::timetable::problem::Problem;

/// Shuffles an order: members keep the order of their rounds, stations suit.
pub(crate) fn shuffled(problem: &Problem, order: &Order, rng: &mut Rng) -> Order {
    let mut next = order.clone();
    let mut places = next.sequence.clone();
    rng.shuffle(&mut places);
    let owner = |slot: u32| usize::from(problem.slots[slot as usize].member);
    let mut given: Vec<u32> = problem.members.iter().map(|m| m.first_slot).collect();
    for (at, &slot) in places.iter().enumerate() {
        let member = owner(slot);
        next.sequence[at] = given[member];
        given[member] += 1;
    }
    for (g, team) in problem.groups.iter().enumerate() {
        if problem.members_of(g).any(|m| problem.members[m].fixed) {
            continue;
        }
        for (leg, of) in team.eligible.iter().enumerate() {
            let station = of[rng.usize(0..of.len())];
            for m in problem.members_of(g) {
                next.stations[m * problem.width + leg] = station;
            }
        }
    }
    for delay in &mut next.delays {
        *delay = if rng.u32(0..10) == 0 { rng.i32(0..2_000) } else { 0 };
    }
    next
}

/// A small change of an order: one round goes elsewhere between the member's own, sometimes with other stations for
/// its group.
pub(crate) fn nudged(problem: &Problem, order: &Order, rng: &mut Rng) -> Order {
    let mut next = order.clone();
    let n = next.sequence.len();
    let at = rng.usize(0..n);
    let member = problem.slots[next.sequence[at] as usize].member;
    let own = |slot: u32| problem.slots[slot as usize].member == member;
    let from = next.sequence[..at].iter().rposition(|&s| own(s)).map_or(0, |p| p + 1);
    let to = next.sequence[at + 1..].iter().position(|&s| own(s)).map_or(n, |p| at + 1 + p);
    let target = rng.usize(from..to);
    let slot = next.sequence.remove(at);
    next.sequence.insert(target, slot);
    if rng.u32(0..5) == 0 {
        next.delays[rng.usize(0..n)] = rng.i32(0..1_500);
    }
    let group = usize::from(problem.slots[slot as usize].group);
    if rng.u32(0..3) == 0 && problem.members_of(group).all(|m| !problem.members[m].fixed) {
        for (leg, of) in problem.groups[group].eligible.iter().enumerate() {
            let station = of[rng.usize(0..of.len())];
            for m in problem.members_of(group) {
                next.stations[m * problem.width + leg] = station;
            }
        }
    }
    next
}
