//! What is so on the floor. Ordered maps and integers only, so that it can be hashed, model-checked and
//! compared byte for byte.

mod client;
mod group;
mod history;
mod news;
mod promise;
mod record;
mod station;

use std::collections::{BTreeMap, VecDeque};

use serde::{Deserialize, Serialize};
use turnabout_protocol::command::{CallKind, NoteAbout, Spotter};
use turnabout_protocol::ids::{CallId, ClientId, CoachId, GroupId, Key, NoteId, StationId, TurnId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::StationState;

pub use self::client::{
    AtBar, Before, ClientNow, LegNow, Presence, RAN_OVER, RestCut, SettledLoad, UnderWay,
};
pub use self::group::{Claim, GroupNow, Halt, Handed, Offer, PastBlock, PastClient};
pub use self::history::{Visit, Visited, Visits};
pub use self::news::{MOST_NEWS, News, NewsItem};
pub use self::promise::Promise;
pub use self::record::{Answer, Said, SetOver, SetRecord};
pub use self::station::{Leave, Missing, OtherUse, OutOfService, StationNow};
use super::config::{Floor, GroupPlan, Programme};
use super::in_hand::InHand;
use super::pace::Paces;

/// Everything the floor knows.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct State {
    /// The last entry it includes; 0 before the first.
    pub sequence: u64,
    /// When that was taken down.
    pub recorded: FloorMs,
    /// The floor as its file says.
    pub floor: Floor,
    /// The evening as the programme says.
    pub programme: Programme,
    /// Whose word the programme is.
    #[serde(default)]
    pub source: ProgrammeSource,
    /// When the evening began: the entry that named its day, or the first of the journal.
    pub began: FloorMs,
    /// Which instant of UTC which floor time is.
    pub clock: ClockMapping,
    /// What is so at each station of the floor.
    pub stations: BTreeMap<StationId, StationNow>,
    /// Plates that are missing of trees which stations share, by the tree's key; the heaviest kind first.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub trees: BTreeMap<Key, Vec<Missing>>,
    /// Where each group of the programme is.
    pub groups: BTreeMap<GroupId, GroupNow>,
    /// What is so for each coach of the floor.
    pub coaches: BTreeMap<CoachId, CoachNow>,
    /// Groups that wait for stations, in the order in which they are served.
    pub line: Vec<Ask>,
    /// How stations are set for clients: by client and station, the place of each setting's value. Kept from
    /// evening to evening.
    pub settings: BTreeMap<ClientId, BTreeMap<StationId, BTreeMap<u8, u8>>>,
    /// What clients did on earlier evenings.
    pub visits: Visits,
    /// How fast clients went on earlier evenings.
    pub paces: Paces,
    /// What people have been told of coming sets, in the order of the sets, one for each client at most.
    pub promises: Vec<Promise>,
    /// Calls that nobody has taken care of.
    pub calls: BTreeMap<CallId, CallNow>,
    /// The highest call number ever given.
    pub last_call: u32,
    /// Notes of the evening, the latest [`MOST_NOTES`] of them.
    pub notes: BTreeMap<NoteId, NoteNow>,
    /// The highest note number ever given.
    pub last_note: u32,
    /// What has happened lately, the latest last; [`MOST_NEWS`] at most.
    pub news: VecDeque<NewsItem>,
}

/// Whose word the programme is: a file's, or that of a coach who has entered it on a page.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct ProgrammeSource {
    /// The entry that set the programme; 0 before the first. Whoever changes it names the one that was seen.
    pub revision: u64,
    /// Who set it, and when; nobody before the first.
    pub set: Option<Stamp>,
    /// What the file said that was taken last, where a coach has entered something since. Without it a file that has
    /// not changed would throw away at the next start what was entered.
    pub file: Option<Box<Programme>>,
}

impl ProgrammeSource {
    /// Whether what a coach has entered stands over a file that says this: it says what it said when it was taken.
    #[must_use]
    pub fn stands_over(&self, file: &Programme) -> bool {
        self.file.as_deref() == Some(file)
    }
}

/// Notes kept in view; older ones are in the journal.
pub const MOST_NOTES: usize = 200;

/// Floor time against UTC and against clocks at the floor.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct ClockMapping {
    /// This floor time ...
    pub floor: FloorMs,
    /// ... is that many milliseconds after 1970-01-01T00:00:00Z.
    pub utc_ms: i64,
    /// Seconds that clocks at the floor are east of UTC from then on.
    pub offset_secs: i32,
    /// When that last changed, if it is known.
    pub change: Option<OffsetChange>,
}

/// Clocks at the floor were set forward or back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct OffsetChange {
    /// When, in milliseconds after 1970-01-01T00:00:00Z.
    pub utc_ms: i64,
    /// Seconds that they were east of UTC until then.
    pub before_secs: i32,
}

