//! Small changes of an order that keep it well formed: every round once, a member's rounds in their order, and the
//! rotation of groups in which nothing odd happens.

use fastrand::Rng;

use super::critical::Path;
use super::weave::Weave;
use crate::timetable::decode::Decoder;
use crate::timetable::order::Order;
use crate::timetable::problem::{Problem, Slot};

/// What the moves look at besides the order: when each round starts in it, and stations as sets.
#[derive(Clone, Debug)]
pub(super) struct Look {
    /// Starts, by round.
    pub(super) starts: Vec<i32>,
    /// Positions in the sequence, by round.
    position: Vec<u32>,
    keys: Vec<(i32, u32)>,
    spare: Vec<u32>,
    movable: Vec<u16>,
    weave: Weave,
    /// Room for following a price back.
    pub(super) path: Path,
}

/// How far a round is moved past rounds that share a station or coach with it, at most.
const REACH: usize = 6;

/// Where a next leg may wait on purpose, so many of a hundred changes turn around a pair of legs that a price comes from,
/// and the others move one leg: legs go each by themselves there, and a whole group moved gains nothing. On a gym floor
/// turning pairs around gained nothing that was more than chance. Found by trying, on the published instances.
const TURNED: u32 = 90;

impl Look {
    pub(super) fn new(problem: &Problem) -> Self {
        let free = |g: &usize| {
            let team = &problem.groups[*g];
            team.eligible.iter().any(|of| of.len() > 1)
                && problem.members_of(*g).any(|m| !problem.members[m].fixed && problem.members[m].slots > 0)
        };
        Self {
            starts: vec![0; problem.slots.len()],
            position: vec![0; problem.slots.len()],
            keys: Vec::with_capacity(problem.slots.len()),
            spare: Vec::with_capacity(problem.slots.len()),
            weave: Weave::new(problem),
            path: Path::new(problem),
            movable: (0..problem.groups.len()).filter(free).map(|g| g as u16).collect(),
        }
    }

    /// Takes one of the groups listed, whole, to another time and perhaps to other stations, and weaves it in; or lets two
    /// groups trade. Whether anything was changed.
    pub(super) fn change_group(
        &mut self,
        problem: &Problem,
        order: &mut Order,
        rng: &mut Rng,
        free: &[usize],
    ) -> bool {
        if rng.u32(0..6) == 0 {
            return self.trade(problem, order, rng);
        }
        let g = free[rng.usize(0..free.len())];
        if rng.u32(0..3) > 0 {
            choose(problem, order, rng, g);
        }
        let by = match rng.u32(0..6) {
            0 => {
                let first = problem.slots_of(g).start as usize;
                problem.members[problem.members_of(g).start].release - self.starts[first]
            }
            1 => 0,
            2 | 3 => rng.i32(-300..=300),
            4 => rng.i32(-900..=900),
            _ => rng.i32(-1_800..=1_800),
        };
        self.weave.weave(problem, order, &self.starts, &[(g, by)]);
        true
    }

    fn find(&mut self, order: &Order) {
        for (at, &slot) in order.sequence.iter().enumerate() {
            self.position[slot as usize] = at as u32;
        }
    }

    /// Changes `order` a little; whether anything was changed.
    pub(super) fn change(
        &mut self,
        problem: &Problem,
        decoder: &Decoder,
        order: &mut Order,
        rng: &mut Rng,
    ) -> bool {
        if problem.free_start {
            return if rng.u32(0..100) < TURNED {
                self.turn_around(problem, decoder, order, rng)
            } else {
                self.shift(problem, order, rng)
            };
        }
        match rng.u32(0..100) {
            0..40 => self.shift(problem, order, rng),
            40..56 => self.resettle(problem, order, rng),
            56..62 => self.swap_members(problem, order, rng),
            62..80 => self.put_elsewhen(problem, order, rng),
            80..90 => self.trade(problem, order, rng),
            _ => self.delay(problem, order, rng),
        }
    }

    /// Moves one round past a few of those that share a station or coach with it.
    fn shift(&mut self, problem: &Problem, order: &mut Order, rng: &mut Rng) -> bool {
        let n = order.sequence.len();
        if n < 2 {
            return false;
        }
        let at = rng.usize(0..n);
        let slot = order.sequence[at];
        let mut past = 1;
        while past < REACH && rng.u32(0..3) == 0 {
            past += 1;
        }
        let later = rng.bool();
        // In a group whose rotation is looked at in times anyway, members may sometimes pass each other.
        let loose = rng.u32(0..4) == 0;
        let mut to = at;
        let mut seen = 0;
        loop {
            if (later && to + 1 == n) || (!later && to == 0) {
                break;
            }
            let next = if later { to + 1 } else { to - 1 };
            let other = order.sequence[next];
            if bound(problem, order, slot, other, loose) {
                break;
            }
            to = next;
            if share(problem, order, slot, other) {
                seen += 1;
                if seen == past {
                    break;
                }
            }
        }
        if seen == 0 {
            return false;
        }
        if later {
            order.sequence[at..=to].rotate_left(1);
        } else {
            order.sequence[to..=at].rotate_right(1);
        }
        true
    }

