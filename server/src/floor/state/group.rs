//! Where a group is.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use turnabout_protocol::ids::{ClientId, CoachId, GroupId, StationId, TurnId};
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::{HaltKind, Stage};

use super::{ClientNow, Presence, SetOver, SetRecord, Stamp};
use crate::floor::config::GroupPlan;
use crate::floor::event::FirstLoads;
use crate::training::block::Block;

/// Where a group is.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct GroupNow {
    /// The coach who is responsible now.
    pub coach: CoachId,
    /// A hand-over that has not been agreed to.
    pub offer: Option<Offer>,
    /// How it came to this coach, where another had it before.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub handed: Option<Handed>,
    /// Counts every edit of claims, blocks and loads.
    pub revision: u32,
    /// The block in hand; past the last block the session is over.
    pub block: u8,
    /// How many blocks the session has now.
    pub blocks: u8,
    /// Working rounds of blocks that have other than planned.
    pub rounds: BTreeMap<u8, u8>,
    /// Its reserved stations.
    pub claim: Option<Claim>,
    /// Stations it has got ahead for the next block.
    pub ahead: Option<Claim>,
    /// Since when all sets of the block are done.
    pub wipe_down: Option<FloorMs>,
    /// It is held.
    pub halt: Option<Halt>,
    /// When anybody last said anything of it.
    pub heard: FloorMs,
    /// When its coach was warned that nothing had been heard of it.
    pub warned: Option<FloorMs>,
    /// Nobody came.
    pub no_show: bool,
    /// How much of the time since its planned start the server was down: waiting for those who are late moves by it.
    pub down: Millis,
    /// Its clients.
    pub clients: BTreeMap<ClientId, ClientNow>,
    /// What was done in earlier blocks of the evening, one for each.
    pub past: Vec<PastBlock>,
}

/// Reserved stations, one for each exercise of the block.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Claim {
    /// In the order of the exercises; one may serve two of them.
    pub stations: Vec<StationId>,
    /// Who took them, and when.
    pub taken: Stamp,
    /// The loads with which each exercise of the block begins.
    pub loads: Vec<FirstLoads>,
}

/// A hand-over that has not been agreed to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Offer {
    /// Who would be responsible.
    pub to: CoachId,
    /// Who has to agree: the one who would have it, or the one who has it.
    pub asks: CoachId,
    /// Who offered or asked, and when.
    pub said: Stamp,
}

/// A hand-over that was agreed to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Handed {
    /// Who was responsible before.
    pub from: CoachId,
    /// Who agreed, and when.
    pub agreed: Stamp,
}

/// A group is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Halt {
    /// How.
    pub kind: HaltKind,
    /// By whom, and since when.
    pub since: Stamp,
}

/// A block that is over.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct PastBlock {
    /// Its place in the session.
    pub block: u8,
    /// How many exercises it had, so that a place among a client's sets is a round and an exercise.
    pub legs: u8,
    /// What each client did, in order, and light sets beside the order.
    pub clients: BTreeMap<ClientId, PastClient>,
}

/// What a client did in a block that is over.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct PastClient {
    /// Sets in order.
    pub sets: Vec<SetOver>,
    /// Light sets that were done once more.
    pub again: Vec<(TurnId, SetRecord)>,
}

impl PastBlock {
    /// The place of a set among its client's.
    #[must_use]
    pub fn place(&self, turn: TurnId) -> Option<usize> {
        let known = turn.block == self.block && turn.leg < self.legs;
        known.then(|| usize::from(turn.round) * usize::from(self.legs) + usize::from(turn.leg))
    }

    /// The set at a place: the reverse of [`PastBlock::place`]. Nothing where the block had no exercise.
    #[must_use]
    pub fn turn(&self, group: GroupId, client: ClientId, place: usize) -> Option<TurnId> {
        let legs = usize::from(self.legs);
        let round = u8::try_from(place.checked_div(legs)?).ok()?;
        let leg = u8::try_from(place.checked_rem(legs)?).ok()?;
        Some(TurnId { group, client, block: self.block, round, leg })
    }
}

