//! Rule 7: where working in is not allowed, one group at a time uses the station, from its first turn there to its last.

use std::collections::BTreeMap;

use super::super::instance::Instance;
use super::found::{Found, Rule};
use super::slots::{Place, Slots};

/// The time for which one group has a station. Compared in this order.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Hold {
    from: i64,
    to: i64,
    /// Its first turn there.
    first: Place,
}

/// Before everything that is planned: since when a station is held that a group has now.
const PAST: i64 = -1;

/// Goes along every station that does not let other groups work in.
pub(super) fn check(instance: &Instance, slots: &Slots<'_>, at_stations: &[Vec<usize>], found: &mut Found) {
    for (id, (station, turns)) in instance.stations.iter().zip(at_stations).enumerate() {
        if station.work_in {
            continue;
        }
        let mut holds: BTreeMap<usize, Hold> = BTreeMap::new();
        for slot in turns.iter().map(|index| slots.get(*index)) {
            let first = Hold { from: slot.start, to: slot.end, first: slot.place };
            let hold = holds.entry(slot.place.group).or_insert(first);
            hold.to = hold.to.max(slot.end);
        }
        for (group, hold) in &mut holds {
            if instance.groups[*group].holds.contains(&id) {
                hold.from = PAST;
            }
        }
        let mut holds: Vec<Hold> = holds.into_values().collect();
        holds.sort_unstable();
        let mut until = None;
        for hold in holds {
            if let Some(until) = until {
                found.above_zero(Rule::WorkingIn, hold.first, until - hold.from);
            }
            until = until.max(Some(hold.to));
        }
    }
}
