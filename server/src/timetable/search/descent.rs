//! Before the annealing: every group in turn tries all pairs of stations at a few times, and takes the best.
//!
//! On a large floor a cold search from an order by eye spends its time moving single rounds about while whole groups
//! are at the wrong place.

use super::anneal::Anneal;
use super::{Effort, Part};
use crate::timetable::problem::Problem;

/// How much of the search it may take.
const SHARE: f64 = 0.25;

/// Seconds by which a group tries to begin earlier or later.
const TIMES: [i32; 7] = [0, -120, 120, -300, 300, -700, 700];

/// The most rows of stations that a group tries at one time.
const MOST_ROWS: usize = 16;

/// Lets every chain do so, each with the groups in an order of its own.
pub(super) fn descend_all(chains: &mut [Anneal<'_>], effort: &Effort<'_>) {
    let mut parts: Vec<_> = chains.iter_mut().map(|chain| || descend(chain, effort)).collect();
    let mut parts: Vec<Part<'_>> = parts.iter_mut().map(|part| part as Part<'_>).collect();
    (effort.beside)(&mut parts);
}

fn descend(chain: &mut Anneal<'_>, effort: &Effort<'_>) {
    let problem = chain.problem();
    let mut groups: Vec<usize> = (0..problem.groups.len())
        .filter(|&g| {
            !problem.slots_of(g).is_empty() && problem.members_of(g).all(|m| !problem.members[m].begun)
        })
        .collect();
    let rows: Vec<Vec<Vec<u16>>> = (0..problem.groups.len()).map(|g| rows(problem, g)).collect();
    loop {
        chain.rng().shuffle(&mut groups);
        let mut better = false;
        for &g in &groups {
            for row in &rows[g] {
                if (effort.done)(chain.evaluations()) >= SHARE {
                    return;
                }
                for by in TIMES {
                    better |=
                        chain.take_if_better(|look, problem, order| look.seat(problem, order, g, row, by));
                }
            }
        }
        if !better {
            return;
        }
    }
}

/// The stations that a group can use, leg by leg.
fn rows(problem: &Problem, g: usize) -> Vec<Vec<u16>> {
    let mut rows = vec![Vec::new()];
    for of in &problem.groups[g].eligible {
        rows = rows
            .iter()
            .flat_map(|row: &Vec<u16>| of.iter().map(move |&s| row.iter().copied().chain([s]).collect()))
            .take(MOST_ROWS)
            .collect();
    }
    rows
}
