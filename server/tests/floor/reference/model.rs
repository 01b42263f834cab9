//! A deliberately simple floor: a few vectors and loops, written without a look at how the real one does it.

use turnabout_protocol::ids::{ClientId, CoachId, GroupId, StationId};

use crate::world::*;

/// The clients, their groups, and their loads on the bar.
pub(crate) const WHO: [(GroupId, ClientId, i64); 4] =
    [(PAIR, DARA, 60), (PAIR, EDDA, 40), (SINGLE, FARID, 70), (LATER, GRETA, 30)];
pub(crate) const GROUPS: [GroupId; 3] = [PAIR, SINGLE, LATER];
pub(crate) const STATIONS: [StationId; 4] = [BENCH, BENCH_2, ROW, ROW_2];
pub(crate) const COACHES: [CoachId; 2] = [AYLA, BRAM];
/// Sets of one client: a light round and two working rounds of a press and a row.
pub(crate) const SETS: usize = 6;
const REST: i64 = 60;
const WIPE_DOWN: i64 = 120;

/// What the floor is to answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Answer {
    Accepted,
    Already,
    Refused,
}

/// One station.
#[derive(Clone, Debug, Default)]
pub(crate) struct Place {
    pub(crate) holder: Option<usize>,
    /// The client on it.
    pub(crate) on: Option<usize>,
    /// Kilograms on a bar that somebody confirmed.
    pub(crate) confirmed: Option<i64>,
    pub(crate) broken: bool,
    pub(crate) public_until: Option<i64>,
    pub(crate) help: Option<Help>,
}

/// A call for help at a station.
#[derive(Clone, Debug)]
pub(crate) struct Help {
    pub(crate) answered: Option<usize>,
}

/// A set under way.
#[derive(Clone, Debug)]
pub(crate) struct Lift {
    pub(crate) starts: i64,
    pub(crate) ends: i64,
    pub(crate) spotter: Option<usize>,
}

/// One client.
#[derive(Clone, Debug, Default)]
pub(crate) struct Person {
    pub(crate) here: bool,
    pub(crate) left: bool,
    came: i64,
    /// `d`one, `s`kipped, `m`issed, one after the other.
    pub(crate) sets: String,
    /// When each of them ended.
    ended: Vec<i64>,
    pub(crate) lift: Option<Lift>,
    /// The coach who stands at the bar.
    pub(crate) at_bar: Option<usize>,
    /// Whether the light sets were passed.
    pub(crate) passed: [bool; 2],
    late: bool,
}

/// One group.
#[derive(Clone, Debug, Default)]
pub(crate) struct Team {
    /// Its bench and its row.
    pub(crate) held: Option<[usize; 2]>,
    taken: i64,
    /// 0 not held back, 1 paused, 2 stopped.
    pub(crate) halt: u8,
    pub(crate) wipe_since: Option<i64>,
    pub(crate) over: bool,
}

/// Everything.
#[derive(Clone, Debug)]
pub(crate) struct Model {
    pub(crate) now: i64,
    pub(crate) places: Vec<Place>,
    pub(crate) people: Vec<Person>,
    pub(crate) teams: Vec<Team>,
    pub(crate) line: Vec<usize>,
    /// Until when a coach is away.
    pub(crate) away: Vec<Option<i64>>,
    /// The answer to the last tap.
    pub(crate) answer: Answer,
}

pub(crate) fn team_of(person: usize) -> usize {
    GROUPS.iter().position(|group| *group == WHO[person].0).unwrap()
}

/// Kilograms of a press.
pub(crate) fn load(person: usize, set: usize) -> i64 {
    if set < 2 { 20 } else { WHO[person].2 }
}

impl Model {
    pub(crate) fn new() -> Self {
        Self {
            now: 0,
            places: vec![Place::default(); 4],
            people: vec![Person::default(); 4],
            teams: vec![Team::default(); 3],
            line: Vec::new(),
            away: vec![None; 2],
            answer: Answer::Accepted,
        }
    }

    pub(crate) fn members(&self, team: usize) -> Vec<usize> {
        (0..WHO.len()).filter(|person| team_of(*person) == team).collect()
    }

    pub(crate) fn anybody(&self, team: usize) -> bool {
        self.members(team).iter().any(|person| self.people[*person].here)
    }

