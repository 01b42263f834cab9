//! What two orders begin with has the same times in the first pass: it is kept, with the state of the floor at marks
//! along the sequence, and not worked out again for a neighbour of the order.

use super::{CoachNow, Cost, Decoder, PlaceNow, Row};
use crate::timetable::order::Order;
use crate::timetable::problem::{NONE, Problem};

/// A mark stands before every so many rounds of the sequence.
const STEP: usize = 6;

/// What the first pass knew on its way through one order.
#[derive(Clone, Debug, Default)]
struct Trace {
    rows: Vec<Row>,
    places: Vec<PlaceNow>,
    coaches: Vec<CoachNow>,
    /// Pieces moved and seconds broken at each mark.
    sums: Vec<(i64, i64)>,
}

impl Trace {
    fn new(problem: &Problem) -> Self {
        let marks = problem.slots.len() / STEP + 1;
        Self {
            rows: vec![Row::NOWHERE; problem.ops.len()],
            places: vec![PlaceNow { free: 0, load: 0, last: NONE }; problem.places.len() * marks],
            coaches: vec![CoachNow { free: 0, at: NONE, last: NONE }; problem.coaches.len() * marks],
            sums: vec![(0, 0); marks],
        }
    }
}

/// The trace of the order kept and of the one being worked out.
#[derive(Clone, Debug)]
pub(super) struct Prefix {
    kept: Trace,
    tried: Trace,
    /// The mark from which the one being worked out has a trace of its own.
    from: usize,
}

impl Prefix {
    pub(super) fn new(problem: &Problem) -> Self {
        Self { kept: Trace::new(problem), tried: Trace::new(problem), from: 0 }
    }
}

impl Decoder {
    /// Decodes an order whole and keeps it.
    pub fn decode_and_keep(&mut self, problem: &Problem, order: &Order) -> Cost {
        self.reset(problem);
        self.go(problem, order, 0);
        self.remember();
        self.keep();
        self.back(problem, order);
        self.give(problem, order);
        self.cost(problem, order)
    }

    /// The first pass for `order`, from the last mark at which it is still like `near`.
    pub(super) fn forth_from(&mut self, problem: &Problem, order: &Order, near: &Order) {
        if problem.crossing {
            // A round may go between earlier ones: there is no part that stays as it was.
            self.reset(problem);
            self.go(problem, order, 0);
            return;
        }
        let mark = first_difference(problem, order, near) / STEP;
        self.rows.copy_from_slice(&self.prefix.kept.rows);
        let (places, coaches) = (self.places.len(), self.coaches.len());
        let kept = &self.prefix.kept;
        self.places.copy_from_slice(&kept.places[mark * places..(mark + 1) * places]);
        self.coaches.copy_from_slice(&kept.coaches[mark * coaches..(mark + 1) * coaches]);
        (self.pieces, self.broken) = kept.sums[mark];
        // What came after the mark is no longer what comes next.
        for place in &self.places {
            if place.last != NONE {
                self.rows[place.last as usize].next_here = NONE;
            }
        }
        for coach in &self.coaches {
            if coach.last != NONE {
                self.rows[coach.last as usize].next_spot = NONE;
            }
        }
        self.go(problem, order, mark);
    }

    /// Goes through the sequence from a mark on, leaving marks.
    fn go(&mut self, problem: &Problem, order: &Order, mark: usize) {
        self.prefix.from = mark;
        let (places, coaches) = (self.places.len(), self.coaches.len());
        for (at, &slot) in order.sequence.iter().enumerate().skip(mark * STEP) {
            if at % STEP == 0 {
                let mark = at / STEP;
                let tried = &mut self.prefix.tried;
                tried.places[mark * places..(mark + 1) * places].copy_from_slice(&self.places);
                tried.coaches[mark * coaches..(mark + 1) * coaches].copy_from_slice(&self.coaches);
                tried.sums[mark] = (self.pieces, self.broken);
            }
            self.put(problem, order, slot);
        }
    }

    /// Notes the times of the first pass before the others change them.
    pub(super) fn remember(&mut self) {
        self.prefix.tried.rows.copy_from_slice(&self.rows);
    }

    /// Keeps the order decoded last: the next is worked out from what it has in common with this one.
    pub fn keep(&mut self) {
        let (places, coaches, from) = (self.places.len(), self.coaches.len(), self.prefix.from);
        let Prefix { kept, tried, .. } = &mut self.prefix;
        std::mem::swap(&mut kept.rows, &mut tried.rows);
        kept.places[from * places..].copy_from_slice(&tried.places[from * places..]);
        kept.coaches[from * coaches..].copy_from_slice(&tried.coaches[from * coaches..]);
        kept.sums[from..].copy_from_slice(&tried.sums[from..]);
    }
}

/// The first position of the sequence from which two orders can have different times.
fn first_difference(problem: &Problem, a: &Order, b: &Order) -> usize {
    let same = a.sequence.iter().zip(&b.sequence).take_while(|(x, y)| x == y).count();
    if a.stations == b.stations && a.delays == b.delays {
        return same.min(problem.slots.len().saturating_sub(1));
    }
    let differs = |&slot: &u32| {
        let row = usize::from(problem.slots[slot as usize].member) * problem.width;
        a.delays[slot as usize] != b.delays[slot as usize]
            || a.stations[row..row + problem.width] != b.stations[row..row + problem.width]
    };
    a.sequence[..same].iter().position(differs).unwrap_or(same).min(problem.slots.len().saturating_sub(1))
}
