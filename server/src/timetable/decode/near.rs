//! Works out a neighbour of an order that is kept: only rounds that a change reaches are worked out anew, pass by pass,
//! and all else is as it was.
//!
//! The result is the same as from the whole order. In the first pass a round comes out as before where the round of its
//! member before it, and whoever is before it at its stations and its coach, are the same with the same times; in the
//! second where what comes after it is, and in the third where what comes before it is.

mod after;
mod held;

pub use held::Held;

use super::{BROKEN, Cost, Decoder, Picture};
use crate::timetable::order::Order;
use crate::timetable::problem::{NONE, Problem};

/// A mark stands before every so many rounds of the sequence: who is last at each station and coach there.
const STEP: usize = 8;

/// What is known of a round on the way through one neighbour.
#[derive(Clone, Copy, Debug, Default)]
struct Mark {
    /// Noted as changed, to be taken back where the neighbour is not kept.
    noted: bool,
    /// Its stations or its earliest start differ.
    other: bool,
    /// Came out differently from the first pass.
    moved: bool,
    /// The second pass must look at it, and the third, and its cost.
    back: bool,
    give: bool,
    cost: bool,
}

/// The order kept, and how a neighbour differs from it.
#[derive(Clone, Debug)]
pub(super) struct Near {
    kept: Picture,
    marks: Vec<Mark>,
    /// The rounds that are noted, each once.
    noted: Vec<u32>,
    groups: Vec<bool>,
    /// The round of every turn.
    round: Vec<u32>,
    /// Everything differs from what is kept.
    spoilt: bool,
    /// Who is last at each station and coach at each mark, of the order kept and of the neighbour, and from which mark
    /// on the neighbour has its own.
    trace: Vec<u32>,
    tried: Vec<u32>,
    from: usize,
}

impl Near {
    pub(super) fn new(problem: &Problem) -> Self {
        let width = problem.places.len() + problem.coaches.len();
        let trace = vec![NONE; width * (problem.slots.len() / STEP + 1)];
        let round = (0..problem.slots.len() as u32).flat_map(|s| {
            let ops = problem.slots[s as usize].ops;
            (0..ops).map(move |_| s)
        });
        Self {
            kept: Picture::new(problem),
            marks: vec![Mark::default(); problem.slots.len()],
            noted: Vec::with_capacity(problem.slots.len()),
            groups: vec![false; problem.groups.len()],
            round: round.collect(),
            spoilt: true,
            tried: trace.clone(),
            trace,
            from: 0,
        }
    }

    /// Notes that what was decoded last is nothing near what is kept.
    pub(super) const fn spoil(&mut self) {
        self.spoilt = true;
    }

    /// Notes a round as changed.
    #[inline]
    fn note(&mut self, round: u32) -> &mut Mark {
        let mark = &mut self.marks[round as usize];
        if !mark.noted {
            mark.noted = true;
            self.noted.push(round);
        }
        mark
    }

    /// Notes that somebody else comes after a turn than did.
    #[inline]
    pub(super) fn linked(&mut self, turn: u32) {
        self.note(self.round[turn as usize]).back = true;
    }

    /// Wipes all marks.
    fn wipe(&mut self) {
        self.noted.clear();
        self.marks.fill(Mark::default());
        self.groups.fill(false);
    }
}

impl Decoder {
    /// Decodes an order whole and keeps it.
    pub fn decode_and_keep(&mut self, problem: &Problem, order: &Order) -> Cost {
        self.reset();
        self.is.sums.least = 0;
        for (at, &slot) in order.sequence.iter().enumerate() {
            self.leave_mark(at);
            self.put(problem, order, slot);
        }
        for (index, slot) in problem.slots.iter().enumerate() {
            let least = self.least_of(problem, slot);
            self.is.shares[index].least = least;
            self.is.sums.least += least;
        }
        let cost = self.finish(problem, order);
        self.near.kept.clone_from(&self.is);
        self.near.trace.clone_from(&self.near.tried);
        self.near.wipe();
        self.near.spoilt = false;
        cost
    }

