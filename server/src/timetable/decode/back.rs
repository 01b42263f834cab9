//! The second pass: from the end of the sequence to its beginning, moves rounds to the right where the rest after them
//! is too long, or where their member would only stand at the next station.
//!
//! Overrun is not a regular objective: a round that ends later can shorten a rest that has become too long. What moves
//! to the right makes the rest before it longer, which the round before can take up in its turn, until in the end a
//! member simply begins later.

use super::Decoder;
use crate::timetable::problem::{NEVER, NONE, Problem, Slot};

impl Decoder {
    pub(super) fn back(&mut self, problem: &Problem, index: u32) {
        let slot = &problem.slots[index as usize];
        // Who is between two legs cannot start later than the floor allows.
        if slot.legs_done > 0 {
            return;
        }
        let over = self.rest_too_long_after(problem, slot);
        if over == 0 && slot.ops == 1 {
            return;
        }
        let (shift, waits) = self.room(problem, slot, over);
        if shift > 0 && (over > 0 || waits > 0) {
            self.move_right(slot, shift);
        }
    }

    /// By how many seconds the rest after a round is longer than it should be.
    fn rest_too_long_after(&self, problem: &Problem, slot: &Slot) -> i32 {
        if slot.last {
            return 0;
        }
        let next = slot.first_op + u32::from(slot.ops);
        let rest = self.is.late[next as usize].start - self.is.late[next as usize - 1].end;
        let following = problem.slots_after(slot);
        (rest - following.rest_max.max(following.rest_min)).max(0)
    }

    /// How far the first leg may move so that the end moves by no more than `over` and nobody else is touched, and
    /// how many seconds its member waits between legs, which the first leg can take up.
    fn room(&self, problem: &Problem, slot: &Slot, over: i32) -> (i32, i32) {
        let ops = slot.first_op..slot.first_op + u32::from(slot.ops);
        let (mut shift, mut waits) = (NEVER, 0);
        let mut spotted = 0;
        for o in ops.clone() {
            let (op, at) = (&problem.ops[o as usize], self.is.late[o as usize]);
            if o > slot.first_op {
                waits += at.start - self.is.late[o as usize - 1].end - self.is.rows[o as usize].gap;
            }
            spotted += i32::from(op.spot_from >= 0);
            shift = shift.min(self.slack(problem, slot, o, &ops) + waits);
            if op.told >= 0 {
                shift = shift.min((op.told + 5 - at.start).max(0) + waits);
            }
        }
        // Where one coach spots two legs of a round the second follows the first, and a wait cannot be taken up.
        if spotted > 1 && waits > 0 {
            return (0, 0);
        }
        (shift.min(over + waits), waits)
    }

    /// How far a turn may move to the right before it meets what comes next at its station, the next bar of its coach
    /// or a window.
    fn slack(&self, problem: &Problem, slot: &Slot, o: u32, ops: &std::ops::Range<u32>) -> i32 {
        let (op, row, at) = (&problem.ops[o as usize], &self.is.rows[o as usize], self.is.late[o as usize]);
        let mut slack = Self::before_window(problem, slot, op, row, at);
        if row.next_here != NONE && !ops.contains(&row.next_here) {
            let next = row.next_here as usize;
            slack = slack.min(self.is.late[next].start - self.is.rows[next].change - at.end);
        }
        if row.next_spot != NONE && !ops.contains(&row.next_spot) {
            let next = row.next_spot as usize;
            let walk = problem.coach_walk(u32::from(row.station), self.is.rows[next].station);
            let spot = self.is.late[next].start + problem.ops[next].spot_from;
            slack = slack.min(spot - walk - at.start - op.spot_to);
        }
        slack
    }

    /// Moves the first leg by `shift`; what its member waits before a later leg is taken up first.
    fn move_right(&mut self, slot: &Slot, shift: i32) {
        let mut by = shift;
        let first = slot.first_op as usize;
        let mut end_before = 0;
        for o in first..first + usize::from(slot.ops) {
            if o > first {
                // How much of the gap is wait: what the leg before left between its old end and this start.
                let wait = self.is.late[o].start - end_before - self.is.rows[o].gap;
                by = (by - wait).max(0);
            }
            end_before = self.is.late[o].end;
            self.is.late[o].start += by;
            self.is.late[o].end += by;
        }
    }
}
