//! A first order, as an experienced eye would run the floor: whoever is ready first goes first, and a pair of stations
//! takes only so many clients at a time.

use super::decode::Decoder;
use super::order::Order;
use super::problem::{NEVER, Problem};

/// First come, first served, with at most `cap` clients at a station; a group larger than that goes alone, and so does
/// every group where nobody may work in.
#[must_use]
pub fn by_eye(problem: &Problem, decoder: &mut Decoder, cap: usize) -> Order {
    let mut eye = Eye::new(problem, cap);
    decoder.begin();
    while let Some((slot, ready)) = eye.next(problem, decoder) {
        eye.take(problem, decoder, slot, ready);
    }
    eye.order
}

struct Eye {
    cap: usize,
    order: Order,
    /// How many rounds each member has begun, counted so that one who joins late is no further behind than the others.
    begun: Vec<u32>,
    /// Rounds taken of each member.
    taken: Vec<u32>,
    /// Whether a group has its stations.
    seated: Vec<bool>,
    /// Before when a group that found no station looks again.
    again: Vec<i32>,
    /// Place of each member in the cycle of its group.
    place: Vec<u32>,
}

impl Eye {
    fn new(problem: &Problem, cap: usize) -> Self {
        let members = problem.members.len();
        let mut place = vec![0; members];
        for (g, team) in problem.groups.iter().enumerate() {
            for (k, m) in problem.members_of(g).enumerate() {
                let listed = team.order.iter().position(|&o| usize::from(o) == k);
                place[m] = listed.unwrap_or(team.order.len() + k) as u32;
            }
        }
        let seated = (0..problem.groups.len())
            .map(|g| problem.members_of(g).all(|m| problem.members[m].fixed))
            .collect();
        Self {
            cap,
            order: Order {
                stations: problem.settled.clone(),
                sequence: Vec::with_capacity(problem.slots.len()),
                delays: vec![0; problem.slots.len()],
            },
            begun: problem.members.iter().map(|m| u32::from(m.begun)).collect(),
            taken: vec![0; members],
            seated,
            again: vec![0; problem.groups.len()],
            place,
        }
    }

    fn left(&self, problem: &Problem, member: usize) -> bool {
        self.taken[member] < problem.members[member].slots
    }

    /// The next round of all: the one that is ready first.
    fn next(&mut self, problem: &Problem, decoder: &Decoder) -> Option<(u32, i32)> {
        loop {
            let mut best: Option<(i32, u32)> = None;
            for g in 0..problem.groups.len() {
                if let Some((ready, slot)) = self.next_of(problem, decoder, g)
                    && best.is_none_or(|b| (ready, slot) < b)
                {
                    best = Some((ready, slot));
                }
            }
            let (ready, slot) = best?;
            let g = usize::from(problem.slots[slot as usize].group);
            if self.seated[g] || self.seat(problem, g, ready) {
                return Some((slot, ready));
            }
        }
    }

    /// The round of a group whose turn it is in the rotation, and when it is ready.
    fn next_of(&self, problem: &Problem, decoder: &Decoder, g: usize) -> Option<(i32, u32)> {
        let ready = |m: usize| {
            let slot = problem.members[m].first_slot + self.taken[m];
            let at = decoder.ready_at(problem, &self.order, slot);
            (at.max(self.again[g]), slot)
        };
        let mut best: Option<(i32, u32)> = None;
        for m in problem.members_of(g).filter(|&m| self.left(problem, m)) {
            let own = ready(m);
            let first = self.order.station(problem, m as u16, 0);
            // Somebody of the same station goes before: fewer rounds begun, or earlier in the cycle, and there already.
            let under_way = problem.slots[own.1 as usize].legs_done > 0;
            let waits = !under_way
                && problem.members_of(g).any(|o| {
                    o != m
                        && self.left(problem, o)
                        && self.order.station(problem, o as u16, 0) == first
                        && (self.begun[o], self.place[o]) < (self.begun[m], self.place[m])
                        && problem.slots[(problem.members[o].first_slot + self.taken[o]) as usize].low
                            <= own.0
                });
            if !waits && best.is_none_or(|b| own < b) {
                best = Some(own);
            }
        }
        best
    }

    /// Gives a group the stations with the fewest clients, those that nobody shares last, if any takes it; else it looks
    /// again when one is done.
    fn seat(&mut self, problem: &Problem, g: usize, ready: i32) -> bool {
        let team = &problem.groups[g];
        let mut chosen = Vec::with_capacity(usize::from(team.legs));
        for leg in 0..usize::from(team.legs) {
            let load = |s: u16| self.clients_at(problem, s, leg);
            let key = |s: u16| (load(s) > 0 && !problem.places[usize::from(s)].work_in, load(s), s);
            let Some(&best) = team.eligible[leg].iter().min_by_key(|&&s| key(s)) else { return false };
            chosen.push(key(best));
        }
        let taken = chosen.iter().any(|c| c.0);
        let busiest = chosen.iter().map(|c| c.1).max().unwrap_or(0);
        let others_busy = (0..problem.groups.len())
            .any(|o| self.seated[o] && problem.members_of(o).any(|m| self.left(problem, m)));
        let fits = !taken && (busiest == 0 || busiest + usize::from(team.members) <= self.cap);
        if !fits && others_busy {
            // Looks again after whoever moves next; the smallest step that lets somebody else go first.
            self.again[g] = ready.max(self.again[g]) + 5;
            return self.again[g] > NEVER / 2;
        }
        for m in problem.members_of(g) {
            for (leg, &(_, _, s)) in chosen.iter().enumerate() {
                self.order.stations[m * problem.width + leg] = s;
            }
        }
        self.seated[g] = true;
        true
    }

    fn clients_at(&self, problem: &Problem, station: u16, leg: usize) -> usize {
        (0..problem.members.len())
            .filter(|&m| {
                self.seated[usize::from(problem.members[m].group)]
                    && self.left(problem, m)
                    && self.order.station(problem, m as u16, leg as u8) == station
            })
            .count()
    }

    fn take(&mut self, problem: &Problem, decoder: &mut Decoder, slot: u32, ready: i32) {
        let slot_is_start = problem.slots[slot as usize].legs_done == 0;
        let m = usize::from(problem.slots[slot as usize].member);
        if problem.slots[slot as usize].first && self.again[usize::from(problem.members[m].group)] > 0 {
            self.order.delays[slot as usize] = ready;
        }
        decoder.append(problem, &self.order, slot);
        self.order.sequence.push(slot);
        self.taken[m] += 1;
        let g = usize::from(problem.members[m].group);
        let first = self.order.station(problem, m as u16, 0);
        let behind = problem
            .members_of(g)
            .filter(|&o| o != m && self.begun[o] > 0 && self.order.station(problem, o as u16, 0) == first)
            .map(|o| self.begun[o])
            .min();
        if problem.slots[slot as usize].first && !problem.members[m].begun {
            // Who joins late counts as many rounds as whoever has begun the fewest, and goes last in the cycle.
            self.place[m] = (problem.members.len() + self.order.sequence.len()) as u32;
            self.begun[m] = behind.unwrap_or(1).max(1);
        } else if slot_is_start {
            self.begun[m] += 1;
        }
    }
}
