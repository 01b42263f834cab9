//! Weaves a group in among those that share its stations: whoever of them is ready first goes first, from the time at
//! which each group begins. All others keep the times they had.
//!
//! Moving a group as a block, with the spacing it had elsewhere, meets the turns of the others at every round; woven
//! in, it takes the places between them.

use crate::timetable::decode::Decoder;
use crate::timetable::order::Order;
use crate::timetable::problem::Problem;

/// Room for weaving.
#[derive(Clone, Debug)]
pub(super) struct Weave {
    decoder: Decoder,
    /// Rounds of each group in the order of the sequence, one group after the other.
    rounds: Vec<u32>,
    /// Which round of each group is next, and where its rounds end.
    heads: Vec<(u32, u32)>,
    /// When that round is ready; the latest of all where none is left.
    keys: Vec<i32>,
    /// Whether a group is woven, and by how much it begins later than it did.
    woven: Vec<Option<i32>>,
}

impl Weave {
    pub(super) fn new(problem: &Problem) -> Self {
        Self {
            decoder: Decoder::new(problem),
            rounds: vec![0; problem.slots.len()],
            heads: vec![(0, 0); problem.groups.len()],
            keys: vec![i32::MAX; problem.groups.len()],
            woven: vec![None; problem.groups.len()],
        }
    }

    /// Puts the rounds of the groups named, and of all who share a station with them, in the order in which they
    /// become ready; the ones named begin so many seconds later than they did.
    pub(super) fn weave(
        &mut self,
        problem: &Problem,
        order: &mut Order,
        starts: &[i32],
        moved: &[(usize, i32)],
    ) {
        self.choose(problem, order, moved);
        self.list(problem, order);
        for s in 0..problem.slots.len() {
            if self.woven[usize::from(problem.slots[s].group)].is_some() {
                order.delays[s] = 0;
            }
        }
        order.sequence.clear();
        self.decoder.begin(problem);
        for g in 0..problem.groups.len() {
            self.keys[g] = self.ready(problem, order, starts, g);
        }
        for _ in 0..problem.slots.len() {
            let g = (0..self.keys.len()).min_by_key(|&g| self.keys[g]).unwrap_or(0);
            let slot = self.rounds[self.heads[g].0 as usize];
            self.heads[g].0 += 1;
            let member = &problem.members[usize::from(problem.slots[slot as usize].member)];
            let begins = problem.slots[slot as usize].first && !member.begun;
            if let Some(by) = self.woven[g].filter(|&by| by > 0 && begins) {
                order.delays[slot as usize] = starts[slot as usize] + by;
            }
            self.decoder.append(problem, order, slot);
            order.sequence.push(slot);
            self.keys[g] = self.ready(problem, order, starts, g);
        }
    }

    /// Who is woven: the groups named and those who share a station with one of them now.
    fn choose(&mut self, problem: &Problem, order: &Order, moved: &[(usize, i32)]) {
        let row = |g: usize| {
            let members = problem.members_of(g);
            &order.stations[members.start * problem.width..members.end * problem.width]
        };
        for g in 0..problem.groups.len() {
            let by = moved.iter().find(|m| m.0 == g).map(|m| m.1);
            let meets = || moved.iter().any(|m| row(m.0).iter().any(|s| row(g).contains(s)));
            self.woven[g] = by.or_else(|| meets().then_some(0));
        }
    }

    /// Lists the rounds of every group in the order of the sequence.
    fn list(&mut self, problem: &Problem, order: &Order) {
        let mut from = 0;
        for g in 0..problem.groups.len() {
            self.heads[g] = (from, from);
            from += problem.slots_of(g).len() as u32;
        }
        for &slot in &order.sequence {
            let head = &mut self.heads[usize::from(problem.slots[slot as usize].group)];
            self.rounds[head.1 as usize] = slot;
            head.1 += 1;
        }
    }

    /// When the next round of a group is ready: as it was for those who are not woven.
    fn ready(&self, problem: &Problem, order: &Order, starts: &[i32], g: usize) -> i32 {
        let (next, end) = self.heads[g];
        if next == end {
            return i32::MAX;
        }
        let slot = self.rounds[next as usize];
        let start = starts[slot as usize];
        let Some(by) = self.woven[g] else { return start };
        let ready = self.decoder.ready_at(problem, order, slot);
        if problem.slots[slot as usize].first { ready.max(start + by) } else { ready }
    }
}
