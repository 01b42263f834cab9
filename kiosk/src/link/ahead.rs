//! When what is shown changes next, so that a display sleeps until then and turns a digit on the floor's second.

use std::collections::VecDeque;

use turnabout_protocol::units::FloorMs;

use super::limits::LOOK_MS;

/// Instants kept: four stations with a count, a reason and a neighbour each, and some more.
const KEPT: usize = 16;

/// All counts are of whole seconds: what counts to an instant or from one changes this often, in floor milliseconds.
const SECOND: i64 = 1_000;

/// At what milliseconds of a floor second something changed lately: the next change is likely there again. They save
/// looks and decide nothing.
#[derive(Debug, Default)]
pub(super) struct Edges {
    within: VecDeque<i64>,
}

impl Edges {
    /// The first real time after `real`, and at most [`LOOK_MS`] later, at which `same` does not hold; `floor` is the
    /// floor time at a real time, which never goes back. Once it does not hold it does not for the rest of that while:
    /// counts go one way.
    pub(super) fn first_change(
        &mut self,
        real: u64,
        floor: impl Fn(u64) -> Option<FloorMs>,
        same: impl Fn(u64) -> bool,
    ) -> u64 {
        let last = real + LOOK_MS;
        let mut before = real;
        for (guess, within) in self.guesses(real, last, &floor) {
            if guess - 1 > before && !same(guess - 1) {
                return self.keep(first(before, guess - 1, |at| !same(at)), floor);
            }
            if !same(guess) {
                return guess;
            }
            self.within.retain(|kept| *kept != within);
            before = guess;
        }
        if before == last || same(last) {
            return last;
        }
        self.keep(first(before, last, |at| !same(at)), floor)
    }

    /// Where the kept ones come next, in order.
    fn guesses(&self, real: u64, last: u64, floor: impl Fn(u64) -> Option<FloorMs>) -> Vec<(u64, i64)> {
        let (Some(now), Some(end)) = (floor(real), floor(last)) else { return Vec::new() };
        let next = |within: i64| FloorMs(now.0 + SECOND - (now.0 - within).rem_euclid(SECOND));
        let there = |at: u64, then: FloorMs| floor(at).is_some_and(|floor| floor >= then);
        let to_come = self.within.iter().map(|within| (next(*within), *within)).filter(|(at, _)| *at <= end);
        let mut guesses: Vec<_> =
            to_come.map(|(then, within)| (first(real, last, |at| there(at, then)), within)).collect();
        guesses.sort_unstable();
        guesses
    }

    fn keep(&mut self, change: u64, floor: impl Fn(u64) -> Option<FloorMs>) -> u64 {
        let within = floor(change).map(|at| at.0.rem_euclid(SECOND));
        if let Some(within) = within.filter(|within| !self.within.contains(within)) {
            if self.within.len() == KEPT {
                self.within.pop_front();
            }
            self.within.push_back(within);
        }
        change
    }
}

/// The first in `(before, after]` for which something holds that holds for `after` and from then on.
fn first(mut before: u64, mut after: u64, holds: impl Fn(u64) -> bool) -> u64 {
    while after - before > 1 {
        let middle = before.midpoint(after);
        if holds(middle) { after = middle } else { before = middle }
    }
    after
}
