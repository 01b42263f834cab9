//! Rules for members that leave groups nothing: a policy that can never be met.

use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::ids::{ExerciseId, StationId};

use super::block_problem::BlockProblem;
use super::findings::Findings;
use super::problem::Problem;
use super::spot::{Said, Spot};
use crate::floor::config::{Floor, KeptForMembers};
use crate::floor::hours::Hours;
use crate::training::exercise::Exercise;

/// Takes down rules that keep every station of an exercise from every group whenever the floor is open: nobody
/// could ever train it.
pub(super) fn check_exercises(
    found: &mut Findings<'_>,
    rules: &[Said<KeptForMembers>],
    hours: &Hours,
    exercises: &BTreeMap<ExerciseId, Exercise>,
) {
    let all = |rule: &&Said<KeptForMembers>| left(&rule.what) == 0 && rule.what.hours.cover(hours);
    let closed: Vec<&Said<KeptForMembers>> = rules.iter().filter(all).collect();
    let kept: BTreeSet<StationId> = closed.iter().flat_map(|rule| &rule.what.stations).copied().collect();
    for rule in closed {
        let of_rule =
            |exercise: &&Exercise| exercise.stations.iter().any(|id| rule.what.stations.contains(id));
        let never = |exercise: &&Exercise| exercise.stations.is_subset(&kept);
        if let Some(exercise) = exercises.values().find(|exercise| of_rule(exercise) && never(exercise)) {
            let of = rule.what.stations.len();
            found.add(&rule.spot, Problem::KeepsAll { of, exercise: exercise.key.clone() });
        }
    }
}

/// Takes down a block that needs more of some stations than a rule leaves whenever the floor is open. `runs`
/// are the stations that suit what it needs one for.
pub(super) fn check_block(
    found: &mut Findings<'_>,
    floor: &Floor,
    spot: &Spot,
    runs: &[BTreeSet<StationId>],
) {
    for rule in floor.policy.members.iter().filter(|rule| rule.hours.cover(&floor.hours)) {
        let only_there = |suited: &&BTreeSet<StationId>| suited.is_subset(&rule.stations);
        let (needs, left) = (runs.iter().filter(only_there).count(), left(rule));
        if needs > left {
            let (keep, of) = (rule.keep, rule.stations.len());
            found.add(spot, BlockProblem::KeptForMembers { needs, left, keep, of });
        }
    }
}

/// How many stations of a rule all groups together can have.
fn left(rule: &KeptForMembers) -> usize {
    rule.stations.len().saturating_sub(usize::from(rule.keep))
}
