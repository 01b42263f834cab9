//! Who is who in a plan: positions in its lists, and what they are on the floor.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};
use turnabout_protocol::ids::{ClientId, CoachId, GroupId, StationId, TurnId};
use turnabout_protocol::units::FloorMs;

use super::axis::Axis;
use super::group::Planned;
use crate::timetable::instance::At;

/// A round of a client in the block in hand, in the order in which they are done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RoundKey {
    /// The light sets that the coach watches.
    Technique,
    /// Light sets nearer to the first working load.
    Ramp,
    /// A working round, from 1.
    Working(u8),
}

impl RoundKey {
    /// The number of such a round in the name of a set.
    #[must_use]
    pub const fn round(self) -> u8 {
        match self {
            Self::Technique | Self::Ramp => 0,
            Self::Working(round) => round,
        }
    }

    /// Whether no rest is due before it, nor after it.
    #[must_use]
    pub const fn is_light(self) -> bool {
        matches!(self, Self::Technique | Self::Ramp)
    }
}

/// The stations and coaches of a plan, each list in ascending order.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Places {
    pub(super) stations: Vec<StationId>,
    pub(super) coaches: Vec<CoachId>,
}

impl Places {
    /// All that these groups may need.
    pub(super) fn of(planned: &[Planned<'_>]) -> Self {
        let stations: BTreeSet<StationId> = planned.iter().flat_map(Planned::stations).collect();
        let coaches: BTreeSet<CoachId> = planned.iter().flat_map(Planned::coaches).collect();
        Self { stations: stations.into_iter().collect(), coaches: coaches.into_iter().collect() }
    }

    pub(super) fn station(&self, id: StationId) -> Option<usize> {
        self.stations.binary_search(&id).ok()
    }

    pub(super) fn coach(&self, id: CoachId) -> Option<usize> {
        self.coaches.binary_search(&id).ok()
    }
}

/// One group of a plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct GroupWho {
    pub(super) group: GroupId,
    pub(super) block: u8,
    /// Whether it has its stations.
    pub(super) has_stations: bool,
    pub(super) members: Vec<MemberWho>,
}

/// One client of a plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct MemberWho {
    pub(super) client: ClientId,
    pub(super) rounds: Vec<RoundKey>,
    /// The first leg of the first round that is not done.
    pub(super) first_leg: usize,
    /// The set that it is on the floor: what comes next for the client.
    pub(super) next: TurnId,
}

impl MemberWho {
    /// The number of a round that is left, in the names of its sets. The first goes by the set that comes next: whoever
    /// came late still has the round before that of the others, until the floor moves them on.
    fn round(&self, place: usize) -> Option<u8> {
        let key = self.rounds.get(place)?;
        Some(if place == 0 { self.next.round } else { key.round() })
    }
}

/// Which position in a plan is what on the floor.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Who {
    pub(super) axis: Axis,
    pub(super) places: Places,
    pub(super) groups: Vec<GroupWho>,
}

/// The place of a turn in a plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TurnPlace {
    /// The position of its group.
    pub group: usize,
    /// The position of its client in the group.
    pub member: usize,
    /// The position of its round among those that are left of the client's.
    pub round: usize,
    /// The position of its exercise.
    pub leg: usize,
}

impl Who {
    /// The instant of a second.
    #[must_use]
    pub fn instant(&self, at: At) -> FloorMs {
        self.axis.instant(at)
    }

    /// The second of an instant, rounded up.
    #[must_use]
    pub fn second(&self, at: FloorMs) -> At {
        self.axis.up(at)
    }

    /// Whether anybody has something else left to do than in another plan.
    #[must_use]
    pub fn differs(&self, other: &Self) -> bool {
        self.groups != other.groups
    }

    /// The stations, by position.
    #[must_use]
    pub fn stations(&self) -> &[StationId] {
        &self.places.stations
    }

    /// The position of a station.
    #[must_use]
    pub fn station(&self, id: StationId) -> Option<usize> {
        self.places.station(id)
    }

    /// The coaches, by position.
    #[must_use]
    pub fn coaches(&self) -> &[CoachId] {
        &self.places.coaches
    }

    /// The position of a coach.
    #[must_use]
    pub fn coach(&self, id: CoachId) -> Option<usize> {
        self.places.coach(id)
    }

    /// The groups, by position.
    pub fn groups(&self) -> impl ExactSizeIterator<Item = GroupId> {
        self.groups.iter().map(|who| who.group)
    }

    /// The position of a group.
    #[must_use]
    pub fn group(&self, id: GroupId) -> Option<usize> {
        self.groups.iter().position(|who| who.group == id)
    }

    /// The block that a group has in hand.
    #[must_use]
    pub fn block(&self, group: usize) -> Option<u8> {
        Some(self.groups.get(group)?.block)
    }

    /// Whether a group has its stations; the others wait for theirs.
    #[must_use]
    pub fn has_stations(&self, group: usize) -> bool {
        self.groups.get(group).is_some_and(|who| who.has_stations)
    }

    /// The clients of a group, by position.
    pub fn clients(&self, group: usize) -> impl Iterator<Item = ClientId> {
        self.groups.get(group).into_iter().flat_map(|who| &who.members).map(|member| member.client)
    }

    /// The position of a client in a group.
    #[must_use]
    pub fn client(&self, group: usize, id: ClientId) -> Option<usize> {
        self.groups.get(group)?.members.iter().position(|member| member.client == id)
    }

    /// The rounds that are left of a client's, by position.
    #[must_use]
    pub fn rounds(&self, group: usize, member: usize) -> &[RoundKey] {
        self.member(group, member).map_or(&[], |member| &member.rounds)
    }

    /// The set that comes next for a client: the first turn of the first round that is left.
    #[must_use]
    pub fn next(&self, group: usize, member: usize) -> Option<(TurnPlace, TurnId)> {
        let who = self.member(group, member)?;
        Some((TurnPlace { group, member, round: 0, leg: who.first_leg }, who.next))
    }

    /// The set at a place; nothing where there is none, or it is done.
    #[must_use]
    pub fn turn(&self, place: TurnPlace) -> Option<TurnId> {
        let member = self.member(place.group, place.member)?;
        let (group, block) = self.groups.get(place.group).map(|who| (who.group, who.block))?;
        if place.round == 0 && place.leg <= member.first_leg {
            return (place.leg == member.first_leg).then_some(member.next);
        }
        let round = member.round(place.round)?;
        Some(TurnId { group, client: member.client, block, round, leg: u8::try_from(place.leg).ok()? })
    }

    /// The place of a set that is not done. Of light sets with one name the first that is left.
    #[must_use]
    pub fn place(&self, turn: TurnId) -> Option<TurnPlace> {
        let group = self.group(turn.group).filter(|group| self.block(*group) == Some(turn.block))?;
        let member = self.client(group, turn.client)?;
        let who = self.member(group, member)?;
        if who.next == turn {
            return Some(TurnPlace { group, member, round: 0, leg: who.first_leg });
        }
        let leg = usize::from(turn.leg);
        let is_it =
            |place: &usize| who.round(*place) == Some(turn.round) && (*place > 0 || leg > who.first_leg);
        let round = (0..who.rounds.len()).find(is_it)?;
        Some(TurnPlace { group, member, round, leg })
    }

    fn member(&self, group: usize, member: usize) -> Option<&MemberWho> {
        self.groups.get(group)?.members.get(member)
    }
}
