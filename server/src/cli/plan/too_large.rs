//! Whether a group can keep its rests on one pair of stations, from its turns as they are planned.

use turnabout_protocol::units::Secs;

use crate::timetable::check::change;
use crate::timetable::instance::{Instance, Load, Member, Turn};
use crate::timetable::rotation::{Fit, Pace, Pair, Split, fit};

/// By how much a group's rests overrun on its stations, and how two pairs would do better. Nothing where they do not,
/// and of a group that is no rotation of two exercises at two stations.
///
/// Each client counts with the longest set of each exercise and each station with the longest change between two of
/// them: the closed form knows one of each.
pub(super) fn too_large(
    instance: &Instance,
    group: usize,
    stations: &[Vec<usize>],
) -> Option<(Secs, Option<Split>)> {
    let of = &instance.groups[group];
    let [first, second] = stations.first()?.as_slice() else { return None };
    if first == second || stations.iter().any(|own| own != &stations[0]) {
        return None;
    }
    let changes = [*first, *second].map(|station| {
        let leg = usize::from(station == *second);
        Secs(u32::try_from(longest_change(instance, station, &of.members, leg)).unwrap_or(0))
    });
    let pair = Pair::new(instance.walk[*first][*second], changes).ok()?;
    let pace = |member: &Member| {
        let longest = |leg: usize| turns(member, leg).map(|turn| turn.length).max();
        Pace::new([longest(0)?, longest(1)?], of.rest_min, of.rest_max).ok()
    };
    let paces = of.members.iter().map(pace).collect::<Option<Vec<Pace>>>()?;
    let wait = of.changeover_wait_max.unwrap_or(instance.changeover_wait_max);
    match fit(&pair, &paces, wait).ok()? {
        Fit::Fits => None,
        Fit::TooLarge { overrun, split } => Some((overrun, split)),
    }
}

/// The sets of one exercise.
fn turns(member: &Member, leg: usize) -> impl Iterator<Item = &Turn> {
    member.rounds.iter().filter_map(move |round| round.legs.get(leg)?.as_ref())
}

/// The longest change from one client's last load to another's.
fn longest_change(instance: &Instance, station: usize, members: &[Member], leg: usize) -> i64 {
    let loads: Vec<Option<&Load>> =
        members.iter().map(|member| turns(member, leg).last().and_then(|turn| turn.load.as_ref())).collect();
    let from = |from: &Option<&Load>| loads.iter().map(|to| change(instance, station, *from, *to).secs).max();
    loads.iter().filter_map(from).max().unwrap_or(0)
}
