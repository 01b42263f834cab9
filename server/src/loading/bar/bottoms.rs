//! What can stay innermost on a bar while several turns go by.

use std::collections::BTreeSet;

use super::plates::MOST_KINDS;
use super::ways::Counts;

/// A cost that is never paid. Two of them still fit into the integer.
pub(super) const FAR: i32 = i32::MAX / 8;

/// One load: every way of plates that may make it, the preferred one first.
pub(super) type LoadWays = Vec<Counts>;

/// Sets of plates that turns may have in common, the largest first, down to no plates at all.
pub(super) struct Bottoms {
    pub(super) sets: Vec<Counts>,
    /// Plates of each set.
    pub(super) sizes: Vec<i32>,
    /// For each set the next smaller ones within it: every smaller one is reached through these.
    within: Vec<Vec<usize>>,
    /// For each load and set the fewest plates of a way that has the set in it, or [`FAR`].
    pub(super) fewest: Vec<Vec<i32>>,
    /// For each set, whether it is a beginning of what is on now.
    pub(super) begins: Vec<bool>,
}

impl Bottoms {
    /// From what the ways of every load and what is on now have in common, as [`in_common`] finds it, without
    /// what may not `may_stand` alone. `beginnings` are those of what is on now.
    pub(super) fn new(
        loads: &[LoadWays],
        beginnings: &[Counts],
        all: BTreeSet<Counts>,
        may_stand: impl Fn(&Counts) -> bool,
    ) -> Self {
        let mut sets: Vec<Counts> = all.into_iter().filter(|set| size(set) == 0 || may_stand(set)).collect();
        // Of one size the heaviest inside first.
        sets.sort_by_key(|set| std::cmp::Reverse((size(set), *set)));
        let sizes = sets.iter().map(size).collect();
        let fewest = loads.iter().map(|ways| sets.iter().map(|set| fewest_with(ways, set)).collect());
        let begins = |set: &Counts| size(set) == 0 || beginnings.contains(set);
        let begins = sets.iter().map(begins).collect();
        Self { fewest: fewest.collect(), begins, within: next_within(&sets), sizes, sets }
    }

    /// The costs of what is on now: it has only its own beginnings innermost.
    pub(super) fn on_now(&self, plates: i32) -> Vec<i32> {
        let costs = (0..self.sets.len()).map(|set| if self.begins[set] { 2 * plates } else { FAR });
        self.spread(costs.collect())
    }

    /// Lets every set have the cost of the best larger one that has it inside.
    pub(super) fn spread(&self, mut costs: Vec<i32>) -> Vec<i32> {
        for (set, within) in self.within.iter().enumerate() {
            for smaller in within {
                costs[*smaller] = costs[*smaller].min(costs[set]);
            }
        }
        costs
    }
}

/// Every set that one way of each of some loads and a beginning of what is on now have in common, and no plates
/// at all. Also whether these are all: there are never more than `most`.
pub(super) fn in_common(loads: &[LoadWays], beginnings: &[Counts], most: usize) -> (BTreeSet<Counts>, bool) {
    let mut all = BTreeSet::from([[0; MOST_KINDS]]);
    for ways in std::iter::once(beginnings).chain(loads.iter().map(Vec::as_slice)) {
        let mut new: BTreeSet<Counts> = ways.iter().copied().collect();
        for set in &all {
            let common = ways.iter().map(|way| -> Counts { std::array::from_fn(|at| set[at].min(way[at])) });
            new.extend(common);
            if new.len() > most {
                break;
            }
        }
        all.append(&mut new);
        if all.len() > most {
            // The greatest go; no plates at all always stays.
            return (all.into_iter().take(most).collect(), false);
        }
    }
    (all, true)
}

/// Whether all plates of `set` are in `way`. Every kind is looked at, which is quicker than to stop early.
pub(super) fn holds(way: &Counts, set: &Counts) -> bool {
    way.iter().zip(set).fold(true, |holds, (way, set)| holds & (way >= set))
}

/// How many plates.
pub(super) fn size(set: &Counts) -> i32 {
    set.iter().map(|count| i32::from(*count)).sum()
}

fn fewest_with(ways: &LoadWays, set: &Counts) -> i32 {
    ways.iter().filter(|way| holds(way, set)).map(size).min().unwrap_or(FAR)
}

/// For each set those smaller ones that are in no other one between.
fn next_within(sets: &[Counts]) -> Vec<Vec<usize>> {
    let next = |at: usize| {
        let mut next: Vec<usize> = Vec::new();
        for smaller in at + 1..sets.len() {
            let between = |nearer: &usize| holds(&sets[*nearer], &sets[smaller]);
            if holds(&sets[at], &sets[smaller]) && !next.iter().any(between) {
                next.push(smaller);
            }
        }
        next
    };
    (0..sets.len()).map(next).collect()
}
