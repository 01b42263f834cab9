//! What began later than a coach's people had been told, and what it waited for.

use std::collections::{BTreeMap, BTreeSet};

use turnabout_protocol::command::Spotter;
use turnabout_protocol::ids::{CallId, ClientId, CoachId, GroupId, StationId, TurnId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis, Secs};

use crate::floor::event::{Entry, Event};
use crate::floor::evolve::evolve;
use crate::floor::in_hand::InHand;
use crate::floor::state::State;

/// A start so much after what was told first to the second is late: people take some seconds to begin, and who starts a clock
/// by hand is off by as much. Common practice, no source.
const OFF: Secs = Secs(10);
/// A call that nobody has answered for so long waits. Common practice, no source.
const ANSWERED: Secs = Secs(30);

/// Something that was late.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Late {
    /// When it was to be.
    pub due: FloorMs,
    /// By how much it was late.
    pub by: Millis,
    /// What.
    pub what: What,
}

/// What was late.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// A set.
    Set {
        /// Which.
        turn: TurnId,
        /// Where.
        station: StationId,
        /// It was the light set nearer to the working load.
        ramp: bool,
        /// What it waited for last.
        after: After,
    },
    /// The answer to a call.
    Call {
        /// Where.
        station: StationId,
    },
}

/// What a set waited for last, once its start had come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum After {
    /// The set before at the station was not over, or nobody had said so.
    Station {
        /// Which.
        before: TurnId,
        /// It was the light set nearer to the working load.
        ramp: bool,
    },
    /// A coach had not let the group or the client go on.
    Resumed,
    /// Nobody had passed the light set.
    Technique,
    /// Nobody had confirmed the load.
    Load,
    /// Nobody was at the bar.
    Spotter,
    /// Somebody put it off.
    PutOff {
        /// Who.
        by: Actor,
    },
    /// The exercises had not been explained.
    Briefed,
    /// The public used the station.
    OtherUse,
    /// The group was another coach's.
    HandedOver,
    /// The coach who said GO stood at another bar.
    AtAnother {
        /// Whose set that was.
        set: TurnId,
    },
    /// Nothing: GO was said late.
    Go {
        /// Who said it.
        by: Actor,
    },
}

impl After {
    /// Whether it was for `coach` to do something: what clients say and do at their displays, what the floor does, and what
    /// another bar asks for is not.
    #[must_use]
    pub fn is_of(self, coach: CoachId) -> bool {
        match self {
            Self::Station { .. } | Self::OtherUse | Self::HandedOver | Self::AtAnother { .. } => false,
            Self::Resumed | Self::Technique | Self::Load | Self::Spotter | Self::Briefed => true,
            Self::PutOff { by } | Self::Go { by } => by == Actor::Coach { coach },
        }
    }
}

/// What a coach was responsible for, and what of it was late.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lateness {
    /// What was late, in the order in which it was due.
    pub late: Vec<Late>,
    /// Sets of the coach's groups that were begun, late or not.
    pub sets: usize,
}

/// What was late of what `coach` is responsible for, in the order in which it was due: sets of the coach's groups against
/// the start that was told to the second first, and calls from stations that these have.
#[must_use]
pub fn late(entries: &[Entry], coach: CoachId) -> Lateness {
    let mut seen = Seen::of(coach);
    // Only what the floor knew when a light set began says which of the two it was.
    let mut floor = State::new();
    for entry in entries {
        if let Event::TurnWent { turn, .. } = &entry.event {
            seen.ramp = InHand::of(&floor, turn.group).is_some_and(|hand| hand.is_ramp(*turn));
        }
        seen.take(entry);
        evolve(&mut floor, entry);
    }
    seen.late.sort_by_key(|late| late.due);
    Lateness { late: seen.late, sets: seen.begun.len() }
}

