//! The first pass: every round as early as can be, in the order of the sequence.

use super::{CoachNow, Decoder, PlaceNow, Row};
use crate::timetable::order::Order;
use crate::timetable::problem::{NEVER, NONE, Op, Problem, Slot};

/// How often one round is moved on until all its legs fit: a bound, met only where windows and limits can never be
/// reconciled. What is left broken then is counted and found by the checker.
const MOST_TRIES: u32 = 400;

impl Decoder {
    pub(super) fn forth(&mut self, problem: &Problem, order: &Order) {
        self.reset(problem);
        for &slot in &order.sequence {
            self.put(problem, order, slot);
        }
    }

    /// Takes one more round: after the others, or between them where groups cross.
    #[inline]
    pub(super) fn put(&mut self, problem: &Problem, order: &Order, slot: u32) {
        if problem.crossing {
            self.place_between(problem, order, slot);
        } else {
            self.place(problem, order, slot);
        }
    }

    pub(super) fn reset(&mut self, problem: &Problem) {
        for (now, place) in self.places.iter_mut().zip(&problem.places) {
            *now = PlaceNow { free: place.free_at, load: place.load, last: NONE };
        }
        for (now, coach) in self.coaches.iter_mut().zip(&problem.coaches) {
            *now = CoachNow { free: coach.free_at, at: coach.at, last: NONE };
        }
        self.pieces = 0;
        self.broken = 0;
    }

    /// The first second at which the rest before a round is over and its member, the floor and its own earliest start
    /// allow it. For a round under way: when the walk to the next leg is over.
    #[inline]
    pub(super) fn ready(&self, problem: &Problem, order: &Order, index: u32, slot: &Slot) -> i32 {
        let member = &problem.members[usize::from(slot.member)];
        let here = order.station(problem, slot.member, problem.ops[slot.first_op as usize].leg);
        if slot.legs_done > 0 {
            let before = order.station(problem, slot.member, slot.legs_done - 1);
            let own = if before == here {
                let op = &problem.ops[slot.first_op as usize];
                problem.changes.take(problem.places[usize::from(here)].kind, member.way_load, op.load).0
            } else {
                0
            };
            return member.way_end + problem.walk(before, here) + own;
        }
        let base = slot.low.max(order.delays[index as usize]);
        let (end, from) = if !slot.first {
            let last = slot.first_op - 1;
            (self.rows[last as usize].end, self.rows[last as usize].station)
        } else if member.last_end >= 0 {
            let legs = problem.groups[usize::from(slot.group)].legs;
            (member.last_end, order.station(problem, slot.member, legs - 1))
        } else {
            return base;
        };
        base.max(end + slot.rest_min.max(problem.walk(from, here)))
    }

    /// What lies between the leg before and the first second at which the first leg of a slot could start, where that
    /// leg goes on with a round: the walk, and a change of load on one and the same station.
    pub(super) fn way_gap(&self, problem: &Problem, slot: &Slot, ready: i32) -> i32 {
        if slot.legs_done > 0 {
            ready - problem.members[usize::from(slot.member)].way_end
        } else if slot.chained {
            (ready - self.rows[slot.first_op as usize - 1].end).max(0)
        } else {
            0
        }
    }

    /// Appends a round to what its stations and its coach do already.
    fn place(&mut self, problem: &Problem, order: &Order, index: u32) {
        let slot = problem.slots[index as usize];
        let ready = self.ready(problem, order, index, &slot);
        let ops = slot.first_op..slot.first_op + u32::from(slot.ops);
        let way_gap = self.way_gap(problem, &slot, ready);
        let mut least = ready.max(problem.now);
        for tries in 0.. {
            let mut before: Option<u32> = None;
            let mut excess = 0;
            for o in ops.clone() {
                let op = &problem.ops[o as usize];
                let station = order.station(problem, slot.member, op.leg);
                let (open, change) = self.open(problem, &slot, o, op, station);
                let (gap, from) = before.map_or((way_gap, least), |b| {
                    let b = &self.rows[b as usize];
                    let own = if b.station == station { change } else { 0 };
                    let gap = problem.walk(b.station, station) + own;
                    (gap, b.end + gap)
                });
                let start = self.fit(problem, &slot, op, station, change, from.max(problem.now).max(open));
                let row = &mut self.rows[o as usize];
                *row = Row { start, end: start + op.length, change, gap, station, ..Row::NOWHERE };
                if before.is_some() {
                    excess = (start - from - slot.wait_max).max(excess);
                }
                before = Some(o);
            }
            if excess <= 0 {
                break;
            }
            // Who is between two legs starts the next one as soon as can be: nothing moves it on.
            if slot.legs_done > 0 || tries >= MOST_TRIES {
                self.broken += i64::from(excess);
                break;
            }
            least = self.rows[slot.first_op as usize].start + excess;
        }
        for o in ops {
            self.settle(problem, &slot, o);
        }
    }

