//! The problem in the form that the decoder reads: flat arrays of small numbers instead of nested lists.
//!
//! In here and in the decoder an instant or a span is a plain `i32` of whole seconds. That is the one place where
//! units leave the types: the inner loop runs a million times a second, and every number comes from an
//! [`Instance`], whose reader keeps them below [`MOST_SECONDS`].

mod change;
mod rotation;
mod steps;

pub use change::Changes;
pub use steps::Steps;

use super::instance::{Instance, Member, Round, StationKind, Turn, Window};

/// The largest instant or span of an instance, in seconds: eleven days. Sums of a whole evening stay far inside `i32`.
pub const MOST_SECONDS: u32 = 1_000_000;
/// A limit that is none.
pub const NEVER: i32 = i32::MAX / 4;
/// The index of nothing.
pub const NONE: u32 = u32::MAX;

/// One coming turn.
#[derive(Clone, Copy, Debug)]
pub struct Op {
    /// How long it takes.
    pub length: i32,
    /// The load wanted, as an index into [`Changes`]; 0 leaves what is there.
    pub load: u16,
    /// Its leg in the group's list.
    pub leg: u8,
    /// From when after the start somebody spots; below zero: nobody does.
    pub spot_from: i32,
    /// Up to when.
    pub spot_to: i32,
    /// What was told of its start; below zero: nothing.
    pub told: i32,
}

/// One coming round of one member, the unit that a sequence orders; where a next leg may wait on purpose, one leg of it.
#[derive(Clone, Copy, Debug)]
pub struct Slot {
    /// Whose, as an index into [`Problem::members`].
    pub member: u16,
    /// Of which group.
    pub group: u16,
    /// Who spots.
    pub coach: u16,
    /// Its first turn in [`Problem::ops`].
    pub first_op: u32,
    /// Its position among the member's rounds.
    pub position: u32,
    /// How many turns it has.
    pub ops: u8,
    /// How many legs are done where it is under way, else 0.
    pub legs_done: u8,
    /// The round it is of, by position among the member's.
    pub round: u32,
    /// Whether it goes on with the round of the one before: a leg of its own, which may wait on purpose.
    pub chained: bool,
    /// Whether it is the member's last.
    pub last: bool,
    /// Whether it is the member's first that remains.
    pub first: bool,
    /// No start before this.
    pub low: i32,
    /// The shortest rest before it.
    pub rest_min: i32,
    /// The longest good rest before it; [`NEVER`] where any is good.
    pub rest_max: i32,
    /// The longest wait between two legs; [`NEVER`] where any is allowed.
    pub wait_max: i32,
}

/// One client.
#[derive(Clone, Copy, Debug)]
pub struct Person {
    /// Their group.
    pub group: u16,
    /// Their first round in [`Problem::slots`].
    pub first_slot: u32,
    /// How many rounds are left.
    pub slots: u32,
    /// When they came.
    pub release: i32,
    /// When they would like to be done; [`NEVER`] where they did not say.
    pub due: i32,
    /// When the last whole round ended; below zero: none did.
    pub last_end: i32,
    /// When the last leg of the round under way ended; below zero: none is under way.
    pub way_end: i32,
    /// What was on the station after the last leg done of the round under way, 0 where that is not known.
    pub way_load: u16,
    /// Whether they have begun.
    pub begun: bool,
    /// Whether the stations are settled.
    pub fixed: bool,
    /// The number, among the block's rounds, of the last round begun before now: it counts for the rotation.
    pub past_round: i64,
}

/// One group.
#[derive(Clone, Debug)]
pub struct Team {
    /// Its first member in [`Problem::members`].
    pub first_member: u16,
    /// How many members.
    pub members: u16,
    /// How many legs.
    pub legs: u8,
    /// Whether all use the same stations.
    pub together: bool,
    /// The stations that suit each leg.
    pub eligible: Vec<Vec<u16>>,
    /// Whether the rotation must be looked at in times: somebody comes late, misses a round or skips a first leg.
    /// Otherwise keeping the order of the sequence keeps the rotation.
    pub irregular: bool,
    /// Members who have begun, by position in the group, next to start first.
    pub order: Vec<u16>,
}