struct Seen {
    coach: CoachId,
    groups: BTreeMap<GroupId, CoachId>,
    stations: BTreeMap<StationId, GroupId>,
    /// What was told first to the second of sets that have not begun.
    told: BTreeMap<TurnId, FloorMs>,
    /// What sets that have not begun waited for last.
    turns: BTreeMap<TurnId, (FloorMs, After)>,
    /// The set that begins now is the light one nearer to the working load.
    ramp: bool,
    /// Of which set a station was free last, whether it was such a light one, and when that was said.
    freed: BTreeMap<StationId, (FloorMs, TurnId, bool)>,
    /// Where sets under way are, and whether they are such light ones.
    under_way: BTreeMap<TurnId, (StationId, bool)>,
    resumed: BTreeMap<GroupId, FloorMs>,
    /// When each client's exercises were explained.
    briefed: BTreeMap<ClientId, FloorMs>,
    /// When a group came to the coach.
    came: BTreeMap<GroupId, FloorMs>,
    /// Until when the public used a station last.
    used: BTreeMap<StationId, FloorMs>,
    /// The last set that the coach spotted to its end, and when that was.
    spotted: Option<(FloorMs, TurnId)>,
    /// The sets under way that the coach spots.
    spots: BTreeSet<TurnId>,
    calls: BTreeMap<CallId, (FloorMs, StationId)>,
    late: Vec<Late>,
    /// Sets of the coach's groups by when they were begun: a light set that is done once more is another.
    begun: BTreeSet<(TurnId, FloorMs)>,
}

impl Seen {
    const fn of(coach: CoachId) -> Self {
        Self {
            coach,
            groups: BTreeMap::new(),
            stations: BTreeMap::new(),
            told: BTreeMap::new(),
            turns: BTreeMap::new(),
            ramp: false,
            freed: BTreeMap::new(),
            under_way: BTreeMap::new(),
            resumed: BTreeMap::new(),
            briefed: BTreeMap::new(),
            came: BTreeMap::new(),
            used: BTreeMap::new(),
            spotted: None,
            spots: BTreeSet::new(),
            calls: BTreeMap::new(),
            late: Vec::new(),
            begun: BTreeSet::new(),
        }
    }

    fn take(&mut self, entry: &Entry) {
        let at = entry.at;
        // Nothing else says what a set waits for, or when.
        if let Event::ProgrammeSet(programme) = &entry.event {
            self.groups = programme.groups.iter().map(|(id, plan)| (*id, plan.coach)).collect();
        } else if let Event::GroupHandedOver { group, to, .. } = &entry.event {
            self.groups.insert(*group, *to);
            self.came.insert(*group, at);
        } else if let Event::ClientsBriefed { clients, .. } = &entry.event {
            self.briefed.extend(clients.iter().map(|client| (*client, at)));
        } else if let Event::OtherUseBegan { station, until } = &entry.event {
            self.used.insert(*station, *until);
        } else if let Event::OtherUseEnded { station } = &entry.event {
            self.used.insert(*station, at);
        } else if let Event::StationsTaken { group, stations, .. } = &entry.event {
            self.stations.extend(stations.iter().map(|station| (*station, *group)));
        } else if let Event::Promised { made, taken_back } = &entry.event {
            self.told.retain(|turn, _| !taken_back.contains(turn));
            for promise in made.iter().filter(|promise| !promise.about) {
                self.told.entry(promise.turn).or_insert(promise.start);
            }
        } else if let Event::TechniquePassed { turn } = &entry.event {
            // Passed is a light set; who waits for it is the same client.
            let waits = self.told.keys().find(|told| told.client == turn.client && told.group == turn.group);
            self.turns.extend(waits.map(|waits| (*waits, (at, After::Technique))));
        } else if let Event::LoadConfirmed { turn, .. } = &entry.event {
            self.turns.insert(*turn, (at, After::Load));
        } else if let Event::SpotterNamed { turn, .. } = &entry.event {
            self.turns.insert(*turn, (at, After::Spotter));
        } else if let Event::StartPutOff { turn, ready } = &entry.event {
            self.turns.insert(*turn, ((*ready).max(at), After::PutOff { by: entry.by }));
        } else if let Event::GroupResumed { group } | Event::ClientResumed { group, .. } = &entry.event {
            self.resumed.insert(*group, at);
        } else if let Event::TurnWent { turn, station, spotter, .. } = &entry.event {
            self.went(*turn, *station, entry);
            if *spotter == Some(Spotter::Coach { coach: self.coach }) {
                self.spots.insert(*turn);
            }
        } else if let Event::TurnCalledOff { turn } = &entry.event {
            self.under_way.remove(turn);
            self.spots.remove(turn);
            let began = self.begun.range((*turn, FloorMs(0))..=(*turn, at)).next_back().copied();
            began.map(|began| self.begun.remove(&began));
        } else if let Event::TurnDone { turn, .. } = &entry.event {
            if self.spots.remove(turn) {
                self.spotted = Some((at, *turn));
            }
            if let Some((station, ramp)) = self.under_way.remove(turn) {
                self.freed.insert(station, (at, *turn, ramp));
            }
        } else {
            self.call(entry);
        }
    }

