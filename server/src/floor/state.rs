//! What is so on the floor. Ordered maps and integers only, so that it can be hashed, model-checked and
//! compared byte for byte.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use turnabout_protocol::command::{CallKind, Effort};
use turnabout_protocol::ids::{CallId, ClientId, CoachId, GroupId, StationId, TurnId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Mass, Millis};
use turnabout_protocol::view::{HaltKind, Stage};

use super::config::{Floor, GroupPlan, Programme};
use crate::training::block::Block;

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
    /// Which instant of UTC which floor time is.
    pub clock: ClockMapping,
    /// What is so at each station of the floor.
    pub stations: BTreeMap<StationId, StationNow>,
    /// Where each group of the programme is.
    pub groups: BTreeMap<GroupId, GroupNow>,
    /// Calls that nobody has attended.
    pub calls: BTreeMap<CallId, CallNow>,
    /// The highest call number ever given.
    pub last_call: u32,
}

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

/// What is so at a station.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct StationNow {
    /// The group that has reserved it.
    pub claim: Option<GroupId>,
    /// The set that occupies it, until it is said to be racked.
    pub on: Option<TurnId>,
    /// What is on its gear, as far as anybody has said.
    pub load: Option<Mass>,
    /// Who confirmed that load, equal sides and collars; gone with every change of plates.
    pub confirmed: Option<Stamp>,
}

/// Where a group is.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct GroupNow {
    /// Counts every edit of claims, blocks and loads.
    pub revision: u32,
    /// The block in hand; past the last block the session is over.
    pub block: u8,
    /// Its reserved stations.
    pub claim: Option<Claim>,
    /// Since when all sets of the block are done.
    pub wipe_down: Option<FloorMs>,
    /// It is held.
    pub halt: Option<Halt>,
    /// Its clients.
    pub clients: BTreeMap<ClientId, ClientNow>,
}

/// Reserved stations, one for each exercise of the block.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Claim {
    /// In the order of the exercises.
    pub stations: Vec<StationId>,
    /// Who took them, and when.
    pub taken: Stamp,
}

/// A group is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Halt {
    /// How.
    pub kind: HaltKind,
    /// By whom, and since when.
    pub since: Stamp,
}

/// Where a client is in the block in hand. Sets are done in a fixed order: the technique sets of all
/// exercises, then round after round.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct ClientNow {
    /// Sets that are over, in order.
    pub sets: Vec<SetRecord>,
    /// The set under way.
    pub current: Option<UnderWay>,
    /// What is particular to each exercise; empty while no stations are reserved.
    pub legs: Vec<LegNow>,
    /// NOT YET moved the coming start to here.
    pub put_off: Option<FloorMs>,
    /// The coach who is at the bar for the coming set.
    pub spotter: Option<AtBar>,
    /// How much of the time since the last set the server was down: changeover limits move by it.
    pub down: Millis,
}

/// A coach who is at a bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct AtBar {
    /// Who.
    pub coach: CoachId,
    /// Who said so, and when.
    pub said: Stamp,
}

/// What is particular to one exercise of one client.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct LegNow {
    /// The working load from now on.
    pub load: Option<Mass>,
    /// The load of the technique set.
    pub technique_load: Option<Mass>,
    /// Who passed the technique set.
    pub passed: Option<Stamp>,
}

/// A set under way: from GO until somebody says that it is racked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct UnderWay {
    /// The set.
    pub turn: TurnId,
    /// Where.
    pub station: StationId,
    /// Who said GO, and when.
    pub went: Stamp,
    /// When the 3-2-1 begins.
    pub count_in: FloorMs,
    /// When the first repetition starts.
    pub starts: FloorMs,
    /// When it is prescribed to end.
    pub ends: FloorMs,
    /// Target repetitions.
    pub reps: u8,
    /// The load.
    pub load: Option<Mass>,
    /// Who spots it, busy until it is racked.
    pub spotter: Option<CoachId>,
    /// Its prescribed end has come and nobody has said anything.
    pub assumed: bool,
}

/// A set that is over.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct SetRecord {
    /// When the first repetition started.
    pub started: FloorMs,
    /// When it ended.
    pub ended: FloorMs,
    /// Repetitions done.
    pub reps: u8,
    /// The load.
    pub load: Option<Mass>,
    /// How it felt.
    pub effort: Option<Effort>,
    /// Who said that it was over, and when.
    pub done: Stamp,
}

/// A call that nobody has attended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct CallNow {
    /// Where.
    pub station: StationId,
    /// How urgent.
    pub kind: CallKind,
    /// Who made it, and when.
    pub made: Stamp,
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
            clock: ClockMapping::default(),
            stations: BTreeMap::new(),
            groups: BTreeMap::new(),
            calls: BTreeMap::new(),
            last_call: 0,
        }
    }

    /// The plan and the present of a group.
    #[must_use]
    pub fn group(&self, group: GroupId) -> Option<(&GroupPlan, &GroupNow)> {
        Some((self.programme.groups.get(&group)?, self.groups.get(&group)?))
    }

    /// The set that a coach spots now; it keeps the coach busy until it is racked.
    #[must_use]
    pub fn spotted_by(&self, coach: CoachId) -> Option<TurnId> {
        self.under_way().find(|u| u.spotter == Some(coach)).map(|u| u.turn)
    }

    /// Whether a coach stands at a bar for a set that has not begun.
    #[must_use]
    pub fn at_a_bar(&self, coach: CoachId) -> bool {
        let mut clients = self.groups.values().flat_map(|g| g.clients.values());
        clients.any(|c| c.spotter.is_some_and(|spotter| spotter.coach == coach))
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

impl GroupNow {
    /// A group at the start of its session.
    #[must_use]
    pub fn new(plan: &GroupPlan) -> Self {
        Self {
            revision: 0,
            block: 0,
            claim: None,
            wipe_down: None,
            halt: None,
            clients: plan.clients.iter().map(|c| (*c, ClientNow::default())).collect(),
        }
    }

    /// The block in hand; nothing once the session is over.
    #[must_use]
    pub fn block_of<'p>(&self, plan: &'p GroupPlan) -> Option<&'p Block> {
        plan.blocks.get(usize::from(self.block))
    }

    /// Where the group is in its evening.
    #[must_use]
    pub fn stage(&self, plan: &GroupPlan) -> Stage {
        let Some(block) = self.block_of(plan) else { return Stage::Finished };
        if self.claim.is_none() {
            Stage::Waiting
        } else if self.wipe_down.is_some() {
            Stage::WipeDown
        } else if self.clients.values().any(|c| c.sets.len() < block.legs.len()) {
            Stage::Technique
        } else {
            Stage::Rounds
        }
    }

    /// Whether its session has begun and is not over, so that its plan is fixed.
    #[must_use]
    pub fn in_progress(&self, plan: &GroupPlan) -> bool {
        (self.block > 0 || self.claim.is_some()) && self.block_of(plan).is_some()
    }
}