/// One station.
#[derive(Clone, Debug)]
pub struct Place {
    /// What is set there.
    pub kind: StationKind,
    /// From when it is free.
    pub free_at: i32,
    /// What is on it, as an index into [`Changes`].
    pub load: u16,
    /// When it cannot be used, in order.
    pub busy: Vec<(i32, i32)>,
    /// Whether groups may work in.
    pub work_in: bool,
    /// The group that holds it.
    pub holder: Option<u16>,
}

/// One coach.
#[derive(Clone, Debug)]
pub struct Spotter {
    /// From when they are free.
    pub free_at: i32,
    /// Where they are; [`NONE`] where nobody knows.
    pub at: u32,
    /// When they cannot spot, in order.
    pub busy: Vec<(i32, i32)>,
}

/// The prices.
#[derive(Clone, Debug)]
pub struct Prices {
    /// Of a rest's overrun.
    pub overrun: Steps,
    /// Of waiting at the door.
    pub door: Steps,
    /// Of a second between two legs.
    pub wait: i64,
    /// Of a second of somebody's stay.
    pub flow: i64,
    /// Of a second of the whole.
    pub makespan: i64,
    /// Of a plate or pin moved.
    pub handling: i64,
    /// Of a second beyond the limit of a wait that had begun.
    pub late: i64,
    /// Of a second after one is due.
    pub tardy: i64,
    /// Of a second away from what was told, beyond 5 s.
    pub told: i64,
}

/// The compiled problem.
#[derive(Clone, Debug)]
pub struct Problem {
    /// No turn starts before this.
    pub now: i32,
    /// The prices.
    pub prices: Prices,
    /// Whether a next leg may wait on purpose.
    pub free_start: bool,
    /// Whether groups go through the same stations in different directions, so that rounds must go between others. Not
    /// so where a next leg may wait on purpose: each leg has a place of its own in the sequence then.
    pub crossing: bool,
    /// The most legs that any group has: the width of a row of stations in an order.
    pub width: usize,
    /// The stations.
    pub places: Vec<Place>,
    /// Walking times of clients, `from * places + to`.
    pub walk: Vec<i32>,
    /// Walking times of coaches.
    pub coach_walk: Vec<i32>,
    /// The coaches.
    pub coaches: Vec<Spotter>,
    /// The groups.
    pub groups: Vec<Team>,
    /// All members.
    pub members: Vec<Person>,
    /// The stations of members where they are settled: `member * width + leg`, else any.
    pub settled: Vec<u16>,
    /// All remaining rounds, by member.
    pub slots: Vec<Slot>,
    /// All remaining turns, by round.
    pub ops: Vec<Op>,
    /// What changes of load take.
    pub changes: Changes,
    /// Numbers of rounds in the block, as [`Problem::slots`].
    pub round_numbers: Vec<u32>,
}

/// A number of an instance as the inner loop has it; more than [`MOST_SECONDS`] counts as that.
fn seconds(n: u32) -> i32 {
    n.min(MOST_SECONDS) as i32
}

fn windows(busy: &[Window]) -> Vec<(i32, i32)> {
    let mut all: Vec<_> = busy.iter().map(|w| (seconds(w.from.0), seconds(w.to.0))).collect();
    all.sort_unstable();
    all
}

impl Problem {
    /// Compiles an instance. The instance must be well formed, as its reader and the floor make it: positions inside
    /// their lists, no round without a turn.
    #[must_use]
    pub fn new(instance: &Instance) -> Self {
        let width = instance.groups.iter().map(|g| g.eligible.len()).max().unwrap_or(1);
        let mut changes = Changes::new(instance.plate, instance.collar, instance.pin);
        let places = places(instance, &mut changes);
        let flat = |table: &[Vec<turnabout_protocol::units::Secs>]| {
            table.iter().flatten().map(|s| seconds(s.0)).collect()
        };
        let mut problem = Self {
            now: seconds(instance.now.0),
            prices: prices(instance),
            free_start: instance.weights.free_start,
            crossing: !instance.weights.free_start && crossing(instance),
            width,
            places,
            walk: flat(&instance.walk),
            coach_walk: flat(&instance.coach_walk),
            coaches: instance
                .coaches
                .iter()
                .map(|c| Spotter {
                    free_at: seconds(c.free_at.0),
                    at: c.at.map_or(NONE, |at| at as u32),
                    busy: windows(&c.busy),
                })
                .collect(),
            groups: Vec::new(),
            members: Vec::new(),
            settled: Vec::new(),
            slots: Vec::new(),
            ops: Vec::new(),
            changes,
            round_numbers: Vec::new(),
        };
        for (g, group) in instance.groups.iter().enumerate() {
            let first_member = problem.members.len() as u16;
            for member in &group.members {
                problem.take_member(instance, g, member);
            }
            problem.groups.push(Team {
                first_member,
                members: group.members.len() as u16,
                legs: group.eligible.len() as u8,
                together: group.together,
                eligible: group.eligible.iter().map(|of| of.iter().map(|&s| s as u16).collect()).collect(),
                irregular: rotation::is_irregular(group, instance.now),
                order: group.order.iter().map(|&m| m as u16).collect(),
            });
        }
        problem.changes.settle();
        problem
    }

