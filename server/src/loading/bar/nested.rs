//! The least handling of turns in an order, or in the best of many orders, exactly.
//!
//! A bar is a stack: a plate stays for a stretch of turns, and what goes on outside it comes off before it
//! does. Of the plates that all turns of a stretch have in common it costs nothing to have them innermost, so a
//! stretch is: the plates that stay for all of it, and within them two shorter stretches. That is a table of
//! stretches by what stays, filled from the shortest to the longest. Where the order is free, a stretch goes
//! from one stand of the graph of orders to another, and everything else is the same.

use super::bottoms::{Bottoms, FAR, holds};
use super::path::Path;

/// The best order, and for each turn what stays under it, from the longest stretch to the shortest.
pub(super) struct Best {
    /// Plates on and off one side; lower by the same amount for every order of the same turns.
    pub(super) cost: i32,
    /// The turns in order, each with what stays for the stretches around it.
    pub(super) turns: Vec<(usize, Vec<Stays>)>,
}

/// A set of plates that stays innermost for a stretch of turns.
#[derive(Clone, Copy)]
pub(super) struct Stays {
    /// Its place among the bottoms.
    pub(super) set: usize,
    /// It is on now already.
    pub(super) from_now: bool,
}

/// The costs of every stretch of the path.
struct Stretches<'a> {
    bottoms: &'a Bottoms,
    stands: usize,
    /// By first and last stand: the cost for each set that stays, or none where no way leads there.
    costs: Vec<Option<Vec<i32>>>,
    /// The turn of a stretch of one turn.
    turns: Vec<Option<usize>>,
}

/// Finds the best way along the path. `loads` says for each turn which load it is; nothing where the path has
/// no way to its end. `on_now` is how many plates of one side are on now.
pub(super) fn best(path: &Path, bottoms: &Bottoms, loads: &[usize], on_now: i32) -> Option<Best> {
    let mut stretches = Stretches {
        bottoms,
        stands: path.stands,
        costs: vec![None; path.stands * path.stands],
        turns: vec![None; path.stands * path.stands],
    };
    for step in &path.steps {
        let at = stretches.at(step.from, step.to);
        stretches.turns[at] = step.turn;
        stretches.costs[at] = Some(step.turn.map_or_else(
            || bottoms.on_now(on_now),
            // On and off again; what is on at the end stays on.
            |turn| bottoms.fewest[loads[turn]].iter().map(|n| if step.last { *n } else { 2 * *n }).collect(),
        ));
    }
    stretches.fill();
    let last = path.stands - 1;
    let nothing = bottoms.sets.len() - 1;
    let cost = stretches.costs[stretches.at(0, last)].as_ref()?[nothing];
    let mut best = Best { cost, turns: Vec::new() };
    stretches.read(0, last, &[Stays { set: nothing, from_now: true }], &mut best.turns);
    (cost < FAR).then_some(best)
}

impl Stretches<'_> {
    const fn at(&self, from: usize, to: usize) -> usize {
        from * self.stands + to
    }

    fn fill(&mut self) {
        for from in (0..self.stands).rev() {
            // Where a way from here leads to: most stands of free orders do not follow each other.
            let mut reached = Vec::new();
            for to in from + 1..self.stands {
                let at = self.at(from, to);
                if self.costs[at].is_none() {
                    let costs = self.halves(from, to, &reached);
                    self.costs[at] = costs.map(|costs| self.bottoms.spread(costs));
                }
                if self.costs[at].is_some() {
                    reached.push(to);
                }
            }
        }
    }

    /// The costs of a stretch of several turns, for each set that stays for just all of it. `reached` are the stands
    /// between to which a way leads.
    fn halves(&self, from: usize, to: usize, reached: &[usize]) -> Option<Vec<i32>> {
        let mut best: Option<Vec<i32>> = None;
        for middle in reached.iter().copied() {
            let halves = (&self.costs[self.at(from, middle)], &self.costs[self.at(middle, to)]);
            let (Some(first), Some(second)) = halves else { continue };
            let best = best.get_or_insert_with(|| vec![2 * FAR; first.len()]);
            for ((best, first), second) in best.iter_mut().zip(first).zip(second) {
                *best = (*best).min(first + second);
            }
        }
        let mut best = best?;
        for (set, cost) in best.iter_mut().enumerate() {
            // What stays is put on and taken off once, not in both halves.
            let once = (*cost - 2 * self.bottoms.sizes[set]).min(FAR);
            *cost = if self.may_stay(from, set) { once } else { FAR };
        }
        Some(best)
    }

    /// Whether a set can stay innermost for a stretch from here on: from now on only what is innermost now.
    fn may_stay(&self, from: usize, set: usize) -> bool {
        from > 0 || self.bottoms.begins[set]
    }

    /// Reads the best order of a stretch; `stays` are the sets that stay around it, the largest last. As deep
    /// as there are turns.
    fn read(&self, from: usize, to: usize, stays: &[Stays], turns: &mut Vec<(usize, Vec<Stays>)>) {
        let Some(costs) = &self.costs[self.at(from, to)] else { return };
        let Some(around) = stays.last().map(|stays| stays.set) else { return };
        if let Some((middle, set)) = self.split(from, to, around, costs[around]) {
            let mut inner = stays.to_vec();
            if set != around {
                inner.push(Stays { set, from_now: from == 0 });
            }
            self.read(from, middle, &inner, turns);
            self.read(middle, to, &inner, turns);
        } else if let Some(turn) = self.turns[self.at(from, to)] {
            turns.push((turn, stays.to_vec()));
        }
    }

    /// Where a stretch of several turns is split, and what stays for all of it.
    fn split(&self, from: usize, to: usize, around: usize, cost: i32) -> Option<(usize, usize)> {
        let sets = &self.bottoms.sets;
        let inner = (0..=around).filter(|set| self.may_stay(from, *set) && holds(&sets[*set], &sets[around]));
        let mut halves = inner.flat_map(|set| (from + 1..to).map(move |middle| (middle, set)));
        halves.find(|(middle, set)| {
            let half = |from, to| self.costs[self.at(from, to)].as_ref().map(|costs| costs[*set]);
            let both = half(from, *middle).zip(half(*middle, to));
            both.is_some_and(|(a, b)| a + b - 2 * self.bottoms.sizes[*set] == cost)
        })
    }
}
