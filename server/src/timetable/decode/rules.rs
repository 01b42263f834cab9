//! Rules that a sequence cannot promise: one group at a time where nobody may work in, and the rotation of groups in
//! which somebody comes late, misses a round or skips a leg. Their violation is counted in seconds.

use super::{Picture, Span};
use crate::timetable::order::Order;
use crate::timetable::problem::{NONE, Problem};

/// Room for looking at these rules.
#[derive(Clone, Debug)]
pub(super) struct Spans {
    unshared: Vec<u16>,
    /// The last turn of every member.
    pub(super) finals: Vec<u32>,
    /// The group of every turn.
    group: Vec<u16>,
    spans: Vec<(i32, i32, u16)>,
    /// Starts of the members of one group: `(start, number of the round in the block, position among the slots)`.
    starts: [Vec<(i32, i64, u32)>; 4],
}

/// The slot of a start that lies before now.
const PAST: u32 = u32::MAX;

impl Spans {
    pub(super) fn new(problem: &Problem) -> Self {
        let unshared =
            (0..problem.places.len()).filter(|&s| !problem.places[s].work_in).map(|s| s as u16).collect();
        let finals =
            problem.slots.iter().filter(|s| s.last).map(|s| s.first_op + u32::from(s.ops) - 1).collect();
        let group = problem.slots.iter().flat_map(|s| (0..s.ops).map(|_| s.group)).collect();
        let most = problem.members.iter().map(|m| m.slots as usize + 1).max().unwrap_or(0);
        Self {
            unshared,
            finals,
            group,
            spans: Vec::with_capacity(problem.groups.len()),
            starts: std::array::from_fn(|_| Vec::with_capacity(most)),
        }
    }

    /// By how many seconds groups overlap where they may not.
    pub(super) fn overlap(&mut self, problem: &Problem, is: &Picture, places: &[u32]) -> i64 {
        (0..self.unshared.len()).map(|i| self.worked_in(problem, is, places, self.unshared[i])).sum()
    }

    /// By how many seconds the rotation of a group is broken.
    pub(super) fn turned(&mut self, problem: &Problem, order: &Order, times: &[Span], g: usize) -> i64 {
        if problem.groups[g].irregular { self.rotation(problem, order, times, g) } else { 0 }
    }

    /// Overlaps of groups at a station of one group at a time.
    fn worked_in(&mut self, problem: &Problem, is: &Picture, places: &[u32], station: u16) -> i64 {
        self.spans.clear();
        let mut turn = places[usize::from(station)];
        while turn != NONE {
            let (at, group) = (is.last[turn as usize], self.group[turn as usize]);
            match self.spans.iter_mut().find(|s| s.2 == group) {
                Some(span) => *span = (span.0.min(at.start), span.1.max(at.end), span.2),
                None => self.spans.push((at.start, at.end, group)),
            }
            turn = is.rows[turn as usize].last_here;
        }
        let holder = problem.places[usize::from(station)].holder;
        for span in &mut self.spans {
            if holder == Some(span.2) {
                span.0 = -1;
            }
        }
        self.spans.sort_unstable();
        let (mut sum, mut last) = (0, i32::MIN);
        for &(from, to, _) in &self.spans {
            if from < last {
                sum += i64::from(last - from);
            }
            last = last.max(to);
        }
        sum
    }

    /// Breaks of the rotation among members who share the first leg's station.
    fn rotation(&mut self, problem: &Problem, order: &Order, times: &[Span], g: usize) -> i64 {
        let members = problem.members_of(g);
        let (first, many) = (members.start, members.len().min(self.starts.len()));
        for k in 0..many {
            self.take_starts(problem, times, first + k, k);
        }
        let station = |k: usize| order.station(problem, (first + k) as u16, 0);
        let mut sum = 0;
        for a in 0..many {
            for b in 0..many {
                if a != b && station(a) == station(b) {
                    sum += between(problem, &self.starts[a], &self.starts[b]);
                }
            }
        }
        let listed = &problem.groups[g].order;
        for (i, &a) in listed.iter().enumerate() {
            for &b in &listed[i + 1..] {
                let next = |k: u16| self.starts[usize::from(k)].iter().find(|s| s.2 != PAST).map(|s| s.0);
                if let (Some(x), Some(y)) = (next(a), next(b))
                    && station(usize::from(a)) == station(usize::from(b))
                {
                    sum += i64::from((x - y).max(0));
                }
            }
        }
        sum
    }

    fn take_starts(&mut self, problem: &Problem, times: &[Span], member: usize, k: usize) {
        let person = &problem.members[member];
        let starts = &mut self.starts[k];
        starts.clear();
        if person.slots == 0 {
            return;
        }
        if person.begun {
            starts.push((-1, person.past_round, PAST));
        }
        for s in person.first_slot..person.first_slot + person.slots {
            let slot = &problem.slots[s as usize];
            if slot.legs_done == 0 {
                let number = i64::from(problem.round_numbers[s as usize]);
                starts.push((times[slot.first_op as usize].start, number, s));
            }
        }
    }
}

/// By how many seconds `b` starts too often, or not at all, between two starts of `a`.
fn between(problem: &Problem, a: &[(i32, i64, u32)], b: &[(i32, i64, u32)]) -> i64 {
    let mut sum = 0;
    for pair in a.windows(2) {
        let ((x, q, _), (y, p, _)) = (pair[0], pair[1]);
        let inside = b.iter().filter(|t| x < t.0 && t.0 < y);
        sum += inside.skip((p - q).max(0) as usize).map(|t| i64::from(y - t.0)).sum::<i64>();
        if x < 0 {
            continue;
        }
        let Some(j) = b.iter().position(|t| t.0 > x) else { continue };
        let (z, number, slot) = b[j];
        if z > y && slot != PAST {
            let low = problem.slots[slot as usize].low;
            let follows = j == 0 || number == b[j - 1].1 + 1;
            if low <= x && follows {
                sum += i64::from(z - y);
            }
        }
    }
    sum
}