    /// Works out the times of an order and what they cost, or stops early where it can cost no less than `limit`:
    /// nothing that the second and third pass do lets anybody finish or begin earlier.
    ///
    /// `near` is the order that was [`kept`](Self::keep) last: what both have in common is not worked out anew.
    pub fn decode_below(
        &mut self,
        problem: &Problem,
        order: &Order,
        near: &Order,
        limit: f64,
    ) -> Option<Cost> {
        if problem.crossing {
            // A round may go between earlier ones: nothing tells what a change reaches.
            self.forth(problem, order);
            self.is.sums.least = problem.slots.iter().map(|slot| self.least_of(problem, slot)).sum();
        } else {
            self.take_back(problem);
            self.forth_near(problem, order, near);
        }
        if self.least(problem) as f64 + BROKEN * self.is.sums.broken as f64 >= limit {
            return None;
        }
        if problem.crossing {
            return Some(self.finish(problem, order));
        }
        self.back_near(problem, order);
        self.give_near(problem, order);
        Some(self.cost_near(problem, order))
    }

    /// Keeps the order decoded last by [`decode_below`](Self::decode_below): the next is worked out from what it has in
    /// common with this one.
    pub fn keep(&mut self, problem: &Problem) {
        if problem.crossing {
            return;
        }
        for &round in &self.near.noted {
            self.near.kept.take(&self.is, problem, round);
        }
        self.near.kept.sums = self.is.sums;
        self.near.kept.turned.copy_from_slice(&self.is.turned);
        let from = self.near.from * (self.places.len() + self.coaches.len());
        self.near.trace[from..].copy_from_slice(&self.near.tried[from..]);
        self.near.wipe();
    }

    /// Goes back to what is kept.
    fn take_back(&mut self, problem: &Problem) {
        if self.near.spoilt {
            self.is.clone_from(&self.near.kept);
            self.near.spoilt = false;
        } else {
            for &round in &self.near.noted {
                self.is.take(&self.near.kept, problem, round);
            }
            self.is.sums = self.near.kept.sums;
            self.is.turned.copy_from_slice(&self.near.kept.turned);
        }
        self.near.wipe();
    }

    /// Notes who is last everywhere before position `at` of the sequence, where a mark stands.
    #[inline]
    fn leave_mark(&mut self, at: usize) {
        if at.is_multiple_of(STEP) {
            let (places, coaches) = (self.places.len(), self.coaches.len());
            let mark = &mut self.near.tried[at / STEP * (places + coaches)..][..places + coaches];
            mark[..places].copy_from_slice(&self.places);
            mark[places..].copy_from_slice(&self.coaches);
        }
    }

    /// The first pass, from the first position on that differs.
    fn forth_near(&mut self, problem: &Problem, order: &Order, near: &Order) {
        let mark = self.first_difference(problem, order, near) / STEP;
        let places = self.places.len();
        let width = places + self.coaches.len();
        let there = &self.near.trace[mark * width..(mark + 1) * width];
        self.places.copy_from_slice(&there[..places]);
        self.coaches.copy_from_slice(&there[places..]);
        self.near.from = mark;
        for (at, &round) in order.sequence.iter().enumerate().skip(mark * STEP) {
            self.leave_mark(at);
            if self.stays(problem, round) {
                self.pass(problem, round);
            } else {
                self.put_anew(problem, order, round);
            }
        }
        self.end_links();
    }

    /// Marks rounds of their own difference, and finds the first position from which two orders can have other times.
    fn first_difference(&mut self, problem: &Problem, a: &Order, b: &Order) -> usize {
        let same = a.sequence.iter().zip(&b.sequence).take_while(|(x, y)| x == y).count();
        let last = problem.slots.len().saturating_sub(1);
        let mut any = false;
        if a.stations != b.stations {
            for (member, person) in problem.members.iter().enumerate() {
                let row = member * problem.width..(member + 1) * problem.width;
                if a.stations[row.clone()] != b.stations[row] {
                    any = true;
                    self.near.groups[usize::from(person.group)] = true;
                    for s in person.first_slot..person.first_slot + person.slots {
                        self.near.marks[s as usize].other = true;
                    }
                }
            }
        }
        if a.delays != b.delays {
            any = true;
            for (mark, (x, y)) in self.near.marks.iter_mut().zip(a.delays.iter().zip(&b.delays)) {
                mark.other |= x != y;
            }
        }
        let other = |&round: &u32| self.near.marks[round as usize].other;
        let first = if any { a.sequence[..same].iter().position(other) } else { None };
        first.unwrap_or(same).min(last)
    }