    fn take_member(&mut self, instance: &Instance, g: usize, member: &Member) {
        let group = &instance.groups[g];
        let index = self.members.len() as u16;
        let done = member.under_way.map_or(0, |w| w.legs_done);
        let row = member.stations.clone().unwrap_or_else(|| group.eligible.iter().map(|of| of[0]).collect());
        self.settled.extend((0..self.width).map(|leg| row.get(leg).map_or(0, |&s| s as u16)));
        let way_load = match (done, member.rounds.first()) {
            (1.., Some(round)) => {
                let turn = round.legs[done - 1].as_ref().and_then(|t| t.load.as_ref());
                let there = instance.stations[row[done - 1]].load.as_ref();
                self.changes.intern(turn.or(there))
            }
            _ => 0,
        };
        let first_number = member.rounds.first().map_or(0, |r| i64::from(r.number));
        self.members.push(Person {
            group: g as u16,
            first_slot: self.slots.len() as u32,
            slots: 0,
            release: seconds(member.release.0),
            due: member.due.map_or(NEVER, |d| seconds(d.0)),
            last_end: member.last_round_end.map_or(-1, |e| seconds(e.0)),
            way_end: member.under_way.map_or(-1, |w| seconds(w.last_end.0)),
            way_load,
            begun: member.has_begun(),
            fixed: member.stations.is_some(),
            past_round: first_number - i64::from(done == 0),
        });
        for (r, round) in member.rounds.iter().enumerate() {
            self.take_round(instance, (g, index), member, r, round);
        }
    }

    fn take_round(
        &mut self,
        instance: &Instance,
        (g, index): (usize, u16),
        member: &Member,
        r: usize,
        round: &Round,
    ) {
        let group = &instance.groups[g];
        let legs_done = if r == 0 { member.under_way.map_or(0, |w| w.legs_done) } else { 0 };
        let misses = r > 0 && member.rounds[r - 1].number + 1 != round.number;
        let rest_max = round.rest_max.unwrap_or(group.rest_max).filter(|_| !misses);
        let not_before = round.not_before.map_or(0, |n| n.0);
        let wait_max = group.changeover_wait_max.unwrap_or(instance.changeover_wait_max);
        let mut slot = Slot {
            member: index,
            group: g as u16,
            coach: round.coach.unwrap_or(group.coach) as u16,
            first_op: self.ops.len() as u32,
            position: 0,
            ops: 0,
            legs_done: legs_done as u8,
            round: r as u32,
            chained: false,
            last: r + 1 == member.rounds.len(),
            first: r == 0,
            low: seconds(instance.now.0.max(member.release.0).max(not_before)),
            rest_min: seconds(round.rest_min.unwrap_or(group.rest_min).0),
            rest_max: rest_max.map_or(NEVER, |m| seconds(m.0)),
            wait_max: wait_max.map_or(NEVER, |m| seconds(m.0)),
        };
        let turns = round.legs.iter().enumerate().skip(legs_done);
        let turns: Vec<_> = turns.filter_map(|(leg, turn)| Some((leg, turn.as_ref()?))).collect();
        for (k, &(leg, turn)) in turns.iter().enumerate() {
            let op = self.op(leg, turn, round.told.get(leg).copied().flatten());
            self.ops.push(op);
            slot.ops += 1;
            let ends = k + 1 == turns.len();
            if ends || self.free_start {
                self.take_slot(index, Slot { last: slot.last && ends, ..slot }, round.number);
                let next = self.ops.len() as u32;
                slot = Slot {
                    first_op: next,
                    ops: 0,
                    legs_done: 0,
                    chained: true,
                    first: false,
                    rest_min: 0,
                    rest_max: NEVER,
                    ..slot
                };
            }
        }
    }

