//! Moves that begin at what is dear: from the round that sets a price back through whatever holds each start, to two
//! rounds that meet. As long as all such pairs stay as they are, so does the price.
//!
//! Where the price is the end of the whole, this is the critical path of a job shop, and turning a pair of it around the
//! move of van Laarhoven, Aarts & Lenstra, *Job shop scheduling by simulated annealing*, 1992. A dear rest has such a
//! path as well.

use fastrand::Rng;

use super::moves::{Look, bound, spotted};
use crate::timetable::decode::{Decoder, Held};
use crate::timetable::order::Order;
use crate::timetable::problem::{Problem, Slot};

/// How far a price is followed back, in rounds: what is further away has hardly ever to do with it.
const FAR: usize = 400;

/// How many rounds are drawn to find a dear one among them.
const DRAWS: usize = 4;

/// Room for following a price back.
#[derive(Clone, Debug)]
pub(super) struct Path {
    /// Pairs of rounds that meet without a gap, from the end of the path to its beginning.
    pairs: Vec<(u32, u32)>,
    /// Rounds that go along with one that is moved.
    along: Vec<u32>,
}

impl Path {
    pub(super) fn new(problem: &Problem) -> Self {
        Self { pairs: Vec::with_capacity(FAR), along: Vec::with_capacity(problem.slots.len()) }
    }

    /// Follows back what holds a round, by the dice where several do.
    fn follow(&mut self, problem: &Problem, decoder: &Decoder, order: &Order, rng: &mut Rng, from: u32) {
        self.pairs.clear();
        let mut round = from;
        for _ in 0..FAR {
            let (mut held, mut many) = (None, 0);
            decoder.held(problem, order, round, |by| {
                many += 1;
                if many == 1 || rng.u32(0..many) == 0 {
                    held = Some(by);
                }
            });
            match held {
                None => return,
                Some(Held::ByOwn(before)) => round = before,
                Some(Held::ByOther(before)) => {
                    self.pairs.push((before, round));
                    round = before;
                }
            }
        }
    }
}

impl Look {
    /// Turns a pair of rounds around that a price comes from; whether anything was changed.
    pub(super) fn turn_around(
        &mut self,
        problem: &Problem,
        decoder: &Decoder,
        order: &mut Order,
        rng: &mut Rng,
    ) -> bool {
        let Some(from) = dear(problem, decoder, rng) else { return false };
        self.path.follow(problem, decoder, order, rng, from);
        let pairs = &self.path.pairs;
        if pairs.is_empty() {
            return false;
        }
        let (before, after) = pairs[rng.usize(0..pairs.len())];
        let loose = rng.u32(0..4) == 0;
        if bound(problem, order, before, after, loose) {
            return false;
        }
        if rng.bool() {
            self.put_after(problem, order, before, after, loose)
        } else {
            self.put_before(problem, order, before, after, loose)
        }
    }

    /// Moves `round` behind `past`, and along with it all between that must stay behind it.
    fn put_after(
        &mut self,
        problem: &Problem,
        order: &mut Order,
        round: u32,
        past: u32,
        loose: bool,
    ) -> bool {
        self.path.along.clear();
        self.path.along.push(round);
        let Some(from) = order.sequence.iter().position(|&s| s == round) else { return false };
        let (mut free, mut at) = (from, from);
        loop {
            at += 1;
            let Some(&next) = order.sequence.get(at) else { return false };
            if self.goes_along(problem, order, next, loose) {
                if next == past {
                    return false;
                }
                self.path.along.push(next);
            } else {
                order.sequence[free] = next;
                free += 1;
                if next == past {
                    break;
                }
            }
        }
        order.sequence[free..=at].copy_from_slice(&self.path.along);
        true
    }

    /// Moves `round` before `past`, and along with it all between that must stay before it.
    fn put_before(
        &mut self,
        problem: &Problem,
        order: &mut Order,
        past: u32,
        round: u32,
        loose: bool,
    ) -> bool {
        self.path.along.clear();
        self.path.along.push(round);
        let Some(from) = order.sequence.iter().rposition(|&s| s == round) else { return false };
        let (mut free, mut at) = (from, from);
        loop {
            if at == 0 {
                return false;
            }
            at -= 1;
            let next = order.sequence[at];
            if self.goes_along(problem, order, next, loose) {
                if next == past {
                    return false;
                }
                self.path.along.push(next);
            } else {
                order.sequence[free] = next;
                free -= 1;
                if next == past {
                    break;
                }
            }
        }
        self.path.along.reverse();
        order.sequence[at..=free].copy_from_slice(&self.path.along);
        true
    }

    /// Whether a round may not pass those that are moved: the first of them it may meet, the others not.
    fn goes_along(&self, problem: &Problem, order: &Order, round: u32, loose: bool) -> bool {
        let along = &self.path.along;
        bound(problem, order, along[0], round, loose)
            || along[1..]
                .iter()
                .any(|&o| bound(problem, order, o, round, loose) || meet(problem, order, o, round))
    }
}

/// Whether two rounds meet at a station that a turn of each uses, or at a coach.
fn meet(problem: &Problem, order: &Order, a: u32, b: u32) -> bool {
    let (x, y) = (&problem.slots[a as usize], &problem.slots[b as usize]);
    let uses = |s: &Slot| {
        let member = s.member;
        let ops = &problem.ops[s.first_op as usize..][..usize::from(s.ops)];
        ops.iter().map(move |op| order.station(problem, member, op.leg))
    };
    uses(x).any(|station| uses(y).any(|other| station == other))
        || (x.coach == y.coach && spotted(problem, x) && spotted(problem, y))
}

/// A round that sets a price: the last of whoever finishes last, or one with a dear rest before it.
fn dear(problem: &Problem, decoder: &Decoder, rng: &mut Rng) -> Option<u32> {
    let dearest = (0..DRAWS)
        .map(|_| rng.u32(0..problem.slots.len() as u32))
        .max_by_key(|&round| decoder.kept_excess(round))?;
    if decoder.kept_excess(dearest) > 0 {
        return Some(dearest);
    }
    if problem.prices.flow > 0 && rng.bool() {
        let person = &problem.members[usize::from(problem.slots[dearest as usize].member)];
        return Some(person.first_slot + person.slots - 1);
    }
    let lasts = problem.members.iter().filter(|m| m.slots > 0).map(|m| m.first_slot + m.slots - 1);
    lasts.max_by_key(|&round| decoder.kept_end(problem, round))
}
