//! Weaves a group in among those that share its stations: whoever of them is ready first goes first, from the time at
//! which each group begins. All others go in the order of their starts.
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
    /// The groups that are woven.
    woven: Vec<Woven>,
    /// What becomes of each group.
    part: Vec<Part>,
    /// Stations that a woven group uses.
    used: Vec<bool>,
    /// Rounds of the woven groups in the order of the sequence, one group after the other.
    rounds: Vec<u32>,
    /// Rounds of all others, by their starts.
    others: Vec<u32>,
}

/// What becomes of a group.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Part {
    /// Goes when it did, and meets no woven group.
    Away,
    /// Goes when it did, and uses a station of a woven group.
    Beside,
    /// Is woven, this one of them.
    Woven(usize),
}

#[derive(Clone, Copy, Debug)]
struct Woven {
    group: usize,
    /// By how much it begins later than it did.
    by: i32,
    /// Which of the rounds is next, and where they end.
    next: usize,
    end: usize,
    /// When that round is ready; the latest of all where none is left.
    key: i32,
}

impl Weave {
    pub(super) fn new(problem: &Problem) -> Self {
        Self {
            decoder: Decoder::new(problem),
            woven: Vec::with_capacity(problem.groups.len()),
            part: vec![Part::Away; problem.groups.len()],
            used: vec![false; problem.places.len()],
            rounds: vec![0; problem.slots.len()],
            others: Vec::with_capacity(problem.slots.len()),
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
        self.list(problem, order, starts);
        order.sequence.clear();
        self.decoder.begin();
        for w in 0..self.woven.len() {
            self.woven[w].key = self.ready(problem, order, starts, w);
        }
        let mut others = 0;
        for _ in 0..problem.slots.len() {
            let w = (0..self.woven.len()).min_by_key(|&w| self.woven[w].key).unwrap_or(0);
            let key = self.woven.get(w).map_or(i32::MAX, |w| w.key);
            if let Some(&slot) = self.others.get(others)
                && (key == i32::MAX || starts[slot as usize] < key)
            {
                others += 1;
                if self.part[usize::from(problem.slots[slot as usize].group)] == Part::Beside {
                    self.decoder.append(problem, order, slot);
                }
                order.sequence.push(slot);
                continue;
            }
            let Woven { by, next, .. } = self.woven[w];
            let slot = self.rounds[next];
            self.woven[w].next += 1;
            let member = &problem.members[usize::from(problem.slots[slot as usize].member)];
            if by > 0 && problem.slots[slot as usize].first && !member.begun {
                order.delays[slot as usize] = starts[slot as usize] + by;
            }
            self.decoder.append(problem, order, slot);
            order.sequence.push(slot);
            self.woven[w].key = self.ready(problem, order, starts, w);
        }
    }

    /// Who is woven: the groups named and those who share a station with one of them now. Their delays are cleared.
    fn choose(&mut self, problem: &Problem, order: &mut Order, moved: &[(usize, i32)]) {
        let row = |g: usize| {
            let members = problem.members_of(g);
            members.start * problem.width..members.end * problem.width
        };
        self.used.fill(false);
        self.woven.clear();
        for &(g, _) in moved {
            for &s in &order.stations[row(g)] {
                self.used[usize::from(s)] = true;
            }
        }
        let mut rounds = 0;
        for g in 0..problem.groups.len() {
            let by = moved.iter().find(|m| m.0 == g).map(|m| m.1);
            let meets = || order.stations[row(g)].iter().any(|&s| self.used[usize::from(s)]);
            self.part[g] = Part::Away;
            if let Some(by) = by.or_else(|| meets().then_some(0)) {
                self.part[g] = Part::Woven(self.woven.len());
                self.woven.push(Woven { group: g, by, next: rounds, end: rounds, key: i32::MAX });
                rounds += problem.slots_of(g).len();
                for s in problem.slots_of(g) {
                    order.delays[s as usize] = 0;
                }
            }
        }
        for w in &self.woven {
            for &s in &order.stations[row(w.group)] {
                self.used[usize::from(s)] = true;
            }
        }
        for g in 0..problem.groups.len() {
            if self.part[g] == Part::Away && order.stations[row(g)].iter().any(|&s| self.used[usize::from(s)])
            {
                self.part[g] = Part::Beside;
            }
        }
    }

    /// Lists the rounds of every woven group in the order of the sequence, and those of all others by their starts.
    fn list(&mut self, problem: &Problem, order: &Order, starts: &[i32]) {
        self.others.clear();
        for &slot in &order.sequence {
            match self.part[usize::from(problem.slots[slot as usize].group)] {
                Part::Woven(w) => {
                    let woven = &mut self.woven[w];
                    self.rounds[woven.end] = slot;
                    woven.end += 1;
                }
                Part::Away | Part::Beside => self.others.push(slot),
            }
        }
        // A member's rounds start one after the other, and so do those of a rotation: nobody passes their own.
        self.others.sort_unstable_by_key(|&slot| (starts[slot as usize], slot));
    }

    /// When the next round of a woven group is ready.
    fn ready(&self, problem: &Problem, order: &Order, starts: &[i32], w: usize) -> i32 {
        let Woven { by, next, end, .. } = self.woven[w];
        if next == end {
            return i32::MAX;
        }
        let slot = self.rounds[next];
        let ready = self.decoder.ready_at(problem, order, slot);
        if problem.slots[slot as usize].first { ready.max(starts[slot as usize] + by) } else { ready }
    }
}