    fn went(&mut self, turn: TurnId, station: StationId, entry: &Entry) {
        let (at, by_whom) = (entry.at, entry.by);
        let ramp = self.ramp;
        self.under_way.insert(turn, (station, ramp));
        let own = self.turns.remove(&turn);
        let told = self.told.remove(&turn);
        if self.groups.get(&turn.group) != Some(&self.coach) {
            return;
        }
        self.begun.insert((turn, at));
        let Some(due) = told else { return };
        let by = at.since(due);
        if by <= OFF.millis() {
            return;
        }
        let freed = self.freed.get(&station).copied();
        let freed = freed.map(|(at, before, ramp)| (at, After::Station { before, ramp }));
        let resumed = self.resumed.get(&turn.group).map(|at| (*at, After::Resumed));
        let briefed = self.briefed.get(&turn.client).map(|at| (*at, After::Briefed));
        let came = self.came.get(&turn.group).map(|at| (*at, After::HandedOver));
        let used = self.used.get(&station).map(|until| (*until.min(&at), After::OtherUse));
        // What keeps whoever says GO at another bar keeps nobody who says it at a display.
        let says = by_whom == Actor::Coach { coach: self.coach };
        let stood = self.spotted.filter(|_| says).map(|(at, set)| (at, After::AtAnother { set }));
        let causes = [stood, came, used, briefed, freed, resumed, own];
        let causes = causes.into_iter().flatten().filter(|(when, _)| *when > due);
        // Whoever could go for longer than people take to do so was not told to.
        let last = causes.max_by_key(|(when, _)| *when).filter(|(when, _)| at.since(*when) <= by_half(by));
        let after = last.map_or(After::Go { by: by_whom }, |(_, after)| after);
        self.late.push(Late { due, by, what: What::Set { turn, station, ramp, after } });
    }

    fn call(&mut self, entry: &Entry) {
        if let Event::CallMade { call, station, .. } = &entry.event {
            self.calls.insert(*call, (entry.at, *station));
        } else if let Event::CallTakenBack { call } = &entry.event {
            self.calls.remove(call);
        } else if let Event::CallAnswered { call } | Event::CallAttended { call } = &entry.event
            && let Some((since, station)) = self.calls.remove(call)
        {
            let group = self.stations.get(&station).and_then(|group| self.groups.get(group));
            let mine = group == Some(&self.coach) || entry.by == Actor::Coach { coach: self.coach };
            let due = since + ANSWERED.millis();
            let by = entry.at.since(due);
            if mine && by > Millis(0) {
                self.late.push(Late { due, by, what: What::Call { station } });
            }
        }
    }
}

/// Half of the time by which something was late.
const fn by_half(by: Millis) -> Millis {
    Millis(by.0 / 2)
}