    /// The place of a client's next set: after the one under way.
    pub(crate) fn next(&self, person: usize) -> usize {
        self.people[person].sets.len() + usize::from(self.people[person].lift.is_some())
    }

    /// The station of a set.
    pub(crate) fn station(&self, person: usize, set: usize) -> Option<usize> {
        self.teams[team_of(person)].held.map(|held| held[set % 2])
    }

    /// The client whose bar a coach spots.
    pub(crate) fn spots(&self, coach: usize) -> Option<usize> {
        (0..WHO.len()).find(|p| self.people[*p].lift.as_ref().is_some_and(|l| l.spotter == Some(coach)))
    }

    pub(crate) fn helps(&self, coach: usize) -> bool {
        self.places.iter().any(|p| p.help.as_ref().is_some_and(|help| help.answered == Some(coach)))
    }

    /// Whether a coach is free to stand at the bar of a client.
    pub(crate) fn may_spot(&self, coach: usize) -> bool {
        self.away[coach].is_none() && !self.helps(coach) && self.spots(coach).is_none()
    }

    pub(crate) fn steps_away(&mut self, coach: usize) {
        for person in &mut self.people {
            person.at_bar = person.at_bar.filter(|at| *at != coach);
        }
    }

    pub(crate) fn is_free(&self, place: usize) -> bool {
        let place = &self.places[place];
        place.holder.is_none() && !place.broken && place.public_until.is_none() && place.help.is_none()
    }

    fn free(&self, benches: bool) -> Vec<usize> {
        let of = if benches { 0..2 } else { 2..4 };
        of.filter(|place| self.is_free(*place)).collect()
    }

    /// Whether a team may take a bench and a row without anybody before it in line waiting longer: all of them
    /// want one of each, and each bench is as good as the other.
    pub(crate) fn may_take(&self, team: usize, bench: usize, row: usize) -> bool {
        let before = self.line.iter().take_while(|other| **other != team);
        let before = before.filter(|other| self.anybody(**other)).count();
        let enough = self.free(true).len() > before && self.free(false).len() > before;
        self.wants(team) && self.is_free(bench) && self.is_free(row) && enough
    }

    pub(crate) fn wants(&self, team: usize) -> bool {
        !self.teams[team].over && self.teams[team].held.is_none() && self.anybody(team)
    }

    pub(crate) fn take(&mut self, team: usize, bench: usize, row: usize) {
        self.line.retain(|other| *other != team);
        for place in [bench, row] {
            self.places[place].holder = Some(team);
        }
        self.teams[team].held = Some([bench, row]);
        self.teams[team].taken = self.now;
    }

    /// When the next set of a client may begin at the earliest.
    pub(crate) fn earliest(&self, person: usize) -> i64 {
        let p = &self.people[person];
        let round = self.next(person) / 2;
        let done: Vec<(usize, i64)> =
            (0..p.sets.len()).filter(|n| &p.sets[*n..=*n] == "d").map(|n| (n, p.ended[n])).collect();
        let lifting = p.lift.as_ref().map(|lift| (p.sets.len(), lift.ends));
        let last = lifting.or(done.last().copied());
        let since = last.map_or(self.teams[team_of(person)].taken.max(p.came), |(_, ended)| ended);
        if last.is_some_and(|(n, _)| n / 2 == round) {
            return since;
        }
        let earlier = |(n, _): &(usize, i64)| n / 2 > 0 && n / 2 < round;
        let round_before = lifting.filter(earlier).or(done.iter().rev().copied().find(earlier));
        let rested = round_before.map_or(since, |(_, ended)| ended + REST);
        if last.is_some_and(|(n, _)| n / 2 > 0) && round > 0 { rested } else { rested.max(since) }
    }

    pub(crate) fn unconfirm(&mut self, place: usize) {
        if self.places[place].on.is_none() {
            self.places[place].confirmed = None;
        }
    }

    /// A client begins.
    pub(crate) fn begins(&mut self, person: usize, spotter: Option<usize>) {
        let set = self.next(person);
        let place = self.station(person, set).unwrap();
        let starts = self.now + if set.is_multiple_of(2) { 13 } else { 11 };
        let ends = starts + if set < 2 { 16 } else { 40 };
        if let Some(coach) = spotter {
            self.steps_away(coach);
        }
        self.places[place].on = Some(person);
        self.people[person].lift = Some(Lift { starts, ends, spotter });
        self.people[person].at_bar = None;
    }

