//! Before the annealing of single rounds: an annealing of whole groups, each change of which takes one to other
//! stations or to another time and weaves it in.
//!
//! On a large floor a cold search from an order by eye spends its time moving single rounds about while whole groups
//! are at the wrong place. To pass each other there groups go through orders that cost as much as a group does, which
//! is far beyond the heat at which single rounds settle.

use super::anneal::Anneal;
use super::{Effort, Part};

/// How much of the search it takes.
const SHARE: f64 = 0.25;

/// So many orders are looked at between two questions how far along the search is: weaving takes longer than other
/// changes.
const BATCH: u32 = 16;

/// Lets every chain do so.
pub(super) fn settle_all(chains: &mut [Anneal<'_>], effort: &Effort<'_>) {
    let mut parts: Vec<_> = chains.iter_mut().map(|chain| || settle(chain, effort)).collect();
    let mut parts: Vec<Part<'_>> = parts.iter_mut().map(|part| part as Part<'_>).collect();
    (effort.beside)(&mut parts);
}

fn settle(chain: &mut Anneal<'_>, effort: &Effort<'_>) {
    let problem = chain.problem();
    // Who has begun keeps their stations and mostly their place, too.
    let free: Vec<usize> = (0..problem.groups.len())
        .filter(|&g| {
            !problem.slots_of(g).is_empty() && problem.members_of(g).all(|m| !problem.members[m].begun)
        })
        .collect();
    // Where a next leg may wait on purpose, legs go each by themselves: as a whole a group would only keep others out.
    if free.is_empty() || problem.free_start {
        return;
    }
    let scale = chain.now().objective as f64 / problem.groups.len() as f64;
    loop {
        let done = (effort.done)(chain.evaluations()) / SHARE;
        if done >= 1.0 {
            // A short search from a good plan only led away from it.
            chain.go_back();
            return;
        }
        chain.run_groups(&free, BATCH, scale, done);
    }
}