/// Who did something, and when the floor took it down.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Stamp {
    /// Who.
    pub by: Actor,
    /// When.
    pub when: FloorMs,
}

/// A coach of the floor.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct CoachNow {
    /// Away until about then, and who said so.
    pub away: Option<Away>,
}

/// A coach is away.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Away {
    /// Until about then.
    pub until: FloorMs,
    /// Who said so, and when.
    pub said: Stamp,
}

/// A group that waits for the stations of a block.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Ask {
    /// The group.
    pub group: GroupId,
    /// The block: the one in hand, or the next while the last round of the one in hand is done.
    pub block: u8,
    /// Who asked, and when.
    pub asked: Stamp,
}

/// A note, without its text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct NoteNow {
    /// What it is about.
    pub about: NoteAbout,
    /// Who wrote it, and when.
    pub written: Stamp,
    /// Who erased its text, and when.
    pub erased: Option<Stamp>,
}

impl NoteNow {
    /// The group it is about, or whose people or set it is about.
    #[must_use]
    pub const fn group(&self) -> Option<GroupId> {
        match self.about {
            NoteAbout::Incident { .. } | NoteAbout::Station { .. } => None,
            NoteAbout::Group { group } | NoteAbout::Client { group, .. } => Some(group),
            NoteAbout::Set { turn } => Some(turn.group),
        }
    }

    /// Whether a coach reads it: notes about stations and incidents are every coach's, one about a group belongs
    /// to the coach who is responsible for the group now, and to nobody where the group is gone.
    #[must_use]
    pub fn concerns(&self, state: &State, coach: CoachId) -> bool {
        let own = |group| state.groups.get(&group).is_some_and(|group| group.coach == coach);
        self.group().is_none_or(own)
    }
}

/// A call that nobody has taken care of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct CallNow {
    /// Where.
    pub station: StationId,
    /// How urgent.
    pub kind: CallKind,
    /// Who made it, and when.
    pub made: Stamp,
    /// Who is on the way, and since when.
    pub answered: Option<Stamp>,
}

impl State {
    /// A floor of which nothing is known yet.
    #[must_use]
    pub fn new() -> Self {
        Self {
            sequence: 0,
            recorded: FloorMs::default(),
            floor: Floor::unknown(),
            programme: Programme::default(),
            source: ProgrammeSource::default(),
            began: FloorMs::default(),
            clock: ClockMapping::default(),
            stations: BTreeMap::new(),
            trees: BTreeMap::new(),
            groups: BTreeMap::new(),
            coaches: BTreeMap::new(),
            line: Vec::new(),
            settings: BTreeMap::new(),
            visits: Visits::new(),
            paces: Paces::new(),
            promises: Vec::new(),
            calls: BTreeMap::new(),
            last_call: 0,
            notes: BTreeMap::new(),
            last_note: 0,
            news: VecDeque::new(),
        }
    }

    /// The plan and the present of a group.
    #[must_use]
    pub fn group(&self, group: GroupId) -> Option<(&GroupPlan, &GroupNow)> {
        Some((self.programme.groups.get(&group)?, self.groups.get(&group)?))
    }

    /// The set that somebody spots at `now`: it keeps the spotter busy until it is racked, or, where that was
    /// chosen for this one set, until its first repetition.
    #[must_use]
    pub fn spotted_by(&self, spotter: Spotter, now: FloorMs) -> Option<TurnId> {
        if spotter == Spotter::Arms {
            return None;
        }
        let busy = |u: &&UnderWay| u.spotter == Some(spotter) && !(u.lift_off && now >= u.starts);
        self.under_way().find(busy).map(|u| u.turn)
    }

    /// The group with which a client trains: there, and its session is not over. Of that there is one at most.
    #[must_use]
    pub fn trains_with(&self, client: ClientId) -> Option<GroupId> {
        let here = |id: &GroupId| {
            let now = self.group(*id).filter(|(plan, group)| group.block_of(plan).is_some());
            now.and_then(|(_, group)| group.clients.get(&client)).is_some_and(ClientNow::is_here)
        };
        self.groups.keys().copied().find(here)
    }

    /// Whether somebody stands at a bar for a set that has not begun.
    #[must_use]
    pub fn at_a_bar(&self, who: Spotter) -> bool {
        let mut clients = self.groups.values().flat_map(|g| g.clients.values());
        clients.any(|c| c.spotter.is_some_and(|spotter| spotter.who == who))
    }

    /// The call for help that a coach or an assistant has gone to.
    #[must_use]
    pub fn on_call(&self, who: Actor) -> Option<CallId> {
        let gone = |call: &CallNow| {
            call.kind == CallKind::HelpNow && call.answered.is_some_and(|answered| answered.by == who)
        };
        self.calls.iter().find(|(_, call)| gone(call)).map(|(id, _)| *id)
    }

