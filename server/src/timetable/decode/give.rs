//! The third pass: forward again, gives starts back to the left where the rest before has become dearer than the rest
//! after, and lets every later leg start as soon as it can.

use super::{Decoder, Row, Span};
use crate::timetable::order::Order;
use crate::timetable::problem::{NEVER, NONE, Op, Problem, Slot};

impl Decoder {
    pub(super) fn give(&mut self, problem: &Problem, order: &Order, index: u32) {
        let slot = problem.slots[index as usize];
        let over = self.rest_too_long_before(problem, &slot);
        if over > 0 {
            let room = self.room_left(problem, order, index, &slot);
            let by = self.worth(problem, &slot, over, room);
            if by > 0 {
                for at in &mut self.is.last[slot.first_op as usize..][..usize::from(slot.ops)] {
                    at.start -= by;
                    at.end -= by;
                }
            }
            self.stand(problem, order, index, &slot, over - by);
        }
        if slot.ops > 1 || slot.legs_done > 0 {
            self.as_soon_as_can(problem, &slot);
        }
    }

    fn rest_too_long_before(&self, problem: &Problem, slot: &Slot) -> i32 {
        if slot.rest_max == NEVER || slot.legs_done > 0 {
            return 0;
        }
        let end = if slot.first {
            problem.members[usize::from(slot.member)].last_end
        } else {
            self.is.last[slot.first_op as usize - 1].end
        };
        if end < 0 { 0 } else { self.is.last[slot.first_op as usize].start - end - slot.rest_max }
    }

    /// The earliest start that what comes before at the station and the coach allow now.
    fn open_now(&self, problem: &Problem, slot: &Slot, op: &Op, row: &Row) -> i32 {
        let free = if row.last_here == NONE {
            problem.places[usize::from(row.station)].free_at
        } else {
            self.is.last[row.last_here as usize].end
        };
        let open = free + row.change;
        if op.spot_from < 0 {
            return open;
        }
        let (free, at) = if row.last_spot == NONE {
            let coach = &problem.coaches[usize::from(slot.coach)];
            (coach.free_at, coach.at)
        } else {
            let last = row.last_spot as usize;
            let free = self.is.last[last].start + problem.ops[last].spot_to;
            (free, u32::from(self.is.rows[last].station))
        };
        open.max(free + problem.coach_walk(at, row.station) - op.spot_from)
    }

    /// How far a round may move to the left as a whole.
    fn room_left(&self, problem: &Problem, order: &Order, index: u32, slot: &Slot) -> i32 {
        let first = self.is.last[slot.first_op as usize];
        let ready = self.ready(problem, order, index, slot, &self.is.last);
        let mut room = first.start - ready.max(problem.now);
        for o in slot.first_op..slot.first_op + u32::from(slot.ops) {
            let (op, row, at) =
                (&problem.ops[o as usize], &self.is.rows[o as usize], self.is.last[o as usize]);
            // Where one coach spots two legs they move together: what the first allows is allowed.
            let inside = |last: u32| (slot.first_op..o).contains(&last);
            if !inside(row.last_here) && !inside(row.last_spot) {
                room = room.min(at.start - self.open_now(problem, slot, op, row));
            }
            room = room.min(after_window(problem, slot, op, row, at));
            if op.told >= 0 {
                room = room.min((at.start - (op.told - 5)).max(0));
            }
        }
        room
    }

    /// How many seconds to the left are worth it: the dear ones before against what the rest after then costs.
    fn worth(&self, problem: &Problem, slot: &Slot, over: i32, room: i32) -> i32 {
        let end = slot.first_op as usize + usize::from(slot.ops);
        let after = if slot.last {
            None
        } else {
            let rest = self.is.late[end].start - self.is.last[end - 1].end;
            let next_max = problem.slots_after(slot).rest_max;
            (next_max != NEVER).then(|| rest - next_max)
        };
        let price = &problem.prices.overrun;
        let mut by = 0;
        while by < room && by < over {
            let (dear, back) = price.previous(over - by);
            let (cheap, on) = after.map_or((0, NEVER), |a| price.next(a + by));
            if dear <= cheap {
                break;
            }
            by += back.min(on).clamp(1, (room - by).min(over - by));
        }
        by
    }

    /// Lets the first leg alone begin earlier, its member standing before the next, where that is cheaper than the rest
    /// before, and the next leg cannot come earlier with it.
    fn stand(&mut self, problem: &Problem, order: &Order, index: u32, slot: &Slot, over: i32) {
        if slot.ops < 2 || over <= 0 || problem.prices.overrun.previous(over).0 <= problem.prices.wait {
            return;
        }
        let (first, next) = (slot.first_op, slot.first_op as usize + 1);
        let (op, row) = (&problem.ops[first as usize], self.is.rows[first as usize]);
        let (at, after) = (self.is.last[first as usize], self.is.last[next]);
        if after.start > self.open_now(problem, slot, &problem.ops[next], &self.is.rows[next]) {
            return;
        }
        let ready = self.ready(problem, order, index, slot, &self.is.last).max(problem.now);
        let mut room = at.start - ready.max(self.open_now(problem, slot, op, &row));
        room = room.min(after_window(problem, slot, op, &row, at));
        room = room.min(slot.wait_max - (after.start - at.end - self.is.rows[next].gap));
        if op.told >= 0 {
            room = room.min((at.start - (op.told - 5)).max(0));
        }
        let mut by = 0;
        while by < room && by < over {
            let (dear, back) = problem.prices.overrun.previous(over - by);
            if dear <= problem.prices.wait {
                break;
            }
            by += back.clamp(1, (room - by).min(over - by));
        }
        self.is.last[first as usize].start -= by.max(0);
        self.is.last[first as usize].end -= by.max(0);
    }

    /// Starts every later leg at the first second at which it can: what came before it may have moved.
    fn as_soon_as_can(&mut self, problem: &Problem, slot: &Slot) {
        let from_leg = u32::from(slot.legs_done == 0);
        for o in slot.first_op + from_leg..slot.first_op + u32::from(slot.ops) {
            let (op, row) = (&problem.ops[o as usize], self.is.rows[o as usize]);
            let before = if o == slot.first_op {
                problem.members[usize::from(slot.member)].way_end
            } else {
                self.is.last[o as usize - 1].end
            };
            let ready = before + row.gap;
            let from = ready.max(problem.now).max(self.open_now(problem, slot, op, &row));
            let start = self.fit(problem, slot, op, row.station, row.change, from);
            self.is.last[o as usize] = Span { start, end: start + op.length };
        }
    }
}

/// How far a turn may move to the left before it meets a window of its station or its coach.
fn after_window(problem: &Problem, slot: &Slot, op: &Op, row: &Row, at: Span) -> i32 {
    let mut room = NEVER;
    for &(_, to) in &problem.places[usize::from(row.station)].busy {
        if to <= at.start - row.change {
            room = room.min(at.start - row.change - to);
        }
    }
    if op.spot_from >= 0 {
        for &(_, to) in &problem.coaches[usize::from(slot.coach)].busy {
            if to <= at.start + op.spot_from {
                room = room.min(at.start + op.spot_from - to);
            }
        }
    }
    room
}
