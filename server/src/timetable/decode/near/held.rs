//! What holds back a round of the order that is kept: whoever must be through for it to start when it does.

use crate::timetable::decode::Decoder;
use crate::timetable::order::Order;
use crate::timetable::problem::{NONE, Problem};

/// Why a round starts no earlier.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    /// Its member's round before, with the rest after it.
    ByOwn(u32),
    /// Another round, at a station or a coach of both.
    ByOther(u32),
}

impl Decoder {
    /// Calls `each` with whatever holds back a round in the order [`kept`](Self::keep) last, `order`: the round of its
    /// member before, and those right before it at its stations and its coach, where it starts as soon as they allow.
    /// Nothing is known where groups cross, as nothing is kept there.
    pub fn held(&self, problem: &Problem, order: &Order, round: u32, mut each: impl FnMut(Held)) {
        if problem.crossing {
            return;
        }
        let kept = &self.near.kept;
        let slot = &problem.slots[round as usize];
        let first = slot.first_op as usize;
        if !slot.first && slot.legs_done == 0 {
            let ready = self.ready(problem, order, round, slot, &kept.last);
            if kept.last[first].start <= ready && order.delays[round as usize] < ready {
                each(Held::ByOwn(round - 1));
            }
        }
        for o in slot.first_op..slot.first_op + u32::from(slot.ops) {
            let (op, row, at) = (&problem.ops[o as usize], &kept.rows[o as usize], kept.last[o as usize]);
            let before = row.last_here;
            if before != NONE && kept.last[before as usize].end + row.change >= at.start {
                let other = self.near.round[before as usize];
                if other != round {
                    each(Held::ByOther(other));
                }
            }
            let before = row.last_spot;
            if op.spot_from >= 0 && before != NONE {
                let there = kept.last[before as usize].start + problem.ops[before as usize].spot_to;
                let walk = problem.coach_walk(u32::from(kept.rows[before as usize].station), row.station);
                let other = self.near.round[before as usize];
                if other != round && there + walk >= at.start + op.spot_from {
                    each(Held::ByOther(other));
                }
            }
        }
    }

    /// When a round of the order kept last ends.
    #[inline]
    #[must_use]
    pub fn kept_end(&self, problem: &Problem, round: u32) -> i32 {
        let slot = &problem.slots[round as usize];
        self.near.kept.last[(slot.first_op + u32::from(slot.ops) - 1) as usize].end
    }

    /// What a round of the order kept last costs beyond the least that it can: the rest before it, waits in it.
    #[inline]
    #[must_use]
    pub fn kept_excess(&self, round: u32) -> i64 {
        let share = &self.near.kept.shares[round as usize];
        share.cost - share.least
    }
}
