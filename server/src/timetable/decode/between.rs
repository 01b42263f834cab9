//! The first pass where groups go through the same stations in different directions: a round may go between two that
//! were placed before, wherever there is room.
//!
//! Where all go in one direction, first the bench and then the row, whoever comes first at one comes first at the
//! other, and appending loses nothing. Two groups that pass each other each need a place in the middle of what the
//! other does.

use super::{Decoder, Row, Span};
use crate::timetable::order::Order;
use crate::timetable::problem::{NONE, Op, Problem, Slot};

/// How often one round is moved on until all its legs find room, as in the other first pass.
const MOST_TRIES: u32 = 400;

impl Decoder {
    /// Places a round as early as its stations and its coach have room for all of it.
    pub(super) fn place_between(&mut self, problem: &Problem, order: &Order, index: u32) {
        let slot = problem.slots[index as usize];
        let ready = self.ready(problem, order, index, &slot, &self.is.early);
        let ops = slot.first_op..slot.first_op + u32::from(slot.ops);
        let way_gap = self.way_gap(problem, &slot, ready);
        let mut least = ready.max(problem.now);
        for tries in 0.. {
            let (mut excess, mut placed) = (0, ops.start);
            for o in ops.clone() {
                let op = &problem.ops[o as usize];
                let station = order.station(problem, slot.member, op.leg);
                let (gap, from) = if o == ops.start {
                    (way_gap, least)
                } else {
                    let gap = self.gap_before(problem, o, op, station);
                    (gap, self.is.early[o as usize - 1].end + gap)
                };
                let (start, change) = self.room_from(problem, &slot, op, station, from.max(problem.now));
                self.is.rows[o as usize] = Row { change, gap, station, ..Row::NOWHERE };
                self.is.early[o as usize] = Span { start, end: start + op.length };
                self.insert(problem, &slot, o);
                placed = o + 1;
                if o > ops.start {
                    excess = start - from - slot.wait_max;
                    if excess > 0 {
                        break;
                    }
                }
            }
            if excess <= 0 {
                return;
            }
            if slot.legs_done > 0 || tries >= MOST_TRIES {
                self.is.sums.broken += i64::from(excess);
                self.append_rest(problem, order, &slot, placed..ops.end);
                return;
            }
            least = self.is.early[ops.start as usize].start + excess;
            for o in (ops.start..placed).rev() {
                self.remove(problem, &slot, o);
            }
        }
    }

    /// Places the legs that are left of a round whose limit cannot be kept.
    fn append_rest(&mut self, problem: &Problem, order: &Order, slot: &Slot, rest: std::ops::Range<u32>) {
        for o in rest {
            let op = &problem.ops[o as usize];
            let station = order.station(problem, slot.member, op.leg);
            let gap = self.gap_before(problem, o, op, station);
            let from = self.is.early[o as usize - 1].end + gap;
            let (start, change) = self.room_from(problem, slot, op, station, from);
            self.is.rows[o as usize] = Row { change, gap, station, ..Row::NOWHERE };
            self.is.early[o as usize] = Span { start, end: start + op.length };
            self.insert(problem, slot, o);
        }
    }

    /// From the end of the leg before to the first second at which the next could start: the walk, and on one and the
    /// same station the change of load.
    fn gap_before(&self, problem: &Problem, o: u32, op: &Op, station: u16) -> i32 {
        let before = &self.is.rows[o as usize - 1];
        let own = if before.station == station {
            self.change(problem, station, before.load_after, op).0
        } else {
            0
        };
        problem.walk(before.station, station) + own
    }

    /// Seconds and pieces of the change to what a turn wants.
    #[inline]
    fn change(&self, problem: &Problem, station: u16, there: u16, op: &Op) -> (i32, i32) {
        if op.load == 0 {
            return (0, 0);
        }
        problem.changes.take(problem.places[usize::from(station)].kind, there, op.load)
    }

    /// The first start from `start` on for which both the station and the coach have room, and the change before it.
    fn room_from(&self, problem: &Problem, slot: &Slot, op: &Op, station: u16, mut start: i32) -> (i32, i32) {
        loop {
            let (at, change) = self.room_here(problem, slot, op, station, start);
            if op.spot_from < 0 {
                return (at, change);
            }
            start = self.room_spot(problem, slot, op, station, at);
            if start == at {
                return (at, change);
            }
        }
    }

    fn room_here(&self, problem: &Problem, slot: &Slot, op: &Op, station: u16, start: i32) -> (i32, i32) {
        let place = &problem.places[usize::from(station)];
        let (mut before, mut next) = self.around(station, start);
        loop {
            let (free, there) = if before == NONE {
                (place.free_at, place.load)
            } else {
                (self.is.early[before as usize].end, self.is.rows[before as usize].load_after)
            };
            let change = self.change(problem, station, there, op).0;
            let at = self.fit(problem, slot, op, station, change, start.max(free + change));
            if next == NONE {
                return (at, change);
            }
            let (at_next, wants) = (self.is.early[next as usize].start, &problem.ops[next as usize]);
            let after = if op.load == 0 { there } else { op.load };
            // Who takes what is there must find what they found.
            let same = wants.load != 0 || after == there;
            let out = self.change(problem, station, after, wants).0;
            let clear = !place.busy.iter().any(|&(from, to)| at_next - out < to && from < at_next);
            if same && clear && at + op.length + out <= at_next {
                return (at, change);
            }
            (before, next) = (next, self.is.rows[next as usize].next_here);
        }
    }