    fn take_slot(&mut self, member: u16, slot: Slot, number: u32) {
        let person = &mut self.members[usize::from(member)];
        self.slots.push(Slot { position: person.slots, ..slot });
        person.slots += 1;
        self.round_numbers.push(number);
    }

    fn op(&mut self, leg: usize, turn: &Turn, told: Option<super::instance::At>) -> Op {
        Op {
            length: seconds(turn.length.0),
            load: self.changes.intern(turn.load.as_ref()),
            leg: leg as u8,
            spot_from: turn.spot.map_or(-1, |s| seconds(s.from.0)),
            spot_to: turn.spot.map_or(-1, |s| seconds(s.to.0)),
            told: told.map_or(-1, |t| seconds(t.0)),
        }
    }

    /// The round of the same member after this one. Only where it is not the last.
    #[inline]
    #[must_use]
    pub fn slots_after(&self, slot: &Slot) -> &Slot {
        let person = &self.members[usize::from(slot.member)];
        &self.slots[(person.first_slot + slot.position + 1) as usize]
    }

    /// How long a client walks.
    #[inline]
    #[must_use]
    pub fn walk(&self, from: u16, to: u16) -> i32 {
        self.walk[usize::from(from) * self.places.len() + usize::from(to)]
    }

    /// How long a coach walks to a station from where they are; nothing from an unknown place.
    #[inline]
    #[must_use]
    pub fn coach_walk(&self, from: u32, to: u16) -> i32 {
        if from == NONE { 0 } else { self.coach_walk[from as usize * self.places.len() + usize::from(to)] }
    }

    /// The rounds of a group, as positions in [`Problem::slots`].
    #[must_use]
    pub fn slots_of(&self, group: usize) -> std::ops::Range<u32> {
        let team = &self.groups[group];
        let first = &self.members[usize::from(team.first_member)];
        let last = &self.members[usize::from(team.first_member + team.members) - 1];
        first.first_slot..last.first_slot + last.slots
    }

    /// The members of a group.
    #[must_use]
    pub fn members_of(&self, group: usize) -> std::ops::Range<usize> {
        let team = &self.groups[group];
        usize::from(team.first_member)..usize::from(team.first_member + team.members)
    }
}

/// Whether some station comes before another for one member and after it for another.
fn crossing(instance: &Instance) -> bool {
    let mut before = std::collections::BTreeSet::new();
    for group in &instance.groups {
        for (leg, of) in group.eligible.iter().enumerate() {
            for later in &group.eligible[leg + 1..] {
                before.extend(of.iter().flat_map(|&a| later.iter().map(move |&b| (a, b))));
            }
        }
    }
    before.iter().any(|&(a, b)| a != b && before.contains(&(b, a)))
}

fn places(instance: &Instance, changes: &mut Changes) -> Vec<Place> {
    let mut places: Vec<_> = instance
        .stations
        .iter()
        .map(|s| Place {
            kind: s.kind,
            free_at: seconds(s.free_at.0),
            load: changes.intern(s.load.as_ref()),
            busy: windows(&s.busy),
            work_in: s.work_in,
            holder: None,
        })
        .collect();
    for (g, group) in instance.groups.iter().enumerate() {
        for &s in &group.holds {
            places[s].holder = Some(g as u16);
        }
    }
    places
}

fn prices(instance: &Instance) -> Prices {
    let w = &instance.weights;
    Prices {
        overrun: Steps::new(&w.overrun),
        door: Steps::new(&w.door),
        wait: w.changeover_wait.into(),
        flow: w.flow.into(),
        makespan: w.makespan.into(),
        handling: w.handling.into(),
        late: w.late.into(),
        tardy: w.tardy.into(),
        told: w.told.into(),
    }
}
