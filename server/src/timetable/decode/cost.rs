//! What the times of an order cost: the objective, term by term as the checker has it.

use super::{Cost, Decoder};
use crate::timetable::order::Order;
use crate::timetable::problem::{NEVER, Problem};

impl Decoder {
    /// The least that this order can cost, after the first pass: finishes, starts and loads as they are then.
    pub(super) fn least(&self, problem: &Problem) -> i64 {
        let prices = &problem.prices;
        let (mut sum, mut makespan) = (0_i64, 0);
        for person in &problem.members {
            if person.slots == 0 {
                continue;
            }
            let first = &problem.slots[person.first_slot as usize];
            let last = &problem.slots[(person.first_slot + person.slots) as usize - 1];
            let end = self.rows[(last.first_op + u32::from(last.ops)) as usize - 1].end;
            sum += prices.flow * i64::from(end - person.release);
            sum += prices.tardy * i64::from((end - person.due).max(0));
            if !person.begun {
                sum += prices.door.of(self.rows[first.first_op as usize].start - person.release);
            }
            makespan = end.max(makespan);
        }
        sum + prices.makespan * i64::from(makespan) + prices.handling * self.pieces
    }

    pub(super) fn cost(&mut self, problem: &Problem, order: &Order) -> Cost {
        let prices = &problem.prices;
        let (mut sum, mut makespan) = (0_i64, 0);
        for person in &problem.members {
            if person.slots == 0 {
                continue;
            }
            let rounds =
                &problem.slots[person.first_slot as usize..(person.first_slot + person.slots) as usize];
            let mut end = person.last_end;
            for slot in rounds {
                let first = slot.first_op as usize;
                let start = self.rows[first].start;
                if slot.legs_done > 0 {
                    let wait = start - person.way_end - self.rows[first].gap;
                    sum += prices.wait * i64::from(wait.min(slot.wait_max));
                    sum += prices.late * i64::from((wait - slot.wait_max).max(0));
                } else if slot.chained {
                    sum += prices.wait * i64::from(start - end - self.rows[first].gap);
                } else if end >= 0 {
                    if slot.rest_max != NEVER {
                        sum += prices.overrun.of(start - end - slot.rest_max);
                    }
                } else if slot.first {
                    sum += prices.door.of(start - person.release);
                }
                for o in first..first + usize::from(slot.ops) {
                    let row = &self.rows[o];
                    if o > first {
                        let wait = row.start - self.rows[o - 1].end - row.gap;
                        sum += prices.wait * i64::from(wait.min(slot.wait_max));
                    }
                    let told = problem.ops[o].told;
                    if told >= 0 {
                        sum += prices.told * i64::from(((row.start - told).abs() - 5).max(0));
                    }
                }
                end = self.rows[first + usize::from(slot.ops) - 1].end;
            }
            sum += prices.flow * i64::from(end - person.release);
            sum += prices.tardy * i64::from((end - person.due).max(0));
            makespan = end.max(makespan);
        }
        sum += prices.makespan * i64::from(makespan) + prices.handling * self.pieces;
        let (overlap, turned) = self.spans.broken(problem, order, &self.rows);
        Cost { objective: sum, overlap, broken: self.broken + turned }
    }
}
