//! Rule 6: members of a group who share the first leg's station alternate there.

use super::super::instance::{Group, Instance, Member};
use super::found::{Found, Rule};
use super::slots::{Place, Slots};

/// One start of a member at the first leg's station.
#[derive(Clone, Copy)]
struct Start {
    at: i64,
    /// The round's number in the block.
    number: i64,
    /// Its turn; nothing for a round that was begun before now.
    place: Option<Place>,
}

/// Before everything that is planned.
const PAST: i64 = -1;

/// Goes along every two members of a group.
pub(super) fn check(instance: &Instance, slots: &Slots<'_>, found: &mut Found) {
    for (id, group) in instance.groups.iter().enumerate() {
        let rows: Vec<Vec<Start>> =
            (0..group.members.len()).map(|member| row(group, (id, member), slots)).collect();
        let shared = |one: usize, other: usize| slots.stations[id][one][0] == slots.stations[id][other][0];
        for (one, row) in rows.iter().enumerate() {
            for (other, others) in rows.iter().enumerate() {
                if one != other && shared(one, other) {
                    alternate(row, others, &group.members[other], found);
                }
            }
        }
        for (place, one) in group.order.iter().enumerate() {
            for other in &group.order[place + 1..] {
                if shared(*one, *other) {
                    in_order(&rows[*one], &rows[*other], found);
                }
            }
        }
    }
}

/// A member's starts, the one before now first where there was one.
fn row(group: &Group, (id, member): (usize, usize), slots: &Slots<'_>) -> Vec<Start> {
    let client = &group.members[member];
    let under_way = client.under_way.is_some();
    let number = |position: usize| i64::from(client.rounds[position].number);
    let mut row = Vec::with_capacity(client.rounds.len() + 1);
    if client.has_begun() && !client.rounds.is_empty() {
        row.push(Start { at: PAST, number: number(0) - i64::from(!under_way), place: None });
    }
    for position in usize::from(under_way)..client.rounds.len() {
        let first = slots.round(id, member, position).first();
        row.extend(first.map(|slot| Start {
            at: slot.start,
            number: number(position),
            place: Some(slot.place),
        }));
    }
    row
}

/// Between two starts of one that are n rounds apart another starts at most n times, and one who was there at the first
/// of them, with a round to do, at least once.
fn alternate(one: &[Start], other: &[Start], client: &Member, found: &mut Found) {
    for two in one.windows(2) {
        let [from, to] = two else { continue };
        let apart = usize::try_from(to.number - from.number).unwrap_or(0);
        let inside = other.iter().filter(|start| from.at < start.at && start.at < to.at);
        for start in inside.skip(apart) {
            if let Some(place) = start.place {
                found.above_zero(Rule::Rotation, place, to.at - start.at);
            }
        }
        if from.at > PAST
            && let Some(late) = waits(other, client, from.at).filter(|late| late.at > to.at)
            && let Some(place) = to.place
        {
            found.above_zero(Rule::Rotation, place, late.at - to.at);
        }
    }
}

/// The next start after `at` of a member who was there then; nothing where it follows a missed round.
fn waits(row: &[Start], client: &Member, at: i64) -> Option<Start> {
    let next = row.iter().position(|start| start.at > at)?;
    let start = row[next];
    let round = &client.rounds[start.place?.round];
    let there = client.release.max(round.not_before.unwrap_or_default());
    let missed = next.checked_sub(1).is_some_and(|before| row[before].number + 1 != start.number);
    (i64::from(there.0) <= at && !missed).then_some(start)
}

/// The next start of one who comes later in a given order does not come before that of one who comes earlier.
fn in_order(one: &[Start], other: &[Start], found: &mut Found) {
    let next = |row: &[Start]| row.iter().find(|start| start.place.is_some()).copied();
    if let (Some(first), Some(second)) = (next(one), next(other))
        && let Some(place) = second.place
    {
        found.above_zero(Rule::Rotation, place, first.at - second.at);
    }
}
