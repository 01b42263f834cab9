//! Rule 4: turns and changes of load at one station do not overlap, nor do they overlap its busy windows.

use super::super::instance::Instance;
use super::change::change;
use super::found::{Found, Rule};
use super::slots::Slots;
use super::windows::overlap;

/// Notes what comes before each turn at its station; the pieces moved in all.
pub(super) fn check<'i>(
    instance: &'i Instance,
    slots: &mut Slots<'i>,
    at_stations: &[Vec<usize>],
    found: &mut Found,
) -> i64 {
    let mut pieces = 0;
    for (id, (station, turns)) in instance.stations.iter().zip(at_stations).enumerate() {
        let mut free = i64::from(station.free_at.0);
        let mut on = station.load.as_ref();
        for index in turns {
            let slot = slots.get_mut(*index);
            let change = change(instance, id, on, slot.load);
            pieces += change.pieces;
            slot.station_free = free;
            slot.change = change.secs;
            found.above_zero(Rule::Station, slot.place, free + change.secs - slot.start);
            if let Some(overlap) = overlap(&station.busy, slot.start - change.secs, slot.end) {
                found.above_zero(Rule::Station, slot.place, overlap.secs);
            }
            free = free.max(slot.end);
            on = slot.load.or(on);
            slot.after = on;
        }
    }
    pieces
}
