//! An order by positions in lists, and the flat one that the decoder reads.

use super::Outlook;
use super::kept::{PlacedOrder, PlacedRound};
use crate::timetable::instance::At;
use crate::timetable::order::Order;
use crate::timetable::problem::Problem;

/// The flat form of an order of an outlook. `problem` must be that outlook's.
#[must_use]
pub fn flat(outlook: &Outlook, problem: &Problem, placed: &PlacedOrder) -> Order {
    let mut order = Order {
        stations: problem.settled.clone(),
        sequence: Vec::with_capacity(problem.slots.len()),
        delays: vec![0; problem.slots.len()],
    };
    for (group, members) in placed.stations.iter().enumerate().take(outlook.instance.groups.len()) {
        for (member, legs) in problem.members_of(group).zip(members) {
            let row = order.stations.iter_mut().skip(member * problem.width).take(problem.width);
            for (station, chosen) in row.zip(legs) {
                *station = u16::try_from(*chosen).unwrap_or(*station);
            }
        }
    }
    for round in &placed.sequence {
        for slot in slots_of(problem, *round) {
            order.sequence.push(slot);
            if let Some(delay) = order.delays.get_mut(slot as usize) {
                *delay = i32::try_from(round.earliest.0).unwrap_or(0);
            }
        }
    }
    order
}

/// An order found for an outlook's `problem`, by positions in its lists.
#[must_use]
pub fn placed(outlook: &Outlook, problem: &Problem, order: &Order) -> PlacedOrder {
    let groups = outlook.instance.groups.iter().enumerate();
    let stations = groups.map(|(group, of)| {
        let legs = |member: usize| {
            let row = order.stations.iter().skip(member * problem.width).take(of.eligible.len());
            row.map(|station| usize::from(*station)).collect()
        };
        problem.members_of(group).map(legs).collect()
    });
    let firsts = order.sequence.iter().filter_map(|slot| {
        let of = problem.slots.get(*slot as usize).filter(|of| !of.chained)?;
        let group = usize::from(of.group);
        let first = usize::from(problem.groups.get(group)?.first_member);
        let delay = order.delays.get(*slot as usize).copied().unwrap_or_default();
        Some(PlacedRound {
            group,
            member: usize::from(of.member).checked_sub(first)?,
            round: of.round as usize,
            earliest: At(u32::try_from(delay).unwrap_or_default()),
        })
    });
    PlacedOrder { stations: stations.collect(), sequence: firsts.collect() }
}

/// The slots of a round: one, or one for each leg where a leg may wait on purpose.
fn slots_of(problem: &Problem, round: PlacedRound) -> impl Iterator<Item = u32> + '_ {
    let member = problem.members_of(round.group).nth(round.member);
    let person = member.and_then(|member| problem.members.get(member));
    let slots = person.map_or(0..0, |person| person.first_slot..person.first_slot + person.slots);
    slots.filter(move |slot| {
        problem.slots.get(*slot as usize).is_some_and(|slot| slot.round as usize == round.round)
    })
}
