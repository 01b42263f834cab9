//! Whether stations carry a group beside the one that has them, in closed form.

use turnabout_protocol::ids::{GroupId, StationId};
use turnabout_protocol::units::Secs;

use crate::floor::outlook::Outlook;
use crate::timetable::check::change;
use crate::timetable::instance::{Group, Instance, Load, Turn};
use crate::timetable::rotation::{Pace, Pair, admission};

/// Whether a group can take turns with another at those of these stations that the other has. No where one of the two
/// is not at two exercises at two stations: for that there is no closed form.
///
/// Each client counts with the longest set of each exercise, and each station with the longest change from one client's
/// last load to another's: the closed form knows one of each.
pub(super) fn carries(outlook: &Outlook, joining: GroupId, with: GroupId, at: &[StationId]) -> bool {
    carried(outlook, joining, with, at).unwrap_or(false)
}

fn carried(outlook: &Outlook, joining: GroupId, with: GroupId, at: &[StationId]) -> Option<bool> {
    let (instance, who) = (&outlook.instance, &outlook.who);
    let (new, there) = (instance.groups.get(who.group(joining)?)?, instance.groups.get(who.group(with)?)?);
    let [first, second] = at else { return None };
    let at = [who.station(*first)?, who.station(*second)?];
    // What the other group does where: everybody of it at the same two stations, as it has taken them.
    let theirs = match there.eligible.as_slice() {
        [one, other] => [*one.first()?, *other.first()?],
        _ => return None,
    };
    if at[0] == at[1] || theirs[0] == theirs[1] {
        return None;
    }
    // Their exercise at each of the two stations; of a station that they do not have, the other one.
    let shared = at.map(|station| theirs.iter().position(|their| *their == station));
    let legs = match shared {
        [Some(one), Some(other)] => [one, other],
        [Some(one), None] => [one, 1 - one],
        [None, Some(other)] => [1 - other, other],
        [None, None] => return None,
    };
    let changes =
        [0, 1].map(|place| longest_change(instance, at[place], &[(new, place), (there, legs[place])]));
    let pair = Pair::new(*instance.walk.get(at[0])?.get(at[1])?, changes).ok()?;
    let (joins, stays) = (paces(new, [0, 1])?, paces(there, legs)?);
    let wait = [new, there].map(|group| group.changeover_wait_max.unwrap_or(instance.changeover_wait_max));
    let wait = wait.into_iter().flatten().min();
    let found = admission(&pair, &stays, &joins, wait).ok()?;
    let sums = [found.first, found.second];
    let within =
        |place: usize| shared[place].is_none() || found.limit.is_none_or(|limit| sums[place] <= limit);
    Some(within(0) && within(1))
}

/// The pace of each member, its exercises in this order.
fn paces(group: &Group, legs: [usize; 2]) -> Option<Vec<Pace>> {
    let pace = |member: usize| {
        let longest = |leg: usize| turns(group, member, leg).map(|turn| turn.length).max();
        // Who has one exercise left only takes no time of note at the other.
        let length = |leg: usize| longest(leg).unwrap_or(Secs(1));
        Pace::new(legs.map(length), group.rest_min, group.rest_max).ok()
    };
    (0..group.members.len()).map(pace).collect()
}

fn turns(group: &Group, member: usize, leg: usize) -> impl Iterator<Item = &Turn> {
    let rounds = group.members.get(member).map_or(&[][..], |member| &member.rounds);
    rounds.iter().filter_map(move |round| round.legs.get(leg)?.as_ref())
}

/// The longest change at a station between the last loads of those who take turns there.
fn longest_change(instance: &Instance, station: usize, groups: &[(&Group, usize)]) -> Secs {
    let last = |(group, leg): &(&Group, usize)| {
        let (group, leg) = (*group, *leg);
        let load = move |member| turns(group, member, leg).last().and_then(|turn| turn.load.clone());
        (0..group.members.len()).map(load).collect::<Vec<Option<Load>>>()
    };
    let loads: Vec<Option<Load>> = groups.iter().flat_map(last).collect();
    let from = |from: &Option<Load>| {
        loads.iter().map(|to| change(instance, station, from.as_ref(), to.as_ref()).secs).max()
    };
    let most = loads.iter().filter_map(from).max().unwrap_or_default();
    Secs(u32::try_from(most).unwrap_or_default())
}