    /// Whether a round comes out of the first pass as it is kept.
    #[inline]
    fn stays(&self, problem: &Problem, round: u32) -> bool {
        let marks = &self.near.marks;
        let slot = &problem.slots[round as usize];
        if marks[round as usize].other || (!slot.first && marks[round as usize - 1].moved) {
            return false;
        }
        let ops = slot.first_op..slot.first_op + u32::from(slot.ops);
        let same = |kept: u32, now: u32| {
            ops.contains(&kept)
                || (kept == now && (now == NONE || !marks[self.near.round[now as usize] as usize].moved))
        };
        ops.clone().all(|o| {
            let row = &self.is.rows[o as usize];
            same(row.last_here, self.places[usize::from(row.station)])
                && (problem.ops[o as usize].spot_from < 0
                    || same(row.last_spot, self.coaches[usize::from(slot.coach)]))
        })
    }

    /// Passes a round that stays as it is.
    #[inline]
    fn pass(&mut self, problem: &Problem, round: u32) {
        let slot = &problem.slots[round as usize];
        for o in slot.first_op..slot.first_op + u32::from(slot.ops) {
            self.places[usize::from(self.is.rows[o as usize].station)] = o;
            if problem.ops[o as usize].spot_from >= 0 {
                self.coaches[usize::from(slot.coach)] = o;
            }
        }
    }

    /// Works out a round anew.
    fn put_anew(&mut self, problem: &Problem, order: &Order, round: u32) {
        let slot = &problem.slots[round as usize];
        let ops = slot.first_op as usize..slot.first_op as usize + usize::from(slot.ops);
        let before = self.is.shares[round as usize];
        for o in ops.clone() {
            self.is.sums.pieces -= i64::from(self.is.rows[o].pieces);
        }
        let broken = self.place(problem, order, round);
        for o in ops.clone() {
            self.is.sums.pieces += i64::from(self.is.rows[o].pieces);
            self.settle(problem, slot, o as u32);
        }
        let (is, kept) = (&self.is, &self.near.kept);
        let differs = |o: usize| {
            let (a, b) = (&is.rows[o], &kept.rows[o]);
            is.early[o] != kept.early[o]
                || (a.change, a.gap, a.pieces, a.station, a.load_after)
                    != (b.change, b.gap, b.pieces, b.station, b.load_after)
                || (a.last_here, a.last_spot) != (b.last_here, b.last_spot)
        };
        let moved = ops.clone().any(differs);
        let other = self.near.marks[round as usize].other;
        if !moved && !other && broken == before.broken {
            return;
        }
        let mark = self.near.note(round);
        mark.give = true;
        if !moved && broken == before.broken {
            return;
        }
        (mark.moved, mark.back, mark.cost) = (true, true, true);
        let least = if slot.first || slot.last { self.least_of(problem, slot) } else { 0 };
        self.is.sums.least += least - before.least;
        self.is.sums.broken += broken - before.broken;
        let share = &mut self.is.shares[round as usize];
        (share.least, share.broken) = (least, broken);
    }

    /// Nothing comes after who is last now.
    fn end_links(&mut self) {
        for &o in &self.places {
            if o != NONE && self.is.rows[o as usize].next_here != NONE {
                self.is.rows[o as usize].next_here = NONE;
                self.near.linked(o);
            }
        }
        for &o in &self.coaches {
            if o != NONE && self.is.rows[o as usize].next_spot != NONE {
                self.is.rows[o as usize].next_spot = NONE;
                self.near.linked(o);
            }
        }
    }
}
