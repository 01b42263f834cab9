//! Giving each exercise a station of its own, and whether what is left serves others as well.

use std::collections::BTreeSet;

use turnabout_protocol::ids::StationId;

use crate::training::block::Block;

/// Exercises of all groups that wait, looked at together. Above this the rule is the stricter one that later
/// groups keep out of every station that suits an earlier one: 2^12 subsets are looked at in a few
/// milliseconds, and six pairs that wait are more than a floor with a wait list should have.
const MOST_LEGS: usize = 12;

/// A station for each exercise of a block out of its choices, the first that fits, none twice; an exercise
/// done in place has that of the exercise before. Nothing if there are not enough.
#[must_use]
pub fn assign(block: &Block, choices: &[Vec<StationId>]) -> Option<Vec<StationId>> {
    let runs = runs(block, choices);
    let mut chosen = vec![None; runs.len()];
    let found = (0..runs.len()).all(|run| find(&runs, run, &mut chosen, &mut BTreeSet::new()));
    let chosen: Vec<StationId> =
        if found { chosen.into_iter().collect::<Option<_>>()? } else { return None };
    let mut run = 0;
    let station = |(place, leg): (usize, &crate::training::block::Leg)| {
        run += usize::from(place > 0 && !leg.in_place);
        chosen.get(run).copied()
    };
    block.legs.iter().enumerate().map(station).collect()
}

/// The choices of each station that a block needs: exercises done in place go with the one before, so that only
/// stations that suit all of them count.
#[must_use]
pub(super) fn runs(block: &Block, choices: &[Vec<StationId>]) -> Vec<Vec<StationId>> {
    let mut runs: Vec<Vec<StationId>> = Vec::new();
    for (leg, choices) in block.legs.iter().zip(choices) {
        match runs.last_mut().filter(|_| leg.in_place) {
            Some(run) => run.retain(|station| choices.contains(station)),
            None => runs.push(choices.clone()),
        }
    }
    runs
}

/// Finds a station for one exercise: one that no other has, or else one whose exercise finds another.
/// `asked` are the stations that were tried already, so that it ends.
fn find(
    choices: &[Vec<StationId>],
    leg: usize,
    chosen: &mut [Option<StationId>],
    asked: &mut BTreeSet<StationId>,
) -> bool {
    let stations = choices.get(leg).map(Vec::as_slice).unwrap_or_default();
    let mut found = stations.iter().copied().find(|station| !chosen.contains(&Some(*station)));
    if found.is_none() {
        found = stations.iter().copied().find(|station| {
            let other = chosen.iter().position(|chosen| *chosen == Some(*station));
            asked.insert(*station) && other.is_some_and(|other| find(choices, other, chosen, asked))
        });
    }
    if let Some(place) = chosen.get_mut(leg).filter(|_| found.is_some()) {
        *place = found;
    }
    found.is_some()
}

/// Whether `left` serves these groups as well as `free` does, whatever becomes free later.
///
/// Of each group the stations that suit each of its exercises; those done in place are one. All of them can be served from `free` and what
/// comes later together exactly when some exercises find a station in `free` and the others in what comes.
/// So nothing is lost if the same sets of exercises find stations in `left` as in `free`; both are subsets of
/// one list, so it is enough to look at each set once.
#[must_use]
pub fn serves_as_well(groups: &[&[Vec<StationId>]], free: &[StationId], left: &[StationId]) -> bool {
    let legs: Vec<&Vec<StationId>> = groups.iter().copied().flatten().collect();
    let taken = |station: &StationId| free.contains(station) && !left.contains(station);
    if !legs.iter().any(|suited| suited.iter().any(taken)) {
        return true;
    }
    if legs.len() > MOST_LEGS {
        return false;
    }
    (1_u32..1 << legs.len()).all(|set| {
        let within = |stations: &[StationId]| {
            let of_set = legs.iter().enumerate().filter(|(leg, _)| set & (1 << leg) != 0);
            let choices: Vec<Vec<StationId>> = of_set
                .map(|(_, suited)| suited.iter().copied().filter(|s| stations.contains(s)).collect())
                .collect();
            let mut chosen = vec![None; choices.len()];
            (0..choices.len()).all(|leg| find(&choices, leg, &mut chosen, &mut BTreeSet::new()))
        };
        !within(free) || within(left)
    })
}