    fn room_spot(&self, problem: &Problem, slot: &Slot, op: &Op, station: u16, start: i32) -> i32 {
        let coach = &problem.coaches[usize::from(slot.coach)];
        let spot = |o: u32| self.is.early[o as usize].start + problem.ops[o as usize].spot_from;
        let mut from = start + op.spot_from;
        let (mut before, mut next) = (self.coaches[usize::from(slot.coach)], NONE);
        while before != NONE && spot(before) > from {
            (before, next) = (self.is.rows[before as usize].last_spot, before);
        }
        loop {
            let (free, at) = if before == NONE {
                (coach.free_at, coach.at)
            } else {
                let free = self.is.early[before as usize].start + problem.ops[before as usize].spot_to;
                (free, u32::from(self.is.rows[before as usize].station))
            };
            from = from.max(free + problem.coach_walk(at, station));
            while let Some(&(_, to)) =
                coach.busy.iter().find(|w| from < w.1 && w.0 < from + op.spot_to - op.spot_from)
            {
                from = to;
            }
            if next == NONE {
                break;
            }
            let row = &self.is.rows[next as usize];
            let walk = problem.coach_walk(u32::from(station), row.station);
            if from + op.spot_to - op.spot_from + walk <= spot(next) {
                break;
            }
            (before, next) = (next, row.next_spot);
        }
        from - op.spot_from
    }

    /// The last turn at a station that starts no later than `start`, and the one after it.
    fn around(&self, station: u16, start: i32) -> (u32, u32) {
        let (mut before, mut next) = (self.places[usize::from(station)], NONE);
        while before != NONE && self.is.early[before as usize].start > start {
            (before, next) = (self.is.rows[before as usize].last_here, before);
        }
        (before, next)
    }

    /// Links a placed turn in at its station and its coach.
    fn insert(&mut self, problem: &Problem, slot: &Slot, o: u32) {
        let (row, op) = (self.is.rows[o as usize], &problem.ops[o as usize]);
        let place = usize::from(row.station);
        let (before, next) = self.around(row.station, self.is.early[o as usize].start);
        let there = if before == NONE {
            problem.places[place].load
        } else {
            self.is.rows[before as usize].load_after
        };
        let load_after = if op.load == 0 { there } else { op.load };
        let mut pieces = self.change(problem, row.station, there, op).1;
        if next == NONE {
            self.places[place] = o;
        } else {
            let wants = &problem.ops[next as usize];
            let (change, more) = self.change(problem, row.station, load_after, wants);
            pieces += more - self.change(problem, row.station, there, wants).1;
            let after = &mut self.is.rows[next as usize];
            (after.change, after.last_here) = (change, o);
        }
        if before != NONE {
            self.is.rows[before as usize].next_here = o;
        }
        self.is.sums.pieces += i64::from(pieces);
        let mine = &mut self.is.rows[o as usize];
        (mine.load_after, mine.last_here, mine.next_here) = (load_after, before, next);
        if op.spot_from >= 0 {
            self.insert_spot(problem, slot, o);
        }
    }

    fn insert_spot(&mut self, problem: &Problem, slot: &Slot, o: u32) {
        let spot = |times: &[Span], o: u32| times[o as usize].start + problem.ops[o as usize].spot_from;
        let coach = usize::from(slot.coach);
        let (mut before, mut next) = (self.coaches[coach], NONE);
        while before != NONE && spot(&self.is.early, before) > spot(&self.is.early, o) {
            (before, next) = (self.is.rows[before as usize].last_spot, before);
        }
        if next == NONE {
            self.coaches[coach] = o;
        } else {
            self.is.rows[next as usize].last_spot = o;
        }
        if before != NONE {
            self.is.rows[before as usize].next_spot = o;
        }
        let mine = &mut self.is.rows[o as usize];
        (mine.last_spot, mine.next_spot) = (before, next);
    }

    /// Takes a turn out again.
    fn remove(&mut self, problem: &Problem, slot: &Slot, o: u32) {
        let (row, op) = (self.is.rows[o as usize], &problem.ops[o as usize]);
        let place = usize::from(row.station);
        let there = if row.last_here == NONE {
            problem.places[place].load
        } else {
            self.is.rows[row.last_here as usize].load_after
        };
        let mut pieces = self.change(problem, row.station, there, op).1;
        if row.next_here == NONE {
            self.places[place] = row.last_here;
        } else {
            let wants = &problem.ops[row.next_here as usize];
            let (change, less) = self.change(problem, row.station, there, wants);
            pieces += self.change(problem, row.station, row.load_after, wants).1 - less;
            let after = &mut self.is.rows[row.next_here as usize];
            (after.change, after.last_here) = (change, row.last_here);
        }
        if row.last_here != NONE {
            self.is.rows[row.last_here as usize].next_here = row.next_here;
        }
        self.is.sums.pieces -= i64::from(pieces);
        if op.spot_from < 0 {
            return;
        }
        if row.next_spot == NONE {
            self.coaches[usize::from(slot.coach)] = row.last_spot;
        } else {
            self.is.rows[row.next_spot as usize].last_spot = row.last_spot;
        }
        if row.last_spot != NONE {
            self.is.rows[row.last_spot as usize].next_spot = row.next_spot;
        }
    }
}