    /// The call of somebody who needs help now at one of these stations: nothing begins there until it has been
    /// taken care of.
    #[must_use]
    pub fn help_call(&self, stations: &[StationId]) -> Option<CallId> {
        let here = |call: &CallNow| call.kind == CallKind::HelpNow && stations.contains(&call.station);
        self.calls.iter().find(|(_, call)| here(call)).map(|(id, _)| *id)
    }

    /// Whether somebody needs help now at one of these stations.
    #[must_use]
    pub fn help_at(&self, stations: &[StationId]) -> bool {
        self.help_call(stations).is_some()
    }

    /// The place of a group in the wait list, from 0.
    #[must_use]
    pub fn place_in_line(&self, group: GroupId) -> Option<usize> {
        self.line.iter().position(|ask| ask.group == group)
    }

    /// Every station a group may use: those of its block and those it has got ahead for the next.
    #[must_use]
    pub fn held_by(&self, group: GroupId) -> Vec<StationId> {
        let held = |s: &StationNow| s.claim == Some(group) || s.work_in == Some(group);
        self.stations.iter().filter(|(_, s)| held(s)).map(|(id, _)| *id).collect()
    }

    /// What a station is used for. Stations got ahead for the next block are not wiped down after this one.
    #[must_use]
    pub fn station_state(&self, id: StationId, station: &StationNow) -> StationState {
        if station.out.is_some() {
            return StationState::OutOfService;
        }
        if station.other_use.is_some() {
            return StationState::OtherUse;
        }
        let Some(group) = station.claim else { return StationState::Free };
        if station.on.is_some() {
            StationState::InUse
        } else if self.groups.get(&group).is_some_and(|g| g.wipe_down.is_some() && g.uses_now(id)) {
            StationState::WipeDown
        } else {
            StationState::Reserved
        }
    }

    /// When a group is to start, where its plan says.
    #[must_use]
    pub fn starts_at(&self, group: GroupId) -> Option<FloorMs> {
        let starts = self.programme.groups.get(&group)?.starts?;
        Some(self.clock.day_at(self.programme.day?, starts))
    }

    /// When a group that nothing is heard of is given up: it has been warned, and has stations, a place in the
    /// wait list, or nobody who has come.
    #[must_use]
    pub fn lapses_at(&self, group: GroupId) -> Option<FloorMs> {
        let now = self.groups.get(&group)?;
        let waits = now.claim.is_some() || self.place_in_line(group).is_some();
        let settings = &self.floor.settings;
        let after = if waits { settings.lapse } else { settings.no_show };
        Some(now.warned? + after)
    }

    /// By when a group must end, where its plan says.
    #[must_use]
    pub fn ends_at(&self, group: GroupId) -> Option<FloorMs> {
        let ends = self.programme.groups.get(&group)?.ends?;
        Some(self.clock.day_at(self.programme.day?, ends))
    }

    /// From an instant on: that instant, and later on the same day every one at which other hours begin, of
    /// the floor or of its rules for members.
    pub fn hours_from(&self, at: FloorMs) -> impl Iterator<Item = FloorMs> {
        let today = self.clock.local(at);
        let rules = self.floor.policy.members.iter().map(|rule| &rule.hours);
        let windows = rules.chain([&self.floor.hours]).flat_map(move |hours| hours.windows(today.weekday));
        let mut changes: Vec<FloorMs> = windows
            .flat_map(|window| [window.from(), window.to()])
            .map(|minute| self.clock.today_at(at, minute))
            .filter(|change| *change > at)
            .collect();
        changes.sort_unstable();
        std::iter::once(at).chain(changes)
    }

    /// The record of a set of the evening, of the block in hand or of an earlier one. Of a light set that was
    /// done more than once the last.
    #[must_use]
    pub fn record(&self, turn: TurnId) -> Option<&SetRecord> {
        let group = self.groups.get(&turn.group)?;
        let (sets, again, place) = if turn.block == group.block {
            let client = group.clients.get(&turn.client)?;
            (&client.sets, &client.again, InHand::of(self, turn.group)?.place(turn)?)
        } else {
            let past = group.past.iter().find(|past| past.block == turn.block)?;
            let client = past.clients.get(&turn.client)?;
            (&client.sets, &client.again, past.place(turn)?)
        };
        let beside = again.iter().rev().find(|(id, _)| *id == turn).map(|(_, record)| record);
        beside.or_else(|| sets.get(place).and_then(SetOver::done))
    }

    /// All sets under way.
    pub fn under_way(&self) -> impl Iterator<Item = &UnderWay> {
        self.groups.values().flat_map(|g| g.clients.values()).filter_map(|c| c.current.as_ref())
    }
}

impl Default for State {
    fn default() -> Self {
        Self::new()
    }
}