    /// The earliest start that the station and the coach allow, windows aside, and the seconds of the change.
    #[inline]
    fn open(&self, problem: &Problem, slot: &Slot, o: u32, op: &Op, station: u16) -> (i32, i32) {
        let mut place = self.places[usize::from(station)];
        let mut coach = self.coaches[usize::from(slot.coach)];
        // The legs before in this very round are not settled yet: look at them where they matter.
        for b in slot.first_op..o {
            let (row, earlier) = (&self.rows[b as usize], &problem.ops[b as usize]);
            if row.station == station {
                place.free = row.end;
                place.load = if earlier.load == 0 { place.load } else { earlier.load };
            }
            if op.spot_from >= 0 && earlier.spot_from >= 0 {
                coach.free = row.start + earlier.spot_to;
                coach.at = u32::from(row.station);
            }
        }
        let kind = problem.places[usize::from(station)].kind;
        let change = if op.load == 0 { 0 } else { problem.changes.take(kind, place.load, op.load).0 };
        let mut open = place.free + change;
        if op.spot_from >= 0 {
            open = open.max(coach.free + problem.coach_walk(coach.at, station) - op.spot_from);
        }
        (open, change)
    }

    /// The first start from `start` on that keeps the turn, its change and its spotting out of every window.
    #[inline]
    pub(super) fn fit(
        &self,
        problem: &Problem,
        slot: &Slot,
        op: &Op,
        station: u16,
        change: i32,
        mut start: i32,
    ) -> i32 {
        let place = &problem.places[usize::from(station)].busy;
        let coach = &problem.coaches[usize::from(slot.coach)].busy;
        let coach = if op.spot_from >= 0 { coach.as_slice() } else { &[] };
        if place.is_empty() && coach.is_empty() {
            return start;
        }
        loop {
            let at = start;
            for &(from, to) in place {
                if start - change < to && from < start + op.length {
                    start = to + change;
                }
            }
            for &(from, to) in coach {
                if start + op.spot_from < to && from < start + op.spot_to {
                    start = to - op.spot_from;
                }
            }
            if start == at {
                return start;
            }
        }
    }

    /// How many seconds a turn may move to the right before the next window of its station or its coach.
    #[inline]
    pub(super) fn before_window(problem: &Problem, slot: &Slot, op: &Op, row: &Row) -> i32 {
        let mut room = NEVER;
        for &(from, _) in &problem.places[usize::from(row.station)].busy {
            if from >= row.end {
                room = room.min(from - row.end);
            }
        }
        if op.spot_from >= 0 {
            for &(from, _) in &problem.coaches[usize::from(slot.coach)].busy {
                if from >= row.start + op.spot_to {
                    room = room.min(from - row.start - op.spot_to);
                }
            }
        }
        room
    }

    /// Takes the turn into what its station and coach do.
    #[inline]
    fn settle(&mut self, problem: &Problem, slot: &Slot, o: u32) {
        let op = &problem.ops[o as usize];
        let (station, start, end) = {
            let row = &self.rows[o as usize];
            (usize::from(row.station), row.start, row.end)
        };
        let place = &mut self.places[station];
        if op.load != 0 {
            self.pieces +=
                i64::from(problem.changes.take(problem.places[station].kind, place.load, op.load).1);
            place.load = op.load;
        }
        place.free = end;
        let last_here = std::mem::replace(&mut place.last, o);
        if last_here != NONE {
            self.rows[last_here as usize].next_here = o;
        }
        self.rows[o as usize].last_here = last_here;
        if op.spot_from >= 0 {
            let coach = &mut self.coaches[usize::from(slot.coach)];
            coach.free = start + op.spot_to;
            coach.at = station as u32;
            let last_spot = std::mem::replace(&mut coach.last, o);
            if last_spot != NONE {
                self.rows[last_spot as usize].next_spot = o;
            }
            self.rows[o as usize].last_spot = last_spot;
        }
    }
}
