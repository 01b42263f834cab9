//! The block a group has in hand: which sets it has, in which order, and when each may start.

use turnabout_protocol::card::{GearKind, LoadCard};
use turnabout_protocol::ids::{ClientId, GroupId, StationId, TurnId};
use turnabout_protocol::units::{FloorMs, Mass, Millis};
use turnabout_protocol::view::{After, Need};

use super::config::{GroupPlan, Settings, Station};
use super::state::{ClientNow, GroupNow, State, StationNow};
use crate::training::block::{Block, Leg};
use crate::training::exercise::Exercise;

/// A group with the block it has in hand. Whoever holds one has a group whose session is not over.
#[derive(Clone, Copy, Debug)]
pub struct InHand<'s> {
    /// The floor.
    pub state: &'s State,
    /// The group.
    pub id: GroupId,
    /// Its plan.
    pub plan: &'s GroupPlan,
    /// Its present.
    pub group: &'s GroupNow,
    /// The block.
    pub block: &'s Block,
}

/// When a set that has not begun may start, and what the client does until then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Coming {
    /// What the client does until then.
    pub after: After,
    /// The first repetition starts no earlier.
    pub earliest: FloorMs,
    /// When the client is told to be ready: `earliest`, moved by every NOT YET.
    pub ready: FloorMs,
    /// From when GO is taken.
    pub go_from: FloorMs,
}

impl<'s> InHand<'s> {
    /// The block that a group has in hand; nothing for an unknown group or one whose session is over.
    #[must_use]
    pub fn of(state: &'s State, id: GroupId) -> Option<Self> {
        let (plan, group) = state.group(id)?;
        let block = group.block_of(plan)?;
        Some(Self { state, id, plan, group, block })
    }

    /// How many sets each client has in this block, technique sets included.
    #[must_use]
    pub fn sets(&self) -> usize {
        (usize::from(self.block.rounds) + 1) * self.block.legs.len()
    }

    /// The place of a set among its client's; nothing where the block has no such set.
    #[must_use]
    pub fn place(&self, turn: TurnId) -> Option<usize> {
        let known = turn.group == self.id
            && turn.block == self.group.block
            && usize::from(turn.leg) < self.block.legs.len()
            && turn.round <= self.block.rounds
            && self.group.clients.contains_key(&turn.client);
        known.then(|| usize::from(turn.round) * self.block.legs.len() + usize::from(turn.leg))
    }

    /// The set at a place; nothing past the last.
    #[must_use]
    pub fn turn(&self, client: ClientId, place: usize) -> Option<TurnId> {
        let legs = self.block.legs.len();
        if place >= self.sets() {
            return None;
        }
        let round = u8::try_from(place / legs).ok()?;
        let leg = u8::try_from(place % legs).ok()?;
        Some(TurnId { group: self.id, client, block: self.group.block, round, leg })
    }

