//! How long everything together may take, so that no sum of a plan leaves its type.

use turnabout_protocol::units::Secs;

use super::limits;
use super::mistake::{Notes, Path};
use super::problem::Problem;
use crate::timetable::instance::{At, Instance, Load, Window};

/// Notes where all turns one after the other, each with the longest walk, rest and change, might end too late.
pub(super) fn check(instance: &Instance, notes: &mut Notes) {
    let found = latest(instance).saturating_add(in_a_row(instance));
    if found > u64::from(limits::HORIZON) {
        notes.add(Path::Top, Problem::Horizon { found });
    }
}

/// The last instant that anything waits for.
fn latest(instance: &Instance) -> u64 {
    let ends = |busy: &[Window]| busy.iter().map(|window| window.to).max().unwrap_or_default();
    let stations = instance.stations.iter().map(|station| station.free_at.max(ends(&station.busy)));
    let coaches = instance.coaches.iter().map(|coach| coach.free_at.max(ends(&coach.busy)));
    let members = instance.groups.iter().flat_map(|group| &group.members).map(|member| {
        let not_before = member.rounds.iter().filter_map(|round| round.not_before).max().unwrap_or_default();
        let way = member.under_way.map_or(At(0), |way| way.last_end);
        member.release.max(not_before).max(way).max(member.last_round_end.unwrap_or_default())
    });
    let latest = stations.chain(coaches).chain(members).max().unwrap_or_default().max(instance.now);
    u64::from(latest.0)
}

/// What all turns take in a row.
fn in_a_row(instance: &Instance) -> u64 {
    let longest = |walks: &[Vec<Secs>]| walks.iter().flatten().max().map_or(0, |walk| u64::from(walk.0));
    let walk = longest(&instance.walk) + longest(&instance.coach_walk);
    let plates = |load: &Option<Load>| match load {
        Some(Load::Plates(plates)) => plates.len() as u64,
        Some(Load::Label(_)) | None => 0,
    };
    let turns = || {
        let members =
            instance.groups.iter().flat_map(|group| group.members.iter().map(move |one| (group, one)));
        members.flat_map(|(group, member)| {
            member.rounds.iter().flat_map(move |round| {
                let rest = round.rest_min.unwrap_or(group.rest_min);
                round.legs.iter().flatten().map(move |turn| (rest, turn))
            })
        })
    };
    let there = instance.stations.iter().map(|station| plates(&station.load)).max().unwrap_or(0);
    let most = turns().map(|(_, turn)| plates(&turn.load)).max().unwrap_or(0).max(there);
    let change = u64::from(instance.collar.0.max(instance.pin.0)) + 2 * most * u64::from(instance.plate.0);
    turns().map(|(rest, turn)| u64::from(rest.0) + u64::from(turn.length.0) + walk + change).sum()
}
