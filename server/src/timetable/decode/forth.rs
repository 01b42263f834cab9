//! The first pass: every round as early as can be, in the order of the sequence.

use super::{Decoder, Row, Span, Sums};
use crate::timetable::order::Order;
use crate::timetable::problem::{NEVER, NONE, Op, Problem, Slot};

/// How often one round is moved on until all its legs fit: a bound, met only where windows and limits can never be
/// reconciled. What is left broken then is counted and found by the checker.
const MOST_TRIES: u32 = 400;

impl Decoder {
    pub(super) fn forth(&mut self, problem: &Problem, order: &Order) {
        self.reset();
        for &slot in &order.sequence {
            self.put(problem, order, slot);
        }
    }

    /// Takes one more round: after the others, or between them where groups cross.
    pub(super) fn put(&mut self, problem: &Problem, order: &Order, slot: u32) {
        if problem.crossing {
            self.place_between(problem, order, slot);
            return;
        }
        let known = &problem.slots[slot as usize];
        let ops = known.first_op as usize..known.first_op as usize + usize::from(known.ops);
        for row in &mut self.is.rows[ops.clone()] {
            (row.next_here, row.next_spot) = (NONE, NONE);
        }
        let broken = self.place(problem, order, slot);
        self.is.shares[slot as usize].broken = broken;
        self.is.sums.broken += broken;
        for o in ops {
            self.is.sums.pieces += i64::from(self.is.rows[o].pieces);
            self.settle(problem, known, o as u32);
        }
    }

    pub(super) fn reset(&mut self) {
        self.places.fill(NONE);
        self.coaches.fill(NONE);
        self.is.sums = Sums::default();
    }

    /// The first second at which the rest before a round is over and its member, the floor and its own earliest start
    /// allow it. For a round under way: when the walk to the next leg is over.
    #[inline]
    pub(super) fn ready(
        &self,
        problem: &Problem,
        order: &Order,
        index: u32,
        slot: &Slot,
        times: &[Span],
    ) -> i32 {
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
            (times[last as usize].end, self.is.rows[last as usize].station)
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
            (ready - self.is.early[slot.first_op as usize - 1].end).max(0)
        } else {
            0
        }
    }

    /// Works out a round after what its stations and its coach do already; how many seconds of a limit it breaks.
    pub(super) fn place(&mut self, problem: &Problem, order: &Order, index: u32) -> i64 {
        let slot = problem.slots[index as usize];
        let ready = self.ready(problem, order, index, &slot, &self.is.early);
        let first = slot.first_op as usize;
        let way_gap = self.way_gap(problem, &slot, ready);
        let mut least = ready.max(problem.now);
        for tries in 0.. {
            let mut excess = 0;
            for o in first..first + usize::from(slot.ops) {
                let op = &problem.ops[o];
                let station = order.station(problem, slot.member, op.leg);
                let (open, (change, pieces), there) = self.open(problem, &slot, o, op, station);
                let (gap, from) = if o == first {
                    (way_gap, least)
                } else {
                    let before = self.is.rows[o - 1].station;
                    let own = if before == station { change } else { 0 };
                    let gap = problem.walk(before, station) + own;
                    (gap, self.is.early[o - 1].end + gap)
                };
                let start = self.fit(problem, &slot, op, station, change, from.max(problem.now).max(open));
                let load_after = if op.load == 0 { there } else { op.load };
                let row = &mut self.is.rows[o];
                *row = Row { change, gap, pieces, station, load_after, ..*row };
                self.is.early[o] = Span { start, end: start + op.length };
                if o > first {
                    excess = (start - from - slot.wait_max).max(excess);
                }
            }
            if excess <= 0 {
                break;
            }
            // Who is between two legs starts the next one as soon as can be: nothing moves it on.
            if slot.legs_done > 0 || tries >= MOST_TRIES {
                return i64::from(excess);
            }
            least = self.is.early[first].start + excess;
        }
        0
    }

    /// The earliest start that the station and the coach allow, windows aside, seconds and pieces of the change, and
    /// what is on the station before it.
    #[inline]
    fn open(
        &self,
        problem: &Problem,
        slot: &Slot,
        o: usize,
        op: &Op,
        station: u16,
    ) -> (i32, (i32, i32), u16) {
        let place = &problem.places[usize::from(station)];
        let here = self.places[usize::from(station)];
        let (mut free, mut there) = if here == NONE {
            (place.free_at, place.load)
        } else {
            (self.is.early[here as usize].end, self.is.rows[here as usize].load_after)
        };
        // The legs before in this very round are not settled yet: look at them where they matter.
        for b in slot.first_op as usize..o {
            if self.is.rows[b].station == station {
                (free, there) = (self.is.early[b].end, self.is.rows[b].load_after);
            }
        }
        let change = if op.load == 0 { (0, 0) } else { problem.changes.take(place.kind, there, op.load) };
        let open = free + change.0;
        if op.spot_from < 0 {
            return (open, change, there);
        }
        let spot = self.coaches[usize::from(slot.coach)];
        let (mut free, mut at) = if spot == NONE {
            let coach = &problem.coaches[usize::from(slot.coach)];
            (coach.free_at, coach.at)
        } else {
            let free = self.is.early[spot as usize].start + problem.ops[spot as usize].spot_to;
            (free, u32::from(self.is.rows[spot as usize].station))
        };
        for b in slot.first_op as usize..o {
            if problem.ops[b].spot_from >= 0 {
                free = self.is.early[b].start + problem.ops[b].spot_to;
                at = u32::from(self.is.rows[b].station);
            }
        }
        (open.max(free + problem.coach_walk(at, station) - op.spot_from), change, there)
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
    pub(super) fn before_window(problem: &Problem, slot: &Slot, op: &Op, row: &Row, at: Span) -> i32 {
        let mut room = NEVER;
        for &(from, _) in &problem.places[usize::from(row.station)].busy {
            if from >= at.end {
                room = room.min(from - at.end);
            }
        }
        if op.spot_from >= 0 {
            for &(from, _) in &problem.coaches[usize::from(slot.coach)].busy {
                if from >= at.start + op.spot_to {
                    room = room.min(from - at.start - op.spot_to);
                }
            }
        }
        room
    }

    /// Takes the turn into what its station and coach do.
    #[inline]
    pub(super) fn settle(&mut self, problem: &Problem, slot: &Slot, o: u32) {
        let station = usize::from(self.is.rows[o as usize].station);
        let last_here = std::mem::replace(&mut self.places[station], o);
        if last_here != NONE && self.is.rows[last_here as usize].next_here != o {
            self.is.rows[last_here as usize].next_here = o;
            self.near.linked(last_here);
        }
        self.is.rows[o as usize].last_here = last_here;
        if problem.ops[o as usize].spot_from >= 0 {
            let coach = usize::from(slot.coach);
            let last_spot = std::mem::replace(&mut self.coaches[coach], o);
            if last_spot != NONE && self.is.rows[last_spot as usize].next_spot != o {
                self.is.rows[last_spot as usize].next_spot = o;
                self.near.linked(last_spot);
            }
            self.is.rows[o as usize].last_spot = last_spot;
        }
    }
}
