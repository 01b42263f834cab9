//! The instance in the middle of the evening: what is left to do, as it is seen now.

use super::begun::{Happened, Progress};
use crate::timetable::instance::{At, Group, Instance, Member, UnderWay};
use crate::timetable::order::Order;
use crate::timetable::problem::Problem;

/// What has been told of a member's next round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Told {
    /// What was told last of its start.
    pub(super) start: u32,
    /// Whether it was told to the second: then it does not begin before.
    pub(super) exactly: bool,
}

/// What is left at an instant. Turns under way count as done, with the end that they are seen to have; members, groups
/// and stations keep their places in the lists. `whole` and `order` are of the evening's whole instance.
pub(super) fn take(
    happened: &Happened<'_>,
    told: &[Option<Told>],
    whole: &Problem,
    order: &Order,
) -> Instance {
    let now = happened.now;
    let mut left = happened.instance.clone();
    left.now = At(now);
    for (s, station) in left.stations.iter_mut().enumerate() {
        if let Some(begun) = &happened.at_stations[s] {
            station.free_at = At(begun.seen(now));
            station.load.clone_from(&happened.loads[s]);
        }
    }
    for (coach, begun) in left.coaches.iter_mut().zip(&happened.by_coaches) {
        if let Some((begun, free)) = begun.as_ref().and_then(|begun| Some((begun, begun.spotted_until(now)?)))
        {
            (coach.at, coach.free_at) = (Some(begun.station), At(free));
        }
    }
    for (who, at) in happened.members.iter().enumerate() {
        let row = &order.stations[who * whole.width..];
        member(happened, at, &mut left.groups[at.group], row, told[who]);
    }
    for g in 0..left.groups.len() {
        group(happened, g, &mut left, whole, order);
    }
    left
}

fn member(happened: &Happened<'_>, at: &Progress<'_>, group: &mut Group, row: &[u16], told: Option<Told>) {
    let legs = group.eligible.len();
    let one = &mut group.members[at.member];
    one.rounds.drain(..at.round);
    if let Some(begun) = &at.last {
        let end = At(begun.seen(happened.now));
        one.stations = Some(row[..legs].iter().map(|&s| usize::from(s)).collect());
        if at.leg > 0 {
            one.under_way = Some(UnderWay { legs_done: at.leg, last_end: end });
        } else {
            (one.under_way, one.last_round_end) = (None, Some(end));
            walk_back(happened.instance, group.rest_min, one, begun.station);
        }
    }
    let one = &mut group.members[at.member];
    if let (Some(told), Some(round)) = (told, one.rounds.first_mut()) {
        let first = round.legs.iter().position(Option::is_some).unwrap_or(0);
        round.told[first] = Some(At(told.start));
        if told.exactly {
            round.not_before = round.not_before.max(Some(At(told.start)));
        }
    }
}

/// A rest before the next round that has time to walk back from where the last turn was: an instance takes that to be
/// the last leg's station, and the last leg may have been skipped.
fn walk_back(instance: &Instance, rest_min: turnabout_protocol::units::Secs, one: &mut Member, from: usize) {
    let Some((round, stations)) = one.rounds.first_mut().zip(one.stations.as_ref()) else { return };
    let first = round.legs.iter().position(Option::is_some).unwrap_or(0);
    let walk = instance.walk[from][stations[first]];
    round.rest_min = Some(round.rest_min.unwrap_or(rest_min).max(walk));
}

/// Who of the group goes next, and what it holds.
fn group(happened: &Happened<'_>, g: usize, left: &mut Instance, whole: &Problem, order: &Order) {
    let team = &mut left.groups[g];
    let members = whole.members_of(g);
    let begun = |m: usize| happened.members[m].last.is_some();
    if !members.clone().any(begun) {
        return;
    }
    let legs = team.eligible.len();
    let row = |m: usize| order.stations[m * whole.width..][..legs].iter().map(|&s| usize::from(s));
    if team.together {
        for (one, m) in team.members.iter_mut().zip(members.clone()) {
            one.stations = Some(row(m).collect());
        }
    }
    let next = |m: usize| {
        let at = &happened.members[m];
        let slots = whole.members[m].first_slot..whole.members[m].first_slot + whole.members[m].slots;
        let coming = slots.clone().find(|&s| {
            let round = whole.slots[s as usize].round as usize;
            round > at.round || (round == at.round && at.leg == 0)
        })?;
        order.sequence.iter().position(|&s| s == coming)
    };
    let mut turns: Vec<(usize, usize)> = members
        .clone()
        .enumerate()
        .filter(|&(k, _)| team.members[k].has_begun())
        .filter_map(|(k, m)| Some((next(m)?, k)))
        .collect();
    turns.sort_unstable();
    team.order = turns.into_iter().map(|(_, k)| k).collect();
    for (s, station) in left.stations.iter().enumerate() {
        let comes = team.members.iter().zip(members.clone()).any(|(one, m)| {
            let legs_left = |leg: usize| one.rounds.iter().any(|round| round.legs[leg].is_some());
            row(m).enumerate().any(|(leg, at)| at == s && legs_left(leg))
        });
        let was = members.clone().any(|m| begun(m) && row(m).any(|at| at == s));
        if !station.work_in && was && comes && !team.holds.contains(&s) {
            team.holds.push(s);
        }
    }
}