    /// Gives a group, or one of its members, other stations, perhaps at another time.
    fn resettle(&mut self, problem: &Problem, order: &mut Order, rng: &mut Rng) -> bool {
        if self.movable.is_empty() {
            return self.shift(problem, order, rng);
        }
        let g = usize::from(self.movable[rng.usize(0..self.movable.len())]);
        if !choose(problem, order, rng, g) {
            return false;
        }
        let by = if rng.u32(0..3) == 0 { rng.i32(-300..=300) } else { 0 };
        if rng.bool() {
            self.weave.weave(problem, order, &self.starts, &[(g, by)]);
        } else if by != 0 {
            self.move_group(problem, order, g, by);
        }
        true
    }

    /// Two members of a group change places in everything they still have to do.
    fn swap_members(&mut self, problem: &Problem, order: &mut Order, rng: &mut Rng) -> bool {
        let g = rng.usize(0..problem.groups.len());
        let members = problem.members_of(g);
        if members.len() < 2 || !problem.groups[g].order.is_empty() {
            return self.shift(problem, order, rng);
        }
        let a = rng.usize(members.clone());
        let b = rng.usize(members);
        let (x, y) = (&problem.members[a], &problem.members[b]);
        if a == b || x.begun || y.begun {
            return false;
        }
        self.find(order);
        for k in 0..x.slots.min(y.slots) {
            let (p, q) = (x.first_slot + k, y.first_slot + k);
            order.sequence.swap(self.position[p as usize] as usize, self.position[q as usize] as usize);
        }
        // Who has more rounds does the others after: positions of one member must still ascend.
        for person in [x, y] {
            for s in person.first_slot + 1..person.first_slot + person.slots {
                self.find(order);
                let (before, at) =
                    (self.position[s as usize - 1] as usize, self.position[s as usize] as usize);
                if before > at {
                    order.sequence.swap(before, at);
                }
            }
        }
        true
    }

    /// Takes a group out and puts it back earlier or later as a whole.
    fn put_elsewhen(&mut self, problem: &Problem, order: &mut Order, rng: &mut Rng) -> bool {
        let g = rng.usize(0..problem.groups.len());
        if problem.slots_of(g).is_empty() {
            return false;
        }
        let wide = if rng.u32(0..4) == 0 { 1_500 } else { 250 };
        let by = rng.i32(-wide..=wide);
        let begun = problem.members_of(g).any(|m| problem.members[m].begun);
        if !begun && rng.u32(0..3) == 0 {
            choose(problem, order, rng, g);
        }
        if rng.bool() {
            self.weave.weave(problem, order, &self.starts, &[(g, by)]);
        } else {
            self.move_group(problem, order, g, by);
        }
        true
    }

    /// Two groups begin each at the other's time, and where they can at the other's stations.
    fn trade(&mut self, problem: &Problem, order: &mut Order, rng: &mut Rng) -> bool {
        let n = problem.groups.len();
        let (a, b) = (rng.usize(0..n), rng.usize(0..n));
        if a == b {
            return false;
        }
        let first = |look: &Self, g: usize| problem.slots_of(g).map(|s| look.starts[s as usize]).min();
        let (Some(x), Some(y)) = (first(self, a), first(self, b)) else { return false };
        if rng.bool() {
            trade_stations(problem, order, a, b);
        }
        if rng.bool() {
            self.weave.weave(problem, order, &self.starts, &[(a, y - x), (b, x - y)]);
        } else {
            self.move_group(problem, order, a, y - x);
            self.move_group(problem, order, b, x - y);
        }
        true
    }

    /// Sets, shifts or clears an earliest start.
    fn delay(&mut self, problem: &Problem, order: &mut Order, rng: &mut Rng) -> bool {
        if problem.slots.is_empty() {
            return false;
        }
        let slot = rng.usize(0..problem.slots.len());
        match rng.u32(0..4) {
            0 => {
                if order.delays[slot] == 0 {
                    return false;
                }
                order.delays[slot] = 0;
            }
            1 => {
                // The whole group begins later.
                let g = usize::from(problem.slots[slot].group);
                let by = rng.i32(1..=400);
                for m in problem.members_of(g) {
                    let person = &problem.members[m];
                    if person.slots > 0 && !person.begun {
                        let first = person.first_slot as usize;
                        order.delays[first] = self.starts[first] + by;
                    }
                }
            }
            _ => {
                let by = if rng.bool() { rng.i32(1..=30) } else { rng.i32(-60..=200) };
                order.delays[slot] = (self.starts[slot] + by).max(0);
            }
        }
        true
    }

