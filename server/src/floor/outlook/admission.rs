//! What stations a group without any could have, from when, and what that would cost the others.
//!
//! For each such group some ways are looked at: free stations, stations that come free, and stations where it could
//! take turns with the group that has them, where the closed form says that they carry both
//! ([`crate::timetable::rotation::admission`]). The price of a way is the difference of two timetables, one without this
//! group and one with it there, both from the same kept order and both with the same small search. Nobody decides by it:
//! a coach reads it and taps.
//!
//! Looking at the state is quick and done where the state is ([`Errand::of`]); weighing takes some milliseconds a group
//! and needs nothing but what was taken along ([`Errand::weigh`]), so that it can be done anywhere.

mod carries;
mod toll;
mod ways;
mod weigh;

use turnabout_protocol::ids::{GroupId, StationId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Secs};

use self::ways::Way;
use super::ground::Ground;
use super::kept::KeptOrder;
use super::{Cuts, Lengths, Outlook};
use crate::floor::in_hand::InHand;
use crate::floor::state::{Ask, ClientNow, Stamp, State};
use crate::timetable::plan::Plan;

/// How much is looked at. All but the last are what somebody reads on a phone between two sets; our own choice.
pub mod limits {
    /// Groups for which anything is proposed: those who wait in their order, then the others.
    pub const GROUPS: usize = 6;
    /// Ways that are proposed to one group.
    pub const EACH: usize = 3;
    /// Ways of one group that are put into an order and timed.
    pub const TIMED: usize = 64;
    /// Ways of one group that are searched: the best of those.
    pub const SEARCHED: usize = 4;
    /// Orders looked at by each small search. Counted, so that the same floor always leads to the same proposals.
    pub const EVALUATIONS: u64 = 128;
}

/// Stations that a group could have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Admission {
    /// The group.
    pub group: GroupId,
    /// Its block in hand, from 0.
    pub block: u8,
    /// The station of each exercise.
    pub stations: Vec<StationId>,
    /// When its first set would start.
    pub from: FloorMs,
    /// The group with which it would take turns.
    pub works_in: Option<GroupId>,
    /// Which groups would end later or have a longer worst rest, and by how much, whichever is more; the worst first.
    pub longer: Vec<(GroupId, Secs)>,
    /// By how much its own worst rest would be too long.
    pub own_overrun: Secs,
}

/// An admission with the two timetables whose difference is its price.
#[derive(Clone, Debug)]
pub struct Weighed {
    /// What is proposed.
    pub admission: Admission,
    /// The floor without the group.
    pub without: Side,
    /// The floor with it there.
    pub with: Side,
}

/// One side of a comparison.
#[derive(Clone, Debug)]
pub struct Side {
    /// What there is to do.
    pub outlook: Outlook,
    /// When it would be done, and the checker's word on that.
    pub plan: Plan,
}

/// Which groups could have which stations, with all that weighing it needs.
#[derive(Clone, Debug)]
pub struct Errand {
    outlook: Outlook,
    kept: KeptOrder,
    wanting: Vec<Wanting>,
}

/// A group without stations, and its ways to some.
#[derive(Clone, Debug)]
struct Wanting {
    group: GroupId,
    ways: Vec<Way>,
}

impl Errand {
    /// What is to be weighed; nothing where no group could have stations. `kept` is the order in hand.
    #[must_use]
    pub fn of(
        state: &State,
        now: FloorMs,
        kept: &KeptOrder,
        lengths: &dyn Lengths,
        cuts: &mut Cuts,
    ) -> Option<Self> {
        let groups = without_stations(state);
        if groups.is_empty() {
            return None;
        }
        let asked = Stamp { by: Actor::Floor, when: now };
        let new = groups.iter().filter(|hand| state.line.iter().all(|ask| ask.group != hand.id));
        let more: Vec<Ask> = new.map(|hand| Ask { group: hand.id, block: hand.group.block, asked }).collect();
        let outlook = Outlook::with(Ground::of(state, now, lengths), &more, cuts);
        let wanting = groups.iter().filter(|hand| outlook.who.group(hand.id).is_some());
        let wanting: Vec<Wanting> =
            wanting.map(|hand| Wanting { group: hand.id, ways: ways::ways(hand, now, &outlook) }).collect();
        Some(Self { outlook, kept: kept.clone(), wanting })
    }

    /// Works out the prices: by group, the best way first.
    #[must_use]
    pub fn weigh(&self) -> Vec<Weighed> {
        let weighed =
            self.wanting.iter().map(|of| weigh::weigh(&self.outlook, &self.kept, of.group, &of.ways));
        weighed.flatten().collect()
    }
}

/// The groups that could take stations for the block in hand: those who wait, then the others.
fn without_stations(state: &State) -> Vec<InHand<'_>> {
    let place = |id: &GroupId| state.line.iter().position(|ask| ask.group == *id).unwrap_or(usize::MAX);
    let wants =
        |hand: &InHand<'_>| hand.group.claim.is_none() && hand.group.clients.values().any(ClientNow::is_here);
    let mut groups: Vec<InHand<'_>> =
        state.groups.keys().filter_map(|id| InHand::of(state, *id)).filter(wants).collect();
    groups.sort_by_key(|hand| (place(&hand.id), hand.id));
    groups.truncate(limits::GROUPS);
    groups
}
