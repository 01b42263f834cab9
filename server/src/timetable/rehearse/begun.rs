//! What has happened so far.

use crate::timetable::instance::{Instance, Load, Turn};

/// How many seconds from now a turn is taken to end that should have ended by now.
const OVERDUE: u32 = 3;

/// A turn that has begun.
#[derive(Clone, Copy, Debug)]
pub(super) struct Begun<'i> {
    /// What was expected of it.
    pub(super) turn: &'i Turn,
    pub(super) station: usize,
    pub(super) start: u32,
    /// When it ends, which nobody knows before.
    pub(super) end: u32,
    /// When the times in hand take it to end.
    pub(super) taken: u32,
}

impl Begun<'_> {
    /// When it is taken to end at `now`: when it did, as expected, or shortly where that is over.
    pub(super) fn seen(&self, now: u32) -> u32 {
        let expected = self.start + self.turn.length.0;
        match (self.end <= now, expected <= now) {
            (true, _) => self.end,
            (false, true) => now + OVERDUE,
            (false, false) => expected,
        }
    }

    /// When its spotter is taken to be free.
    pub(super) fn spotted_until(&self, now: u32) -> Option<u32> {
        let spot = self.turn.spot?;
        let end = self.seen(now);
        Some(if spot.to == self.turn.length { end } else { end.min(self.start + spot.to.0) })
    }

    /// The next instant at which it is not as taken: it ends, or it should have.
    pub(super) fn differs_at(&self) -> Option<u32> {
        (self.end != self.taken).then(|| self.end.min(self.taken))
    }
}

/// How far a member is.
#[derive(Clone, Copy, Debug)]
pub(super) struct Progress<'i> {
    pub(super) group: usize,
    pub(super) member: usize,
    /// The first round of which not every leg has begun, and its first leg that has not.
    pub(super) round: usize,
    pub(super) leg: usize,
    /// The last turn begun since the evening began.
    pub(super) last: Option<Begun<'i>>,
    /// Turns begun since then.
    pub(super) turns: usize,
}

/// What has happened of an evening.
pub(super) struct Happened<'i> {
    pub(super) instance: &'i Instance,
    real: &'i Instance,
    pub(super) now: u32,
    pub(super) members: Vec<Progress<'i>>,
    /// By station the last turn there, and by coach the last one spotted.
    pub(super) at_stations: Vec<Option<Begun<'i>>>,
    pub(super) by_coaches: Vec<Option<Begun<'i>>>,
    /// What is on each station.
    pub(super) loads: Vec<Option<Load>>,
}

impl<'i> Happened<'i> {
    pub(super) fn new(instance: &'i Instance, real: &'i Instance) -> Self {
        let groups = instance.groups.iter().enumerate();
        let all = groups.flat_map(|(g, group)| (0..group.members.len()).map(move |m| (g, m)));
        let members = all.map(|(group, member)| {
            let leg = instance.groups[group].members[member].under_way.map_or(0, |way| way.legs_done);
            Progress { group, member, round: 0, leg, last: None, turns: 0 }
        });
        Self {
            instance,
            real,
            now: instance.now.0,
            members: members.collect(),
            at_stations: vec![None; instance.stations.len()],
            by_coaches: vec![None; instance.coaches.len()],
            loads: instance.stations.iter().map(|station| station.load.clone()).collect(),
        }
    }

    /// Whether a member's next turn begins a round.
    pub(super) fn begins_round(&self, who: usize) -> bool {
        let Progress { group, member, round, leg, .. } = self.members[who];
        let rounds = &self.instance.groups[group].members[member].rounds;
        rounds.get(round).is_some_and(|round| round.legs[..leg].iter().all(Option::is_none))
    }

    /// Lets a member begin the next turn now, at one of these stations, by leg.
    pub(super) fn begin(&mut self, who: usize, stations: &[u16]) {
        let at = self.members[who];
        let instance = self.instance;
        let round = &instance.groups[at.group].members[at.member].rounds[at.round];
        let next =
            round.legs.iter().enumerate().skip(at.leg).find_map(|(leg, turn)| Some((leg, turn.as_ref()?)));
        let Some((leg, turn)) = next else { return };
        let real = &self.real.groups[at.group].members[at.member].rounds[at.round].legs[leg];
        let length = real.as_ref().map_or(turn.length, |turn| turn.length);
        let (station, start) = (usize::from(stations[leg]), self.now);
        let begun = Begun { turn, station, start, end: start + length.0, taken: start + turn.length.0 };
        self.at_stations[station] = Some(begun);
        if turn.load.is_some() {
            self.loads[station].clone_from(&turn.load);
        }
        if turn.spot.is_some() {
            self.by_coaches[round.coach.unwrap_or(instance.groups[at.group].coach)] = Some(begun);
        }
        let done = round.legs[leg + 1..].iter().all(Option::is_none);
        let (next_round, next_leg) = if done { (at.round + 1, 0) } else { (at.round, leg + 1) };
        self.members[who] =
            Progress { round: next_round, leg: next_leg, last: Some(begun), turns: at.turns + 1, ..at };
    }

    /// Takes every turn under way to end when it is now seen to.
    pub(super) fn look(&mut self) {
        let now = self.now;
        let members = self.members.iter_mut().filter_map(|member| member.last.as_mut());
        for begun in members {
            begun.taken = begun.seen(now);
        }
    }
}
