//! From an order to times and what they cost: exact, without search, and without allocating.
//!
//! Three passes. The first goes through the sequence and starts every round as early as its stations, its coach, the
//! rest before it and its own earliest start allow. The second goes back from the end and moves rounds to the right
//! where that turns a rest that is too long, or standing at a station, into a later start. The third goes forward and
//! gives starts back where the rest before has become dearer than the rest after. No pass changes who comes first.

mod back;
mod between;
mod cost;
mod forth;
mod give;
mod near;
mod rules;

pub use near::Held;

use super::order::Order;
use super::problem::{NONE, Problem};

/// From when to when a turn goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Span {
    start: i32,
    end: i32,
}

/// What the first pass settles of a turn besides its time; the other passes leave it as it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Row {
    /// Seconds of the change right before it.
    change: i32,
    /// Seconds from the end of the leg before, in the same round, to the first second at which its member is ready:
    /// the walk, and on one and the same station the change of load.
    gap: i32,
    /// Pieces of load moved right before it.
    pieces: i32,
    /// Where it is.
    station: u16,
    /// What is on the station after it.
    load_after: u16,
    /// The next turn at this station and the next spotted one of this coach, or [`NONE`].
    next_here: u32,
    next_spot: u32,
    /// The one before at this station and of this coach, or [`NONE`].
    last_here: u32,
    last_spot: u32,
}

impl Row {
    /// A turn that has no place yet.
    const NOWHERE: Self = Self {
        change: 0,
        gap: 0,
        pieces: 0,
        station: 0,
        load_after: 0,
        next_here: NONE,
        next_spot: NONE,
        last_here: NONE,
        last_spot: NONE,
    };
}

/// What one round adds to the cost of an order.
#[derive(Clone, Copy, Debug, Default)]
struct Share {
    /// The least that it can cost, after the first pass.
    least: i64,
    /// What it costs.
    cost: i64,
    /// Seconds by which its legs cannot keep a limit.
    broken: i64,
}

/// Sums over all rounds.
#[derive(Clone, Copy, Debug, Default)]
struct Sums {
    least: i64,
    cost: i64,
    broken: i64,
    /// Pieces of load moved.
    pieces: i64,
}

/// Everything that is known of an order once it is decoded.
#[derive(Clone, Debug)]
struct Picture {
    rows: Vec<Row>,
    /// When each turn goes after the first pass, after the second and after the third.
    early: Vec<Span>,
    late: Vec<Span>,
    last: Vec<Span>,
    shares: Vec<Share>,
    sums: Sums,
    /// Seconds by which the rotation of each group is broken.
    turned: Vec<i64>,
}

impl Picture {
    fn new(problem: &Problem) -> Self {
        let spans = vec![Span::default(); problem.ops.len()];
        Self {
            rows: vec![Row::NOWHERE; problem.ops.len()],
            early: spans.clone(),
            late: spans.clone(),
            last: spans,
            shares: vec![Share::default(); problem.slots.len()],
            sums: Sums::default(),
            turned: vec![0; problem.groups.len()],
        }
    }

    /// Takes over what another knows of one round.
    fn take(&mut self, other: &Self, problem: &Problem, index: u32) {
        let slot = &problem.slots[index as usize];
        for o in slot.first_op as usize..slot.first_op as usize + usize::from(slot.ops) {
            self.rows[o] = other.rows[o];
            self.early[o] = other.early[o];
            self.late[o] = other.late[o];
            self.last[o] = other.last[o];
        }
        self.shares[index as usize] = other.shares[index as usize];
    }
}

/// Room for working out times, kept from one order to the next so that nothing is allocated.
#[derive(Clone, Debug)]
pub struct Decoder {
    is: Picture,
    /// The last turn so far at each station, and the last spotted one of each coach, or [`NONE`].
    places: Vec<u32>,
    coaches: Vec<u32>,
    spans: rules::Spans,
    near: near::Near,
}