impl GroupNow {
    /// A group at the start of its session.
    #[must_use]
    pub fn new(plan: &GroupPlan, now: FloorMs) -> Self {
        Self {
            coach: plan.coach,
            offer: None,
            handed: None,
            revision: 0,
            block: 0,
            blocks: u8::try_from(plan.blocks.len()).unwrap_or(u8::MAX),
            rounds: BTreeMap::new(),
            claim: None,
            ahead: None,
            wipe_down: None,
            halt: None,
            heard: now,
            warned: None,
            no_show: false,
            down: Millis::default(),
            clients: plan.clients.iter().map(|c| (*c, ClientNow::default())).collect(),
            past: Vec::new(),
        }
    }

    /// The block in hand; nothing once the session is over.
    #[must_use]
    pub fn block_of<'p>(&self, plan: &'p GroupPlan) -> Option<&'p Block> {
        if self.block >= self.blocks { None } else { plan.blocks.get(usize::from(self.block)) }
    }

    /// How many working rounds a block has now.
    #[must_use]
    pub fn rounds_of(&self, plan: &GroupPlan, block: u8) -> u8 {
        let planned = plan.blocks.get(usize::from(block)).map_or(0, |block| block.rounds);
        self.rounds.get(&block).copied().unwrap_or(planned)
    }

    /// Where the group is in its evening.
    #[must_use]
    pub fn stage(&self, plan: &GroupPlan) -> Stage {
        let Some(block) = self.block_of(plan) else { return Stage::Finished };
        let light = |c: &ClientNow| c.is_here() && c.sets.len() < block.legs.len();
        if self.claim.is_none() {
            self.stage_without_stations()
        } else if self.wipe_down.is_some() {
            Stage::WipeDown
        } else if self.clients.values().any(light) {
            Stage::Technique
        } else {
            Stage::Rounds
        }
    }

    fn stage_without_stations(&self) -> Stage {
        let here = || self.clients.values().filter(|c| c.is_here());
        let gone = || self.clients.values().any(|c| matches!(c.presence, Presence::Left(_)));
        if here().next().is_none() && gone() {
            Stage::Gone
        } else if here().next().is_none() {
            Stage::Expected
        } else if here().any(|c| c.before.warmed_up.is_none() && c.before.briefed.is_none()) {
            Stage::WarmUp
        } else if here().any(|c| c.before.briefed.is_none()) {
            Stage::Briefing
        } else {
            Stage::Waiting
        }
    }

    /// Whether it has or had stations this evening: whoever comes now comes late.
    #[must_use]
    pub const fn has_begun(&self) -> bool {
        self.block > 0 || self.claim.is_some()
    }

    /// Whether its session has begun and is not over, so that its plan is fixed.
    #[must_use]
    pub fn in_progress(&self, plan: &GroupPlan) -> bool {
        self.has_begun() && self.block_of(plan).is_some()
    }

    /// Whether the group has a use for a station: for the block in hand, for a client of it alone, or for the
    /// next block.
    #[must_use]
    pub fn uses(&self, station: StationId) -> bool {
        self.uses_now(station) || self.ahead.as_ref().is_some_and(|claim| claim.stations.contains(&station))
    }

    /// Whether the group has a use for a station for the block in hand, or for a client of it alone.
    #[must_use]
    pub fn uses_now(&self, station: StationId) -> bool {
        let Some(claim) = &self.claim else { return false };
        let mut legs = self.clients.values().flat_map(|c| &c.legs);
        claim.stations.contains(&station) || legs.any(|leg| leg.elsewhere == Some(station))
    }

    /// A set of the group that is under way.
    #[must_use]
    pub fn under_way(&self) -> Option<TurnId> {
        self.clients.values().find_map(|c| c.current).map(|u| u.turn)
    }

    /// A spotted set of the group that is under way.
    #[must_use]
    pub fn spotted_under_way(&self) -> Option<TurnId> {
        self.clients.values().filter_map(|c| c.current).find(|u| u.spotter.is_some()).map(|u| u.turn)
    }
}
