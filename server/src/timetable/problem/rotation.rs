//! Which groups need their rotation looked at in times.

use crate::timetable::instance::{At, Group};

/// Whether keeping the order of the sequence is not enough to keep the rotation: somebody who has not begun comes after
/// the others could, begins beside members who have begun, misses a round, may not start before some time, or skips
/// the first leg of a round. So it is with members who may use different stations: they come to share one in the search.
pub(super) fn is_irregular(group: &Group, now: At) -> bool {
    if group.members.len() < 2 {
        return false;
    }
    let begun = group.members.iter().filter(|m| m.has_begun()).count();
    let mixed = begun != 0 && begun != group.members.len();
    let late = |release: At| release > now;
    let releases_differ = group
        .members
        .iter()
        .any(|m| !m.has_begun() && late(m.release) && group.members.iter().any(|o| o.release != m.release));
    let rounds_odd = group.members.iter().any(|m| {
        let done = m.under_way.map_or(0, |w| w.legs_done);
        let gap = m.rounds.windows(2).any(|w| w[0].number + 1 != w[1].number);
        let not_before = m.rounds.iter().any(|r| r.not_before.is_some_and(late));
        let skips = m.rounds.iter().enumerate().any(|(i, r)| r.legs[0].is_none() && !(i == 0 && done > 0));
        gap || not_before || skips
    });
    let unordered = begun > 0 && group.order.len() < begun;
    let may_differ =
        !group.together && group.eligible[0].len() > 1 && group.members.iter().any(|m| m.stations.is_none());
    mixed || may_differ || releases_differ || rounds_odd || unordered
}