/// What an order costs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cost {
    /// The objective.
    pub objective: i64,
    /// Seconds by which groups overlap at stations that take one at a time.
    pub overlap: i64,
    /// Seconds by which other rules are broken: the rotation, waits between legs.
    pub broken: i64,
}

/// What a second of a broken rule costs: more than any sensible plan pays for keeping it.
const BROKEN: f64 = 2_000.0;

impl Cost {
    /// What the search compares, where a second of overlap costs `fine` and one of any other broken rule what it
    /// always does.
    #[inline]
    #[must_use]
    pub fn priced(self, fine: f64) -> f64 {
        self.objective as f64 + fine * self.overlap as f64 + BROKEN * self.broken as f64
    }

    /// By what orders are better or worse in the end: broken rules first. A plan with some is kept only where nothing
    /// else was met.
    #[inline]
    #[must_use]
    pub const fn rank(self) -> (i64, i64) {
        (self.overlap + self.broken, self.objective)
    }
}

impl Decoder {
    /// Room for orders of this problem.
    #[must_use]
    pub fn new(problem: &Problem) -> Self {
        Self {
            is: Picture::new(problem),
            places: vec![NONE; problem.places.len()],
            coaches: vec![NONE; problem.coaches.len()],
            spans: rules::Spans::new(problem),
            near: near::Near::new(problem),
        }
    }

    /// Works out the times of an order of this problem and what they cost.
    pub fn decode(&mut self, problem: &Problem, order: &Order) -> Cost {
        self.near.spoil();
        self.forth(problem, order);
        self.finish(problem, order)
    }

    /// The second and third pass for a whole order, and what it costs.
    fn finish(&mut self, problem: &Problem, order: &Order) -> Cost {
        self.is.late.clone_from(&self.is.early);
        for &slot in order.sequence.iter().rev() {
            self.back(problem, slot);
        }
        self.is.last.clone_from(&self.is.late);
        // Where rounds go between others, the sequence is not the order of time, in which the third pass must go.
        if !problem.crossing {
            for &slot in &order.sequence {
                self.give(problem, order, slot);
            }
        }
        self.cost(problem, order)
    }

    /// Forgets every round, for [`append`](Self::append).
    pub fn begin(&mut self) {
        self.reset();
    }

    /// Takes one more round after those appended since [`begin`](Self::begin), as early as can be.
    pub fn append(&mut self, problem: &Problem, order: &Order, slot: u32) {
        self.put(problem, order, slot);
        // No later pass moves it.
        let of = &problem.slots[slot as usize];
        let ops = of.first_op as usize..of.first_op as usize + usize::from(of.ops);
        self.is.last[ops.clone()].copy_from_slice(&self.is.early[ops]);
    }

    /// When the member of a round could start it, their rounds before being appended: stations and coach aside.
    #[must_use]
    pub fn ready_at(&self, problem: &Problem, order: &Order, slot: u32) -> i32 {
        let known = &problem.slots[slot as usize];
        self.ready(problem, order, slot, known, &self.is.early).max(problem.now)
    }

    /// When a turn starts, after [`decode`](Self::decode).
    #[must_use]
    pub fn start(&self, op: u32) -> i32 {
        self.is.last[op as usize].start
    }

    /// When a turn ends.
    #[must_use]
    pub fn end(&self, op: u32) -> i32 {
        self.is.last[op as usize].end
    }

    /// When a round starts: its first turn that is left.
    #[inline]
    #[must_use]
    pub fn slot_start(&self, problem: &Problem, slot: u32) -> i32 {
        self.is.last[problem.slots[slot as usize].first_op as usize].start
    }

    /// When a round ends.
    #[inline]
    #[must_use]
    pub fn slot_end(&self, problem: &Problem, slot: u32) -> i32 {
        let slot = &problem.slots[slot as usize];
        self.is.last[(slot.first_op + u32::from(slot.ops) - 1) as usize].end
    }
}