    /// Puts the rounds of a group where they would be `by` seconds later than now, the others keeping their order.
    fn move_group(&mut self, problem: &Problem, order: &mut Order, g: usize, by: i32) {
        self.keys.clear();
        self.spare.clear();
        let mut latest = i32::MIN;
        for &slot in &order.sequence {
            if usize::from(problem.slots[slot as usize].group) == g {
                latest = latest.max(self.starts[slot as usize] + by);
                self.keys.push((latest, slot));
            } else {
                self.spare.push(slot);
            }
        }
        order.sequence.clear();
        let mut next = 0;
        for &slot in &self.spare {
            while next < self.keys.len() && self.keys[next].0 <= self.starts[slot as usize] {
                order.sequence.push(self.keys[next].1);
                next += 1;
            }
            order.sequence.push(slot);
        }
        order.sequence.extend(self.keys[next..].iter().map(|k| k.1));
        for s in problem.slots_of(g) {
            let delay = &mut order.delays[s as usize];
            if *delay > 0 {
                *delay = (*delay + by).max(0);
            }
        }
    }
}

/// Chooses stations for a group or, where its members may differ, perhaps for one of them; whether any changed.
fn choose(problem: &Problem, order: &mut Order, rng: &mut Rng, g: usize) -> bool {
    let team = &problem.groups[g];
    let members = problem.members_of(g);
    let one = if team.together || rng.bool() { None } else { Some(rng.usize(members.clone())) };
    let only = if rng.u32(0..3) == 0 { Some(rng.usize(0..team.eligible.len())) } else { None };
    // Whoever has their bit set goes elsewhere than the others: a large group may fit nowhere whole.
    let apart = if team.together || one.is_some() || rng.bool() { 0 } else { rng.u32(..) };
    let mut changed = false;
    for (leg, of) in team.eligible.iter().enumerate() {
        if only.is_some_and(|l| l != leg) {
            continue;
        }
        let (here, there) = (of[rng.usize(0..of.len())], of[rng.usize(0..of.len())]);
        for m in members.clone() {
            let station = if apart >> (m - members.start) & 1 == 0 { here } else { there };
            if problem.members[m].fixed || one.is_some_and(|o| o != m) {
                continue;
            }
            let row = &mut order.stations[m * problem.width + leg];
            changed |= *row != station;
            *row = station;
        }
    }
    changed
}

/// Each of two groups takes the stations of the other, leg by leg where they suit.
fn trade_stations(problem: &Problem, order: &mut Order, a: usize, b: usize) {
    let (x, y) = (problem.members_of(a).start, problem.members_of(b).start);
    let free = |g: usize| problem.members_of(g).all(|m| !problem.members[m].fixed);
    if !free(a) || !free(b) {
        return;
    }
    let legs = problem.groups[a].eligible.len().min(problem.groups[b].eligible.len());
    for leg in 0..legs {
        let (s, t) = (order.stations[x * problem.width + leg], order.stations[y * problem.width + leg]);
        if problem.groups[a].eligible[leg].contains(&t) && problem.groups[b].eligible[leg].contains(&s) {
            for m in problem.members_of(a) {
                order.stations[m * problem.width + leg] = t;
            }
            for m in problem.members_of(b) {
                order.stations[m * problem.width + leg] = s;
            }
        }
    }
}

/// Whether two rounds may not pass each other: one member's, or members of one rotation.
pub(super) fn bound(problem: &Problem, order: &Order, a: u32, b: u32, loose: bool) -> bool {
    let (x, y) = (&problem.slots[a as usize], &problem.slots[b as usize]);
    if x.member == y.member {
        return true;
    }
    x.group == y.group
        && x.legs_done == 0
        && y.legs_done == 0
        && !(loose && problem.groups[usize::from(x.group)].irregular)
        && order.station(problem, x.member, 0) == order.station(problem, y.member, 0)
}

/// Whether two rounds meet at a station or at a coach.
fn share(problem: &Problem, order: &Order, a: u32, b: u32) -> bool {
    let (x, y) = (&problem.slots[a as usize], &problem.slots[b as usize]);
    let row = |s: &Slot| {
        let from = usize::from(s.member) * problem.width;
        &order.stations[from..from + usize::from(problem.groups[usize::from(s.group)].legs)]
    };
    let (r, s) = (row(x), row(y));
    if r.iter().any(|station| s.contains(station)) {
        return true;
    }
    x.coach == y.coach && spotted(problem, x) && spotted(problem, y)
}

pub(super) fn spotted(problem: &Problem, slot: &Slot) -> bool {
    problem.ops[slot.first_op as usize..][..usize::from(slot.ops)].iter().any(|op| op.spot_from >= 0)
}
