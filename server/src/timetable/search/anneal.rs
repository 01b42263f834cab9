//! Simulated annealing of one order by one thread.

use fastrand::Rng;

use super::moves::Look;
use crate::timetable::decode::{Cost, Decoder};
use crate::timetable::order::Order;
use crate::timetable::problem::Problem;

/// How hot the search begins and ends, as parts of the objective it starts from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heat {
    /// At the beginning.
    pub from: f64,
    /// At the end.
    pub to: f64,
}

/// A search under way: what it has now and the best it met.
#[derive(Debug)]
pub struct Anneal<'p> {
    problem: &'p Problem,
    decoder: Decoder,
    look: Look,
    rng: Rng,
    now: Order,
    cost: Cost,
    next: Order,
    best: Order,
    best_cost: Cost,
    /// What the heat is a part of.
    scale: f64,
    evaluations: u64,
}

impl<'p> Anneal<'p> {
    /// Begins from an order.
    #[must_use]
    pub fn new(problem: &'p Problem, start: Order, seed: u64) -> Self {
        let mut decoder = Decoder::new(problem);
        let cost = decoder.decode(problem, &start);
        let mut anneal = Self {
            problem,
            look: Look::new(problem),
            rng: Rng::with_seed(seed),
            next: start.clone(),
            best: start.clone(),
            now: start,
            cost,
            best_cost: cost,
            scale: cost.objective as f64,
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
    #[must_use]
    pub const fn best(&self) -> (&Order, Cost) {
        (&self.best, self.best_cost)
    }

    /// How many orders were looked at.
    #[must_use]
    pub const fn evaluations(&self) -> u64 {
        self.evaluations
    }

    /// Goes on from another order.
    pub fn restart(&mut self, order: &Order) {
        self.now.clone_from(order);
        self.cost = self.decoder.decode(self.problem, &self.now);
        self.look_at_now();
    }

    /// Looks at `count` more orders at a heat between `heat.from` and `heat.to`, `done` of the way along.
    pub fn run(&mut self, count: u32, heat: Heat, done: f64) {
        let part = heat.from * (heat.to / heat.from).powf(done.clamp(0.0, 1.0));
        let warmth = (part * self.scale).max(1e-9);
        for _ in 0..count {
            self.next.clone_from(&self.now);
            if !self.look.change(self.problem, &mut self.next, &mut self.rng) {
                continue;
            }
            let cost = self.decoder.decode(self.problem, &self.next);
            self.evaluations += 1;
            let worse = (cost.total() - self.cost.total()) as f64;
            if worse <= 0.0 || self.rng.f64() < (-worse / warmth).exp() {
                std::mem::swap(&mut self.now, &mut self.next);
                self.cost = cost;
                self.look_at_now();
                if cost.total() < self.best_cost.total() {
                    self.best.clone_from(&self.now);
                    self.best_cost = cost;
                }
            }
        }
    }
}
