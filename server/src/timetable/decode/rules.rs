//! Rules that a sequence cannot promise: one group at a time where nobody may work in, and the rotation of groups in
//! which somebody comes late, misses a round or skips a leg. Their violation is counted in seconds.

use super::Row;
use crate::timetable::order::Order;
use crate::timetable::problem::Problem;

/// Room for looking at these rules.
#[derive(Clone, Debug)]
pub(super) struct Spans {
    unshared: Vec<u16>,
    irregular: Vec<u16>,
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
        let irregular =
            (0..problem.groups.len()).filter(|&g| problem.groups[g].irregular).map(|g| g as u16).collect();
        let most = problem.members.iter().map(|m| m.slots as usize + 1).max().unwrap_or(0);
        Self {
            unshared,
            irregular,
            spans: Vec::with_capacity(problem.groups.len()),
            starts: std::array::from_fn(|_| Vec::with_capacity(most)),
        }
    }

    /// By how many seconds groups overlap where they may not, and by how many the rotation is broken.
    pub(super) fn broken(&mut self, problem: &Problem, order: &Order, rows: &[Row]) -> (i64, i64) {
        let (mut overlap, mut turned) = (0, 0);
        for i in 0..self.unshared.len() {
            overlap += self.worked_in(problem, order, rows, self.unshared[i]);
        }
        for i in 0..self.irregular.len() {
            turned += self.rotation(problem, order, rows, usize::from(self.irregular[i]));
        }
        (overlap, turned)
    }

    /// Overlaps of groups at a station of one group at a time.
    fn worked_in(&mut self, problem: &Problem, order: &Order, rows: &[Row], station: u16) -> i64 {
        self.spans.clear();
        for slot in &problem.slots {
            for o in slot.first_op..slot.first_op + u32::from(slot.ops) {
                if order.station(problem, slot.member, problem.ops[o as usize].leg) != station {
                    continue;
                }
                let row = &rows[o as usize];
                match self.spans.iter_mut().find(|s| s.2 == slot.group) {
                    Some(span) => *span = (span.0.min(row.start), span.1.max(row.end), span.2),
                    None => self.spans.push((row.start, row.end, slot.group)),
                }
            }
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
    fn rotation(&mut self, problem: &Problem, order: &Order, rows: &[Row], g: usize) -> i64 {
        let members = problem.members_of(g);
        let (first, many) = (members.start, members.len().min(self.starts.len()));
        for k in 0..many {
            self.take_starts(problem, rows, first + k, k);
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

    fn take_starts(&mut self, problem: &Problem, rows: &[Row], member: usize, k: usize) {
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
                starts.push((rows[slot.first_op as usize].start, number, s));
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
