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
mod prefix;
mod rules;

use super::order::Order;
use super::problem::{NONE, Problem};

/// What is known of one turn while times are worked out.
#[derive(Clone, Copy, Debug)]
struct Row {
    start: i32,
    end: i32,
    /// Seconds of the change right before it.
    change: i32,
    /// Seconds from the end of the leg before, in the same round, to the first second at which its member is ready:
    /// the walk, and on one and the same station the change of load.
    gap: i32,
    /// Where it is.
    station: u16,
    /// What is on the station after it, where rounds go between others.
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
        start: 0,
        end: 0,
        change: 0,
        gap: 0,
        station: 0,
        load_after: 0,
        next_here: NONE,
        next_spot: NONE,
        last_here: NONE,
        last_spot: NONE,
    };
}

#[derive(Clone, Copy, Debug)]
struct PlaceNow {
    free: i32,
    load: u16,
    last: u32,
}

#[derive(Clone, Copy, Debug)]
struct CoachNow {
    free: i32,
    at: u32,
    last: u32,
}

/// Room for working out times, kept from one order to the next so that nothing is allocated.
#[derive(Clone, Debug)]
pub struct Decoder {
    rows: Vec<Row>,
    places: Vec<PlaceNow>,
    coaches: Vec<CoachNow>,
    /// Pieces of load moved.
    pieces: i64,
    /// Seconds by which rules are broken, as far as the decoder saw it.
    broken: i64,
    spans: rules::Spans,
    prefix: prefix::Prefix,
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
            rows: vec![Row::NOWHERE; problem.ops.len()],
            places: vec![PlaceNow { free: 0, load: 0, last: NONE }; problem.places.len()],
            coaches: vec![CoachNow { free: 0, at: NONE, last: NONE }; problem.coaches.len()],
            pieces: 0,
            broken: 0,
            spans: rules::Spans::new(problem),
            prefix: prefix::Prefix::new(problem),
        }
    }

    /// Works out the times of an order of this problem and what they cost.
    pub fn decode(&mut self, problem: &Problem, order: &Order) -> Cost {
        self.forth(problem, order);
        self.back(problem, order);
        self.give(problem, order);
        self.cost(problem, order)
    }

    /// Works out the times of an order and what they cost, or stops early where it can cost no less than `limit`:
    /// nothing that the second and third pass do lets anybody finish or begin earlier.
    ///
    /// `near` is the order that was [`kept`](Self::keep) last: what both begin
    /// with is not worked out anew.
    pub fn decode_below(
        &mut self,
        problem: &Problem,
        order: &Order,
        near: &Order,
        limit: f64,
    ) -> Option<Cost> {
        self.forth_from(problem, order, near);
        if self.least(problem) as f64 + BROKEN * self.broken as f64 >= limit {
            return None;
        }
        self.remember();
        self.back(problem, order);
        self.give(problem, order);
        Some(self.cost(problem, order))
    }

    /// Forgets every round, for [`append`](Self::append).
    pub fn begin(&mut self, problem: &Problem) {
        self.reset(problem);
    }

    /// Takes one more round after those appended since [`begin`](Self::begin), as early as can be.
    pub fn append(&mut self, problem: &Problem, order: &Order, slot: u32) {
        self.put(problem, order, slot);
    }

    /// When the member of a round could start it, their rounds before being appended: stations and coach aside.
    #[must_use]
    pub fn ready_at(&self, problem: &Problem, order: &Order, slot: u32) -> i32 {
        self.ready(problem, order, slot, &problem.slots[slot as usize]).max(problem.now)
    }

    /// When a turn starts, after [`decode`](Self::decode).
    #[must_use]
    pub fn start(&self, op: u32) -> i32 {
        self.rows[op as usize].start
    }

    /// When a turn ends.
    #[must_use]
    pub fn end(&self, op: u32) -> i32 {
        self.rows[op as usize].end
    }

    /// When a round starts: its first turn that is left.
    #[inline]
    #[must_use]
    pub fn slot_start(&self, problem: &Problem, slot: u32) -> i32 {
        self.rows[problem.slots[slot as usize].first_op as usize].start
    }

    /// When a round ends.
    #[inline]
    #[must_use]
    pub fn slot_end(&self, problem: &Problem, slot: u32) -> i32 {
        let slot = &problem.slots[slot as usize];
        self.rows[(slot.first_op + u32::from(slot.ops) - 1) as usize].end
    }
}
