//! The order that is kept through the evening, and the times that it has now.

use std::num::NonZeroUsize;

use super::begun::Happened;
use super::snapshot::{Told, take};
use crate::timetable::answer::Timetable;
use crate::timetable::check::check;
use crate::timetable::decode::{Cost, Decoder};
use crate::timetable::instance::Instance;
use crate::timetable::order::Order;
use crate::timetable::plan::timetable_of;
use crate::timetable::problem::Problem;
use crate::timetable::search::{Effort, improve, in_turn};

/// What a search must gain for its order to replace the one that is kept, in thousandths of the objective. Less than
/// that is not worth that people hear something new.
const CLEAR_GAIN: i64 = 5;

/// The rule of the rotation.
const ROTATION: u8 = 6;

/// An order of a whole evening with its times. What is left at some instant is the end of each member's list of rounds
/// and of turns, so positions count from there.
pub(super) struct Kept {
    pub(super) whole: Problem,
    pub(super) order: Order,
    /// The start of every turn of the evening, as far as it has not begun.
    starts: Vec<u32>,
    /// What they cost, seen from when they were worked out.
    cost: Cost,
    /// How many searches there were.
    searches: u64,
}

/// What is left, with the kept order of it.
pub(super) struct Left {
    problem: Problem,
    order: Order,
    decoder: Decoder,
    cost: Cost,
}

impl Kept {
    pub(super) fn new(instance: &Instance, order: Order) -> Self {
        let whole = Problem::new(instance);
        let mut decoder = Decoder::new(&whole);
        let cost = decoder.decode(&whole, &order);
        let starts = (0..whole.ops.len() as u32).map(|op| second(decoder.start(op))).collect();
        Self { whole, order, starts, cost, searches: 0 }
    }

    /// When a member's next turn starts, after so many that have begun.
    pub(super) fn next(&self, who: usize, begun: usize) -> Option<u32> {
        let (first, end) = turns(&self.whole, who);
        self.starts[first..end].get(begun).copied()
    }

    /// The whole evening: turns that have begun when they did, the others when they start by the times in hand.
    pub(super) fn timetable(&self, instance: &Instance) -> Timetable {
        timetable_of(instance, &self.whole, &self.order, |op| self.starts[op as usize].cast_signed())
    }

    /// By how many seconds the rotation of the whole evening is broken. A snapshot knows the rounds that members have
    /// begun by their number only, so an order of what is left can break it in a way that its search does not see.
    fn turned(&self, instance: &Instance) -> u64 {
        let Ok(verdict) = check(instance, &self.timetable(instance)) else { return u64::MAX };
        let rotation = verdict.breaches.iter().filter(|breach| breach.rule == ROTATION);
        rotation.map(|breach| u64::from(breach.seconds)).sum()
    }

    /// The kept order of what is left, and its times.
    pub(super) fn left(&self, happened: &Happened<'_>, told: &[Option<Told>]) -> Left {
        let problem = Problem::new(&take(happened, told, &self.whole, &self.order));
        let mut order = Order {
            stations: self.order.stations.clone(),
            sequence: Vec::with_capacity(problem.slots.len()),
            delays: vec![0; problem.slots.len()],
        };
        for &slot in &self.order.sequence {
            let m = usize::from(self.whole.slots[slot as usize].member);
            let (from, to) = (&self.whole.members[m], &problem.members[m]);
            let gone = from.slots - to.slots;
            if let Some(place) = (slot - from.first_slot).checked_sub(gone) {
                order.sequence.push(to.first_slot + place);
                order.delays[(to.first_slot + place) as usize] = self.order.delays[slot as usize];
            }
        }
        let mut decoder = Decoder::new(&problem);
        let cost = decoder.decode(&problem, &order);
        Left { problem, order, decoder, cost }
    }

    /// Whether what is left has become clearly dearer than the times in hand say: something does not fit any more.
    pub(super) fn is_upset(&self, left: &Left) -> bool {
        broken(left.cost) > broken(self.cost) || clearly_less(self.cost, left.cost)
    }

    /// Looks for a better order of what is left, by so many evaluations, and keeps it where it is clearly better.
    pub(super) fn search(&mut self, instance: &Instance, mut left: Left, evaluations: u64, seed: u64) {
        self.searches += 1;
        let done = move |looked_at: u64| looked_at as f64 / evaluations as f64;
        let effort = Effort {
            seed: seed.wrapping_add(self.searches),
            threads: NonZeroUsize::MIN,
            done: &done,
            beside: &in_turn,
        };
        let found = improve(&left.problem, std::slice::from_ref(&left.order), &effort);
        let fewer = broken(found.cost) < broken(left.cost);
        if !fewer && (broken(found.cost) > broken(left.cost) || !clearly_less(found.cost, left.cost)) {
            return;
        }
        self.retime(&left);
        let before = (self.turned(instance), self.order.clone());
        self.keep(&left.problem, &found.order);
        left.cost = left.decoder.decode(&left.problem, &found.order);
        self.retime(&left);
        if self.turned(instance) > before.0 {
            self.order = before.1;
        }
    }

    /// Takes an order of what is left into the one of the whole evening: what is done stays in front.
    fn keep(&mut self, problem: &Problem, order: &Order) {
        self.order.stations.clone_from(&order.stations);
        let whole = |slot: u32| {
            let m = usize::from(problem.slots[slot as usize].member);
            let (from, to) = (&problem.members[m], &self.whole.members[m]);
            to.first_slot + to.slots - from.slots + slot - from.first_slot
        };
        let coming: Vec<u32> = order.sequence.iter().map(|&slot| whole(slot)).collect();
        for (&slot, &delay) in coming.iter().zip(order.sequence.iter().map(|&s| &order.delays[s as usize])) {
            self.order.delays[slot as usize] = delay;
        }
        self.order.sequence.retain(|slot| !coming.contains(slot));
        self.order.sequence.extend(coming);
    }

    /// Takes over the times of what is left.
    pub(super) fn retime(&mut self, left: &Left) {
        self.cost = left.cost;
        for who in 0..self.whole.members.len() {
            let ((first, end), (from, to)) = (turns(&left.problem, who), turns(&self.whole, who));
            let gone = (to - from) - (end - first);
            for k in first..end {
                self.starts[from + gone + k - first] = second(left.decoder.start(k as u32));
            }
        }
    }
}

/// Seconds of broken rules.
const fn broken(cost: Cost) -> i64 {
    cost.overlap + cost.broken
}

/// Whether one costs less than another by more than [`CLEAR_GAIN`].
const fn clearly_less(one: Cost, other: Cost) -> bool {
    let gain = other.objective - one.objective;
    gain.saturating_mul(1000) > other.objective.saturating_mul(CLEAR_GAIN)
}

/// The turns of a member.
fn turns(problem: &Problem, who: usize) -> (usize, usize) {
    let person = &problem.members[who];
    let slots = &problem.slots[person.first_slot as usize..(person.first_slot + person.slots) as usize];
    match (slots.first(), slots.last()) {
        (Some(first), Some(last)) => {
            (first.first_op as usize, last.first_op as usize + usize::from(last.ops))
        }
        _ => (0, 0),
    }
}

/// A start of a decoded order, which is never below zero.
fn second(start: i32) -> u32 {
    u32::try_from(start).unwrap_or(0)
}