    /// The set of a client is over or was taken back.
    pub(crate) fn racks(&mut self, person: usize) -> Lift {
        let place = self.station(person, self.people[person].sets.len()).unwrap();
        self.places[place].on = None;
        if self.places[place].broken {
            self.places[place].confirmed = None;
        }
        self.people[person].lift.take().unwrap()
    }

    /// A set is over.
    pub(crate) fn done(&mut self, person: usize, ended: i64) {
        self.racks(person);
        self.people[person].sets.push('d');
        self.people[person].ended.push(ended);
    }

    pub(crate) fn leaves_out(&mut self, person: usize, how: char) {
        self.people[person].sets.push(how);
        self.people[person].ended.push(0);
    }

    pub(crate) fn calls_off(&mut self, person: usize) {
        let lift = self.racks(person);
        self.people[person].at_bar = lift.spotter;
    }

    /// The lowest round in which another of the team has a set to do.
    fn round_of_others(&self, person: usize) -> Option<usize> {
        let others = self.members(team_of(person)).into_iter().filter(|other| *other != person);
        let others = others.filter(|other| self.people[*other].here && !self.people[*other].late);
        others.map(|other| self.people[other].sets.len()).filter(|n| *n < SETS).map(|n| n / 2).min()
    }

    pub(crate) fn arrives(&mut self, person: usize) {
        let own = self.people[person].sets.len() / 2;
        let behind = self.round_of_others(person).is_some_and(|round| round > 0 && own < round);
        let holds = self.teams[team_of(person)].held.is_some();
        let now = self.now;
        let p = &mut self.people[person];
        p.here = true;
        p.left = false;
        p.came = now;
        p.late = behind && holds && p.sets.len() < SETS;
        if self.teams[team_of(person)].held.is_some() && self.sets_left(team_of(person)) {
            self.teams[team_of(person)].wipe_since = None;
        }
    }

    fn sets_left(&self, team: usize) -> bool {
        let left = |p: &Person| p.lift.is_some() || (p.here && p.sets.len() < SETS);
        self.members(team).iter().any(|person| left(&self.people[*person]))
    }

    /// A team gives its stations back.
    pub(crate) fn gives_back(&mut self, team: usize) {
        for place in self.teams[team].held.take().unwrap_or_default() {
            self.places[place].holder = None;
            self.unconfirm(place);
        }
        self.teams[team].over = true;
        self.teams[team].halt = 0;
        self.teams[team].wipe_since = None;
        self.line.retain(|other| *other != team);
        for person in self.members(team) {
            self.people[person].at_bar = None;
            self.people[person].late = false;
        }
    }

    /// What happens of itself at this second.
    pub(crate) fn settle(&mut self) {
        loop {
            for place in 0..self.places.len() {
                if self.places[place].public_until.is_some_and(|until| until <= self.now) {
                    self.places[place].public_until = None;
                    self.unconfirm(place);
                }
            }
            for away in &mut self.away {
                *away = away.filter(|until| *until > self.now);
            }
            self.late_join_in();
            for team in 0..self.teams.len() {
                let held = self.teams[team].held.unwrap_or_default();
                let help = held.iter().any(|place| self.places[*place].help.is_some());
                let since = self.teams[team].wipe_since.filter(|_| !help);
                let due = since.is_some_and(|since| since + WIPE_DOWN <= self.now);
                if due {
                    self.gives_back(team);
                } else if self.teams[team].held.is_some() && !self.sets_left(team) {
                    self.teams[team].wipe_since.get_or_insert(self.now);
                }
            }
            let (benches, rows) = (self.free(true), self.free(false));
            let first = self.line.iter().copied().find(|team| self.anybody(*team));
            match (first, benches.first(), rows.first()) {
                (Some(team), Some(bench), Some(row)) => self.take(team, *bench, *row),
                _ => return,
            }
        }
    }

    fn late_join_in(&mut self) {
        for person in 0..self.people.len() {
            let p = &self.people[person];
            if !p.here || !p.late || p.lift.is_some() || p.sets.len() < 2 || self.teams[team_of(person)].over
            {
                continue;
            }
            let until = self.round_of_others(person).unwrap_or(1);
            while self.people[person].sets.len() / 2 < until {
                self.leaves_out(person, 'm');
            }
            self.people[person].late = false;
        }
    }
}
