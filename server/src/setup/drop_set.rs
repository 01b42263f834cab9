//! Exercises of a block together: those done in place with the one before, and stations for all of them.

use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::ids::{Key, StationId};
use turnabout_protocol::load::Load;

use super::block_problem::BlockProblem;
use super::exercise_in_block::{Around, Read};
use super::findings::Findings;
use super::members;
use super::problem::Problem;
use super::spot::Spot;
use super::written::Written;
use crate::floor::admission;
use crate::training::block::{Block, Leg};
use crate::training::exercise::Exercise;

/// Stations that a block needs at once: one for each exercise that is not done in place.
pub(super) fn stations_needed(reads: &[Read<'_>]) -> usize {
    runs(reads).len()
}

/// The exercises of a block, each with those after it that are done in its place.
fn runs<'r, 'a>(reads: &'r [Read<'a>]) -> Vec<&'r [Read<'a>]> {
    reads.chunk_by(|_, next| next.is_in_place()).collect()
}

/// Takes down what cannot be done in place: the first exercise, one that is done elsewhere than the one
/// before, and loads that no one station can be set to.
pub(super) fn check_in_place(found: &mut Findings<'_>, around: &Around<'_>, reads: &[Read<'_>]) {
    if let Some(first) = reads.first().and_then(|read| read.in_place.as_ref()).filter(|said| said.what) {
        found.add(&first.spot, BlockProblem::FirstInPlace);
    }
    for run in runs(reads).into_iter().filter(|run| run.len() > 1) {
        let exercises: Option<Vec<&Exercise>> = run.iter().map(|read| read.exercise).collect();
        if let Some(exercises) = exercises {
            check_run(found, around, run, &exercises);
        }
    }
}

fn check_run(found: &mut Findings<'_>, around: &Around<'_>, run: &[Read<'_>], exercises: &[&Exercise]) {
    let mut stations: BTreeSet<StationId> = exercises.first().map(|e| e.stations.clone()).unwrap_or_default();
    for (pair, read) in exercises.windows(2).zip(run.iter().skip(1)) {
        let [before, exercise] = pair else { continue };
        stations.retain(|station| exercise.stations.contains(station));
        if stations.is_empty() {
            let (exercise, before) = (exercise.key.clone(), before.key.clone());
            found.add(&read.spot, BlockProblem::NowhereInPlace { exercise, before });
            return;
        }
    }
    let loads: BTreeMap<Load, Written> = run.iter().flat_map(|read| read.loads.clone()).collect();
    let holds = |station: &StationId, (read, exercise): (&Read<'_>, &&Exercise)| {
        around.fit.holds(*station, exercise, read.loads.keys())
    };
    // Loads that do not fit together for one of the exercises alone have their own mistake.
    let mut each = run.iter().zip(exercises);
    let alone = each.all(|of| of.1.stations.iter().any(|station| holds(station, of)));
    let together = |station: &StationId| run.iter().zip(exercises).all(|of| holds(station, of));
    if alone
        && !stations.iter().any(together)
        && let (Some(first), Some(exercise)) = (run.first(), exercises.first())
    {
        let (exercise, loads) = (exercise.key.clone(), loads.into_values().collect());
        found.add(&first.spot, Problem::NoCommonStation { exercise, loads });
    }
}

/// Takes down a block that could never begin: too few stations suit it, a policy lets no coach hold as many, or
/// there are too few handles.
pub(super) fn check_stations(
    found: &mut Findings<'_>,
    around: &Around<'_>,
    spot: &Spot,
    reads: &[Read<'_>],
    block: &Block,
) {
    let Some(floor) = around.floor else { return };
    let needs = stations_needed(reads);
    if let Some(most) = floor.policy.stations_a_coach.filter(|most| needs > usize::from(*most)) {
        found.add(spot, BlockProblem::MoreThanACoach { needs, most });
    }
    let suited = |read: &Read<'_>| -> Vec<StationId> {
        let Some(exercise) = read.exercise else { return Vec::new() };
        let stations = exercise.stations.iter().copied();
        stations.filter(|station| around.fit.holds(*station, exercise, read.loads.keys())).collect()
    };
    let choices: Vec<Vec<StationId>> = reads.iter().map(suited).collect();
    if admission::assign(block, &choices).is_none() {
        found.add(spot, BlockProblem::TooFewStations { needs });
    } else {
        let runs = block.legs.iter().zip(&choices).fold(Vec::new(), one_for_each_run);
        members::check_block(found, floor, spot, &runs);
    }
    let mut wanted: BTreeMap<&Key, usize> = BTreeMap::new();
    for handle in reads.iter().filter_map(|read| read.exercise?.handle.as_ref()) {
        *wanted.entry(handle).or_default() += 1;
    }
    for (handle, needs) in wanted {
        // A floor that does not count a kind of handle has enough of it.
        if let Some(count) = floor.handles.get(handle).copied().filter(|count| needs > usize::from(*count)) {
            found.add(spot, BlockProblem::TooFewHandles { handle: handle.clone(), needs, count });
        }
    }
}

/// What is done in place has the station of the exercise before.
fn one_for_each_run(
    mut runs: Vec<BTreeSet<StationId>>,
    (leg, suited): (&Leg, &Vec<StationId>),
) -> Vec<BTreeSet<StationId>> {
    match runs.last_mut().filter(|_| leg.in_place) {
        Some(run) => run.retain(|station| suited.contains(station)),
        None => runs.push(suited.iter().copied().collect()),
    }
    runs
}
