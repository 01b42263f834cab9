//! Rule 5: a coach spots one turn at a time, has time to walk to the next, and spots nothing in a busy window.

use super::super::instance::Instance;
use super::found::{Found, Rule};
use super::slots::{Slots, secs};
use super::windows::overlap;

/// Notes for each spotted turn when its coach is there.
pub(super) fn check(instance: &Instance, slots: &mut Slots<'_>, found: &mut Found) {
    for (coach, turns) in instance.coaches.iter().zip(slots.by_coach(instance)) {
        let mut free = i64::from(coach.free_at.0);
        let mut at = coach.at;
        for (from, to, place, index) in turns {
            let slot = slots.get_mut(index);
            // From a place that nobody knows the walk is free.
            let there = free + at.map_or(0, |at| secs(instance.coach_walk[at][slot.station]));
            if let Some(spotted) = &mut slot.spotted {
                spotted.coach_there = there;
            }
            found.above_zero(Rule::Coach, place, there - from);
            if let Some(overlap) = overlap(&coach.busy, from, to) {
                found.above_zero(Rule::Coach, place, overlap.secs);
            }
            free = free.max(to);
            at = Some(slot.station);
        }
    }
}