    /// What is so for a client of the group.
    #[must_use]
    pub fn client(&self, client: ClientId) -> Option<&'s ClientNow> {
        self.group.clients.get(&client)
    }

    /// The set that comes next for a client, after the one under way if there is one.
    #[must_use]
    pub fn next(&self, client: ClientId) -> Option<TurnId> {
        let now = self.client(client)?;
        self.turn(client, now.sets.len() + usize::from(now.current.is_some()))
    }

    /// The exercise of a set as prescribed.
    #[must_use]
    pub fn leg(&self, turn: TurnId) -> Option<&'s Leg> {
        self.block.legs.get(usize::from(turn.leg))
    }

    /// The exercise of a set.
    #[must_use]
    pub fn exercise(&self, turn: TurnId) -> Option<&'s Exercise> {
        self.state.floor.exercises.get(&self.leg(turn)?.exercise)
    }

    /// The station that the group reserved for a set.
    #[must_use]
    pub fn station(&self, turn: TurnId) -> Option<StationId> {
        self.group.claim.as_ref()?.stations.get(usize::from(turn.leg)).copied()
    }

    /// That station as the floor file has it and as it is now.
    #[must_use]
    pub fn station_now(&self, turn: TurnId) -> Option<(&'s Station, &'s StationNow)> {
        let id = self.station(turn)?;
        Some((self.state.floor.stations.get(&id)?, self.state.stations.get(&id)?))
    }

    /// Target repetitions of a set.
    #[must_use]
    pub fn reps(&self, turn: TurnId) -> Option<u8> {
        let leg = self.leg(turn)?;
        if turn.round == 0 {
            return Some(leg.technique_reps);
        }
        Some(leg.sets.get(&turn.client)?.reps)
    }

    /// The load of a set from now on; nothing where the exercise has none.
    #[must_use]
    pub fn load(&self, turn: TurnId) -> Option<Mass> {
        let prescribed = self.leg(turn)?.sets.get(&turn.client)?;
        let now = self.client(turn.client)?.legs.get(usize::from(turn.leg));
        match (turn.round, now) {
            (0, Some(now)) => now.technique_load,
            (0, None) => prescribed.technique_load,
            (_, Some(now)) => now.load,
            (_, None) => prescribed.load,
        }
    }

    /// Whether a coach has passed the technique set of this exercise.
    #[must_use]
    pub fn technique_passed(&self, turn: TurnId) -> bool {
        let leg = |c: &ClientNow| c.legs.get(usize::from(turn.leg)).is_some_and(|l| l.passed.is_some());
        self.client(turn.client).is_some_and(leg)
    }

    /// From GO to the first repetition: get set, then 3-2-1.
    #[must_use]
    pub fn lead(&self, turn: TurnId) -> Millis {
        self.get_set(turn) + Settings::COUNT_IN.millis()
    }

    /// From GO to the 3-2-1.
    #[must_use]
    pub fn get_set(&self, turn: TurnId) -> Millis {
        let settings = &self.state.floor.settings;
        let spotted = self.exercise(turn).is_some_and(|e| e.spotted());
        if spotted { settings.get_set_spotted } else { settings.get_set }.millis()
    }

    /// When the next set of a client may start. Nothing where no stations are reserved or all are done.
    #[must_use]
    pub fn coming(&self, client: ClientId) -> Option<Coming> {
        let turn = self.next(client)?;
        let now = self.client(client)?;
        let taken = self.group.claim.as_ref()?.taken.when;
        let ended = now.current.map(|u| u.ends).or(now.sets.last().map(|s| s.ended));
        let since = ended.unwrap_or(taken);
        let (after, earliest) = match (turn.round, turn.leg) {
            (_, 1..) => {
                let limit = since + self.block.changeover + now.down;
                (After::Changeover { since, limit }, since)
            }
            // The technique sets are light: no rest is due after them.
            (0 | 1, 0) => (After::Nothing, since),
            (_, 0) => {
                let latest = since + self.block.rest_max;
                (After::Rest { since, latest }, since + self.block.rest_min)
            }
        };
        let ready = now.put_off.map_or(earliest, |put_off| put_off.max(earliest));
        let go_from = (earliest - self.lead(turn)).max(since);
        Some(Coming { after, earliest, ready, go_from })
    }

    /// The sets that come next at a station, in the order in which they are to be done: the client who has
    /// done fewer rounds first, then who is ready first, then who is named first in the group.
    #[must_use]
    pub fn queue(&self, station: StationId) -> Vec<(TurnId, Coming)> {
        let coming = |client: &ClientId| {
            let turn = self.next(*client).filter(|turn| self.station(*turn) == Some(station))?;
            Some((turn, self.coming(*client)?))
        };
        let mut queue: Vec<_> = self.plan.clients.iter().filter_map(coming).collect();
        queue.sort_by_key(|(turn, coming)| (turn.round, coming.ready));
        queue
    }

    /// What must happen before the next set of a client can start, in the usual order.
    #[must_use]
    pub fn needs(&self, turn: TurnId) -> Vec<Need> {
        let Some((station, at)) = self.station_now(turn) else {
            return vec![Need::Stations];
        };
        let mut needs = Vec::new();
        if self.group.halt.is_some() {
            needs.push(Need::Resume);
        }
        if turn.round > 0 && !self.technique_passed(turn) {
            needs.push(Need::TechniquePass);
        }
        if self.must_be_racked_before(turn).is_some() {
            needs.push(Need::Racked);
        }
        if at.on.is_some_and(|on| on.client != turn.client) {
            needs.push(Need::StationFree);
        }
        if station.gear.kind() == GearKind::Bar && !self.card(turn).is_none_or(|card| card.confirmed) {
            needs.push(Need::ConfirmLoad);
        }
        let spotted = self.exercise(turn).is_some_and(|e| e.spotted());
        if spotted && self.client(turn.client).is_none_or(|c| c.spotter.is_none()) {
            needs.push(Need::Spotter);
        }
        needs
    }

    /// A set of the same client that somebody must say is racked before this one can start: GO at the next
    /// station says it of a set without a spotter, but a spotter is free only by a tap of its own.
    #[must_use]
    pub fn must_be_racked_before(&self, turn: TurnId) -> Option<TurnId> {
        let current = self.client(turn.client)?.current?;
        let same_place = self.station(turn) == Some(current.station);
        (current.turn != turn && (current.spotter.is_some() || same_place)).then_some(current.turn)
    }

    /// How to set the load of a set; nothing where there is none.
    #[must_use]
    pub fn card(&self, turn: TurnId) -> Option<LoadCard> {
        let total = self.load(turn)?;
        let Some((station, at)) = self.station_now(turn) else {
            let exercise = self.exercise(turn)?;
            let unit = turnabout_protocol::units::MassUnit::Kg;
            return Some(LoadCard { total, unit, gear: exercise.gear, on_now: None, confirmed: false });
        };
        let gear = station.gear.kind();
        let set = at.load == Some(total);
        let confirmed = set && (gear != GearKind::Bar || at.confirmed.is_some());
        Some(LoadCard { total, unit: station.gear.unit(), gear, on_now: at.load, confirmed })
    }
}
