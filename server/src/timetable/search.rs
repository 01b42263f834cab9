//! Looks for a better order: simulated annealing over the moves of [`moves`], first of whole [`groups`] and then of single
//! rounds, in several threads that now and then go on from the best of all.
//!
//! Where a next leg may wait on purpose there are no rounds and groups to move, only legs: [`critical`] turns around those
//! that a price comes from.
//!
//! Deterministic for a seed, a number of threads and a number of evaluations. The room reads no clock: who calls says
//! how far along the search is, and when to stop.

mod anneal;
mod critical;
mod groups;
mod moves;
mod weave;

use std::num::NonZeroUsize;

use anneal::Anneal;

use super::decode::{Cost, Decoder};
use super::order::Order;
use super::problem::Problem;

/// How long to look, and with what.
pub struct Effort<'a> {
    /// Where the dice start.
    pub seed: u64,
    /// How many searches go on beside each other.
    pub threads: NonZeroUsize,
    /// How much of the search is done, from 0 to 1, after so many evaluations of one thread; 1 or more ends it. It is
    /// asked every [`BATCH`] evaluations, by every thread.
    pub done: &'a (dyn Fn(u64) -> f64 + Sync),
    /// Who lets the threads' parts of the work go on beside each other, and comes back when all are through. Threads
    /// are no business of this room: [`in_turn`] does one part after the other, with the same result where `done`
    /// counts evaluations.
    pub beside: Beside<'a>,
}

/// Lets parts of a work go on beside each other.
pub type Beside<'a> = &'a (dyn Fn(&mut [Part<'_>]) + Sync);

/// One thread's part of a work.
pub type Part<'a> = &'a mut (dyn FnMut() + Send);

/// How far a search is that looks at so many orders; at least one.
pub fn counted(most: u64) -> impl Fn(u64) -> f64 + Sync {
    let most = most.max(1);
    move |evaluations| evaluations as f64 / most as f64
}

/// One part after the other.
pub fn in_turn(parts: &mut [Part<'_>]) {
    for part in parts {
        part();
    }
}

/// So many orders are looked at between two questions how far along the search is: a millisecond or two on
/// the largest floors.
pub const BATCH: u32 = 64;

/// What a search found.
#[derive(Clone, Debug)]
pub struct Found {
    /// The best order met.
    pub order: Order,
    /// What it costs.
    pub cost: Cost,
    /// How many orders were looked at, by all threads together.
    pub evaluations: u64,
}

/// Where along the way the threads meet: whoever is behind goes on from the best.
const MEETINGS: [f64; 5] = [0.35, 0.55, 0.75, 0.9, 1.0];

/// Looks for something better than the best of `starts`, which is what is found where nothing is.
///
/// # Panics
///
/// Where `starts` is empty, or an order in it is none of this problem.
#[must_use]
pub fn improve(problem: &Problem, starts: &[Order], effort: &Effort<'_>) -> Found {
    let mut decoder = Decoder::new(problem);
    let begin = starts
        .iter()
        .min_by_key(|order| decoder.decode(problem, order).rank())
        .expect("a search begins from at least one order");
    if problem.slots.is_empty() {
        // Nothing is left to do, and nothing to change.
        let cost = decoder.decode(problem, begin);
        return Found { order: begin.clone(), cost, evaluations: 1 };
    }
    let mut chains: Vec<Anneal<'_>> = (0..effort.threads.get() as u64)
        .map(|k| Anneal::new(problem, begin.clone(), effort.seed.wrapping_mul(0x9e37_79b9).wrapping_add(k)))
        .collect();
    groups::settle_all(&mut chains, effort);
    for meeting in MEETINGS {
        run_all(&mut chains, effort, meeting);
        let Some(best) = chains.iter().min_by_key(|c| c.best().1.rank()) else { break };
        let (order, rank) = (best.best().0.clone(), best.best().1.rank());
        for chain in &mut chains {
            if meeting < 1.0 && chain.now().rank() > rank {
                chain.restart(&order);
            }
        }
    }
    let evaluations = chains.iter().map(Anneal::evaluations).sum();
    let best = chains.iter().min_by_key(|c| c.best().1.rank()).expect("there is a thread");
    Found { order: best.best().0.clone(), cost: best.best().1, evaluations }
}

/// The same by one thread, with about so many orders looked at: always the same for the same problem and starts.
///
/// # Panics
///
/// As [`improve`].
#[must_use]
pub fn improve_by(problem: &Problem, starts: &[Order], seed: u64, evaluations: u64) -> Found {
    let done = |looked_at: u64| looked_at as f64 / evaluations.max(1) as f64;
    improve(problem, starts, &Effort { seed, threads: NonZeroUsize::MIN, done: &done, beside: &in_turn })
}

/// Lets every chain go on until `until` of the way is done.
fn run_all(chains: &mut [Anneal<'_>], effort: &Effort<'_>, until: f64) {
    let mut parts: Vec<_> = chains.iter_mut().map(|chain| || chain.run_until(effort.done, until)).collect();
    let mut parts: Vec<Part<'_>> = parts.iter_mut().map(|part| part as Part<'_>).collect();
    (effort.beside)(&mut parts);
}
