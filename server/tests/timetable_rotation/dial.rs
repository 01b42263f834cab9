//! Rotations laid out second by second on a dial: a cycle of so many seconds is possible if all turns with their
//! changes find a place on the two stations, whatever the order. Knows no formula.

use turnabout_protocol::units::Secs;
use turnabout_server::timetable::rotation::{Pace, Pair};

/// A member as the dial sees it: the two turns, and the least rest.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Member {
    pub(crate) lengths: [u32; 2],
    pub(crate) rest: u32,
}

/// A pair of stations and who rotates there.
#[derive(Clone, Debug)]
pub(crate) struct Case {
    pub(crate) walk: u32,
    pub(crate) changes: [u32; 2],
    pub(crate) members: Vec<Member>,
}

impl Case {
    pub(crate) fn pair(&self) -> Pair {
        crate::pair(self.walk, self.changes)
    }

    /// Everybody, with a longest rest so many seconds above the shortest that counts.
    pub(crate) fn paces(&self, slack: u32) -> Vec<Pace> {
        let pace =
            |member: &Member| crate::pace(member.lengths, member.rest, member.rest.max(self.walk) + slack);
        self.members.iter().map(pace).collect()
    }

    /// The shortest cycle that the dial finds.
    pub(crate) fn shortest(&self) -> Secs {
        let own =
            |member: &Member| member.lengths[0] + self.walk + member.lengths[1] + member.rest.max(self.walk);
        let longest = self.members.iter().map(own).max().unwrap();
        let cycle = (longest..).find(|&cycle| {
            let mut stations = [vec![false; cycle as usize], vec![false; cycle as usize]];
            self.place(&mut stations, 0)
        });
        Secs(cycle.unwrap())
    }

    /// Whether this member and all after it find a place.
    fn place(&self, stations: &mut [Vec<bool>; 2], member: usize) -> bool {
        let Some(&Member { lengths, .. }) = self.members.get(member) else { return true };
        let cycle = stations[0].len();
        // Where the dial begins is free to choose.
        let starts = if member == 0 { 0..1 } else { 0..cycle };
        for start in starts {
            let begins = [start, start + (lengths[0] + self.walk) as usize];
            let lasts = [0, 1].map(|station| (lengths[station] + self.changes[station]) as usize);
            let mut seconds = (0..2).flat_map(|station| {
                (begins[station]..begins[station] + lasts[station])
                    .map(move |second| (station, second % cycle))
            });
            if lasts.iter().any(|&last| last > cycle)
                || seconds.any(|(station, second)| stations[station][second])
            {
                continue;
            }
            for is_taken in [true, false] {
                for station in 0..2 {
                    for second in begins[station]..begins[station] + lasts[station] {
                        stations[station][second % cycle] = is_taken;
                    }
                }
                if is_taken && self.place(stations, member + 1) {
                    return true;
                }
            }
        }
        false
    }
}

/// The starts of some rounds where everybody goes as early as the one before allows, in this order: by round, then by
/// place in the order.
pub(crate) fn as_early_as_possible(case: &Case, order: &[usize], rounds: usize) -> Vec<Vec<u32>> {
    let mut starts: Vec<Vec<u32>> = Vec::new();
    let mut free = [0_u32; 2];
    for round in 0..rounds {
        let mut row: Vec<u32> = Vec::new();
        for (place, &who) in order.iter().enumerate() {
            let Member { lengths, rest } = case.members[who];
            let to_second = lengths[0] + case.walk;
            let mut start = free[0].max(free[1].saturating_sub(to_second));
            if round > 0 {
                start = start.max(starts[round - 1][place] + to_second + lengths[1] + rest.max(case.walk));
            }
            free = [start + lengths[0] + case.changes[0], start + to_second + lengths[1] + case.changes[1]];
            row.push(start);
        }
        starts.push(row);
    }
    starts
}
