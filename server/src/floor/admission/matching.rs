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

/// Whether `left` serves these groups as well as `free` does, whatever becomes free later. `left` is a part of
/// `free`.
///
/// Of each group the stations that suit each of its exercises; those done in place are one. All of them can be
/// served from `free` and what comes later together exactly when some exercises find a station in `free` and
/// the others in what comes. So nothing is lost if the same sets of exercises find stations in `left` as in
/// `free`. Sets with more exercises than there are stations find none in either, and sets that no lost station
/// suits find the same in both.
#[must_use]
pub fn serves_as_well(groups: &[&[Vec<StationId>]], free: &[StationId], left: &[StationId]) -> bool {
    let legs: Vec<&Vec<StationId>> = groups.iter().copied().flatten().collect();
    let lost = |station: &StationId| free.contains(station) && !left.contains(station);
    let lose = (0_u32..).zip(&legs).filter(|(_, suited)| suited.iter().any(lost));
    if legs.len() > MOST_LEGS {
        return lose.count() == 0;
    }
    let lose: u32 = lose.map(|(leg, _)| 1 << leg).sum();
    let sets = (1_u32..1 << legs.len()).filter(|set| set & lose != 0);
    sets.filter(|set| usize::try_from(set.count_ones()).is_ok_and(|legs| legs <= free.len())).all(|set| {
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

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Whether every exercise finds a station of its own, by trying them all.
    fn all_served(legs: &[Vec<StationId>], stations: &[StationId]) -> bool {
        let Some((first, others)) = legs.split_first() else { return true };
        first.iter().filter(|station| stations.contains(station)).any(|taken| {
            let left: Vec<StationId> = stations.iter().copied().filter(|s| s != taken).collect();
            all_served(others, &left)
        })
    }

    proptest! {
        /// Each exercise has one station more that may become free later, for it alone: so every set of exercises
        /// that finds stations now makes a difference for some future.
        #[test]
        fn nothing_is_lost_exactly_when_no_future_is_worse(
            suited in prop::collection::vec(prop::collection::vec(0_u16..6, 0..4), 1..5),
            free in 0_u16..=6,
            lost in 0_usize..=6,
        ) {
            let later = |leg: usize| StationId(100 + u16::try_from(leg).unwrap());
            let legs: Vec<Vec<StationId>> = suited
                .iter()
                .enumerate()
                .map(|(leg, suited)| suited.iter().copied().map(StationId).chain([later(leg)]).collect())
                .collect();
            let free: Vec<StationId> = (0..free).map(StationId).collect();
            let left = &free[..free.len().saturating_sub(lost)];
            let futures = 0_u32..1 << legs.len();
            let worse = futures.into_iter().any(|future| {
                let comes = (0..legs.len()).filter(|leg| future & (1 << leg) != 0).map(later);
                let with = |now: &[StationId]| now.iter().copied().chain(comes.clone()).collect::<Vec<_>>();
                all_served(&legs, &with(&free)) && !all_served(&legs, &with(left))
            });
            let groups: Vec<&[Vec<StationId>]> = legs.chunks(2).collect();
            prop_assert_eq!(serves_as_well(&groups, &free, left), !worse);
        }
    }
}
