//! The second and third pass and the cost of a neighbour, where they differ from what is kept.

use crate::timetable::decode::{Cost, Decoder};
use crate::timetable::order::Order;
use crate::timetable::problem::{NONE, Problem};

impl Decoder {
    /// The second pass, where what comes after a round or the round itself differs.
    pub(super) fn back_near(&mut self, problem: &Problem, order: &Order) {
        for &round in order.sequence.iter().rev() {
            let mark = self.near.marks[round as usize];
            if !mark.back {
                continue;
            }
            let slot = &problem.slots[round as usize];
            let ops = slot.first_op as usize..slot.first_op as usize + usize::from(slot.ops);
            self.is.late[ops.clone()].copy_from_slice(&self.is.early[ops.clone()]);
            self.back(problem, round);
            if !mark.moved && self.is.late[ops.clone()] == self.near.kept.late[ops.clone()] {
                continue;
            }
            self.near.note(round).give = true;
            if !slot.first {
                let before = self.near.note(round - 1);
                (before.back, before.give) = (true, true);
            }
            for o in ops {
                let row = self.is.rows[o];
                for last in [row.last_here, row.last_spot] {
                    if last != NONE {
                        self.near.note(self.near.round[last as usize]).back = true;
                    }
                }
            }
        }
    }

    /// The third pass, where what comes before a round or the round itself differs.
    pub(super) fn give_near(&mut self, problem: &Problem, order: &Order) {
        for &round in &order.sequence {
            let mark = self.near.marks[round as usize];
            if !mark.give {
                continue;
            }
            let slot = &problem.slots[round as usize];
            let ops = slot.first_op as usize..slot.first_op as usize + usize::from(slot.ops);
            self.is.last[ops.clone()].copy_from_slice(&self.is.late[ops.clone()]);
            self.give(problem, order, round);
            if !mark.moved && self.is.last[ops.clone()] == self.near.kept.last[ops.clone()] {
                continue;
            }
            self.near.note(round).cost = true;
            if !slot.last {
                let next = self.near.note(round + 1);
                (next.give, next.cost) = (true, true);
            }
            for o in ops {
                let row = self.is.rows[o];
                for next in [row.next_here, row.next_spot] {
                    if next != NONE {
                        self.near.note(self.near.round[next as usize]).give = true;
                    }
                }
            }
        }
    }

    /// The cost, from the rounds that differ and what is kept of the others.
    pub(super) fn cost_near(&mut self, problem: &Problem, order: &Order) -> Cost {
        for i in 0..self.near.noted.len() {
            let round = self.near.noted[i] as usize;
            if self.near.marks[round].cost {
                let slot = &problem.slots[round];
                let cost = self.cost_of(problem, slot);
                self.is.sums.cost += cost - self.is.shares[round].cost;
                self.is.shares[round].cost = cost;
                self.near.groups[usize::from(slot.group)] = true;
            }
        }
        for g in 0..problem.groups.len() {
            if self.near.groups[g] {
                self.is.turned[g] = self.spans.turned(problem, order, &self.is.last, g);
            }
        }
        self.summed(problem)
    }
}
