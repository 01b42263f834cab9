//! Simulated annealing of one order by one thread.

use fastrand::Rng;

use super::moves::Look;
use crate::timetable::decode::{Cost, Decoder};
use crate::timetable::order::Order;
use crate::timetable::problem::Problem;

/// The heat at which a search of two thousand evaluations a round begins, and at which every one ends, in average costs
/// of a round: a change moves a few rounds, however many there are.
const HOT: f64 = 1.2;
const COLD: f64 = 0.03;

/// The heat at which whole groups begin and end to find their places, in average costs of a group.
const HOT_GROUPS: f64 = 1.0;
const COLD_GROUPS: f64 = 0.01;

/// What a second of overlap costs at the beginning of a search and at its end. A high price from the start would wall
/// off every plan behind one in which two groups overlap for a while at a station that takes one at a time.
const FINE: (f64, f64) = (30.0, 2_000.0);

/// A search under way: what it has now and the best it met.
#[derive(Debug)]
pub(super) struct Anneal<'p> {
    problem: &'p Problem,
    decoder: Decoder,
    look: Look,
    rng: Rng,
    now: Order,
    cost: Cost,
    next: Order,
    best: Order,
    best_cost: Cost,
    /// What the heat is a multiple of: what a round costs on average.
    scale: f64,
    evaluations: u64,
}

impl<'p> Anneal<'p> {
    /// Begins from an order.
    pub(super) fn new(problem: &'p Problem, start: Order, seed: u64) -> Self {
        let mut decoder = Decoder::new(problem);
        let cost = decoder.decode_and_keep(problem, &start);
        let mut anneal = Self {
            problem,
            look: Look::new(problem),
            rng: Rng::with_seed(seed),
            next: start.clone(),
            best: start.clone(),
            now: start,
            cost,
            best_cost: cost,
            scale: share_of_legs(problem) * cost.objective as f64 / problem.slots.len().max(1) as f64,
            decoder,
            evaluations: 1,
        };
        anneal.look_at_now();
        anneal
    }

    fn look_at_now(&mut self) {
        for (slot, start) in self.look.starts.iter_mut().enumerate() {
            *start = self.decoder.slot_start(self.problem, slot as u32);
        }
    }

    /// The best order so far and what it costs.
    pub(super) const fn best(&self) -> (&Order, Cost) {
        (&self.best, self.best_cost)
    }

    /// How many orders were looked at.
    pub(super) const fn evaluations(&self) -> u64 {
        self.evaluations
    }

    /// Goes on from another order.
    pub(super) fn restart(&mut self, order: &Order) {
        self.now.clone_from(order);
        self.cost = self.decoder.decode_and_keep(self.problem, &self.now);
        self.look_at_now();
    }

    /// Goes on from its own best, where that is better than the order in hand.
    pub(super) fn go_back(&mut self) {
        if self.best_cost.rank() < self.cost.rank() {
            self.now.clone_from(&self.best);
            self.cost = self.decoder.decode_and_keep(self.problem, &self.now);
            self.look_at_now();
        }
    }

    /// What the order in hand costs.
    pub(super) const fn now(&self) -> Cost {
        self.cost
    }

    /// Goes on until `until` of the way is done.
    pub(super) fn run_until(&mut self, done: &(dyn Fn(u64) -> f64 + Sync), until: f64) {
        loop {
            let done = done(self.evaluations);
            if done >= until {
                return;
            }
            self.run(super::BATCH, done);
        }
    }

    /// The heat `done` of the way along, in units of the objective. The longer the search is, seen from the evaluations
    /// that the way so far took, the hotter it begins: found by trying, on the published instances.
    fn heat(&self, done: f64) -> f64 {
        let expected = self.evaluations as f64 / done.max(0.01) / self.problem.slots.len().max(1) as f64;
        let from = (HOT * (expected / 2_000.0).powf(0.4)).clamp(COLD, 4.0 * HOT);
        from * (COLD / from).powf(done.clamp(0.0, 1.0)) * self.scale
    }

    fn accept(&mut self, cost: Cost) {
        self.decoder.keep(self.problem);
        std::mem::swap(&mut self.now, &mut self.next);
        self.cost = cost;
        self.look_at_now();
        if cost.rank() < self.best_cost.rank() {
            self.best.clone_from(&self.now);
            self.best_cost = cost;
        }
    }

    /// The problem.
    pub(super) const fn problem(&self) -> &'p Problem {
        self.problem
    }

    /// Looks at `count` more orders, `done` of the way along.
    fn run(&mut self, count: u32, done: f64) {
        let warmth = self.heat(done).max(1e-9);
        for _ in 0..count {
            self.look_at_one(fine(done), warmth, Look::change);
        }
    }

    /// Looks at `count` more orders in which whole groups, some of those listed, go elsewhere, `done` of the way
    /// along that part of the search; `scale` is what a group costs on average.
    pub(super) fn run_groups(&mut self, free: &[usize], count: u32, scale: f64, done: f64) {
        let warmth = scale * HOT_GROUPS * (COLD_GROUPS / HOT_GROUPS).powf(done.clamp(0.0, 1.0));
        for _ in 0..count {
            self.look_at_one(fine(done), warmth, |look, problem, _, order, rng| {
                look.change_group(problem, order, rng, free)
            });
        }
    }

    /// Looks at the order in hand with a change, and takes it by the dice where it is no dearer than the heat allows.
    fn look_at_one(
        &mut self,
        fine: f64,
        warmth: f64,
        change: impl FnOnce(&mut Look, &Problem, &Decoder, &mut Order, &mut Rng) -> bool,
    ) {
        self.next.clone_from(&self.now);
        // A change that changes nothing counts too, so that the search always ends.
        self.evaluations += 1;
        if !change(&mut self.look, self.problem, &self.decoder, &mut self.next, &mut self.rng) {
            return;
        }
        // The chance of being taken is drawn first, so that what is too dear need not be worked out to the end.
        let limit = self.cost.priced(fine) - warmth * self.rng.f64().max(f64::MIN_POSITIVE).ln();
        let cost = self.decoder.decode_below(self.problem, &self.next, &self.now, limit);
        if let Some(cost) = cost.filter(|cost| cost.priced(fine) < limit) {
            self.accept(cost);
        }
    }
}

/// How many average costs of a round count as one: where legs go each by themselves, few of them are on the path that
/// sets the price, and one that moves it costs more than its share of the whole. Found by trying.
const fn share_of_legs(problem: &Problem) -> f64 {
    if problem.free_start { 2.0 } else { 1.0 }
}

/// What a second of overlap costs `done` of the way along.
fn fine(done: f64) -> f64 {
    FINE.0 * (FINE.1 / FINE.0).powf(done.clamp(0.0, 1.0))
}
