//! What the times of an order cost: the objective, term by term as the checker has it.

use super::{Cost, Decoder, Span};
use crate::timetable::order::Order;
use crate::timetable::problem::{NEVER, Problem, Slot};

impl Decoder {
    /// The least that one round can cost, after the first pass: finishes and starts as they are then.
    pub(super) fn least_of(&self, problem: &Problem, slot: &Slot) -> i64 {
        let mut sum = 0;
        let person = &problem.members[usize::from(slot.member)];
        if slot.first && !person.begun {
            sum += problem.prices.door.of(self.is.early[slot.first_op as usize].start - person.release);
        }
        sum + if slot.last { left(problem, slot, &self.is.early) } else { 0 }
    }

    /// The least that the order can cost with these sums over its rounds.
    pub(super) fn least(&self, problem: &Problem) -> i64 {
        self.is.sums.least + self.whole(problem, &self.is.early)
    }

    /// Works out the cost anew, from every round.
    pub(super) fn cost(&mut self, problem: &Problem, order: &Order) -> Cost {
        self.is.sums.cost = 0;
        for (index, slot) in problem.slots.iter().enumerate() {
            let cost = self.cost_of(problem, slot);
            self.is.shares[index].cost = cost;
            self.is.sums.cost += cost;
        }
        for g in 0..problem.groups.len() {
            self.is.turned[g] = self.spans.turned(problem, order, &self.is.last, g);
        }
        self.summed(problem)
    }

    /// The cost from the sums over rounds and groups.
    pub(super) fn summed(&mut self, problem: &Problem) -> Cost {
        let turned: i64 = self.is.turned.iter().sum();
        Cost {
            objective: self.is.sums.cost + self.whole(problem, &self.is.last),
            overlap: self.spans.overlap(problem, &self.is, &self.places),
            broken: self.is.sums.broken + turned,
        }
    }

    /// What the whole costs besides its rounds.
    fn whole(&self, problem: &Problem, times: &[Span]) -> i64 {
        let ends = self.spans.finals.iter().map(|&o| times[o as usize].end);
        problem.prices.makespan * i64::from(ends.max().unwrap_or(0))
            + problem.prices.handling * self.is.sums.pieces
    }

    /// What one round adds: the rest before it, waits in it, what was told, and its member's finish.
    pub(super) fn cost_of(&self, problem: &Problem, slot: &Slot) -> i64 {
        let prices = &problem.prices;
        let person = &problem.members[usize::from(slot.member)];
        let first = slot.first_op as usize;
        let end = if slot.first { person.last_end } else { self.is.last[first - 1].end };
        let start = self.is.last[first].start;
        let mut sum = 0;
        if slot.legs_done > 0 {
            let wait = start - person.way_end - self.is.rows[first].gap;
            sum += prices.wait * i64::from(wait.min(slot.wait_max));
            sum += prices.late * i64::from((wait - slot.wait_max).max(0));
        } else if slot.chained {
            sum += prices.wait * i64::from(start - end - self.is.rows[first].gap);
        } else if end >= 0 {
            if slot.rest_max != NEVER {
                sum += prices.overrun.of(start - end - slot.rest_max);
            }
        } else if slot.first {
            sum += prices.door.of(start - person.release);
        }
        for o in first..first + usize::from(slot.ops) {
            let at = self.is.last[o];
            if o > first {
                let wait = at.start - self.is.last[o - 1].end - self.is.rows[o].gap;
                sum += prices.wait * i64::from(wait.min(slot.wait_max));
            }
            let told = problem.ops[o].told;
            if told >= 0 {
                sum += prices.told * i64::from(((at.start - told).abs() - 5).max(0));
            }
        }
        sum + if slot.last { left(problem, slot, &self.is.last) } else { 0 }
    }
}

/// What it costs that a member finishes with their last round.
fn left(problem: &Problem, slot: &Slot, times: &[Span]) -> i64 {
    let person = &problem.members[usize::from(slot.member)];
    let end = times[slot.first_op as usize + usize::from(slot.ops) - 1].end;
    problem.prices.flow * i64::from(end - person.release)
        + problem.prices.tardy * i64::from((end - person.due).max(0))
}
