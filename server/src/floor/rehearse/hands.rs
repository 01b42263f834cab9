//! Where people are and until when, which no display knows: how long a set really takes, when a client is off a station,
//! how long it takes to walk over and to set a load.

use std::collections::BTreeMap;

use turnabout_protocol::command::{Act, Spotter};
use turnabout_protocol::ids::{ClientId, CoachId, StationId, TurnId};
use turnabout_protocol::units::{FloorMs, Millis, Secs};

use super::moment::Moment;
use super::real::Real;
use crate::floor::in_hand::InHand;
use crate::floor::outlook::{Cuts, begun, change, walk};
use crate::floor::state::{State, UnderWay};

/// Somebody stood at a station until then.
#[derive(Clone, Copy, Debug)]
struct Stood {
    at: StationId,
    until: FloorMs,
}

pub(super) struct Hands {
    real: Real,
    cuts: Cuts,
    clients: BTreeMap<ClientId, Stood>,
    coaches: BTreeMap<CoachId, Stood>,
    stations: BTreeMap<StationId, FloorMs>,
    /// Of a set whose end is about to be tapped: who is free then.
    ending: Option<(UnderWay, Option<CoachId>)>,
}

impl Hands {
    pub(super) fn new(real: Real) -> Self {
        Self {
            real,
            cuts: Cuts::default(),
            clients: BTreeMap::new(),
            coaches: BTreeMap::new(),
            stations: BTreeMap::new(),
            ending: None,
        }
    }

    /// How long somebody takes over a tap for a turn.
    pub(super) fn moment(&self, moment: Moment, turn: TurnId) -> Millis {
        self.real.moment(moment, turn)
    }

    /// When a set under way of a group has its last repetition.
    pub(super) fn ends(&self, hand: &InHand<'_>, set: &UnderWay) -> FloorMs {
        set.starts + self.real.work(begun(hand, set))
    }

    /// From when a client can be at a station.
    pub(super) fn client_at(&self, state: &State, client: ClientId, station: StationId) -> FloorMs {
        there(state, self.clients.get(&client), station)
    }

    /// From when a coach who has nothing in hand can be at a station.
    pub(super) fn coach_at(&self, state: &State, coach: CoachId, station: StationId) -> FloorMs {
        there(state, self.coaches.get(&coach), station)
    }

    /// Since when a station on which nobody is can be used.
    pub(super) fn station(&self, station: StationId) -> FloorMs {
        self.stations.get(&station).copied().unwrap_or_default()
    }

    /// How long it takes to set the load of a coming set from what is there.
    pub(super) fn change(&mut self, hand: &InHand<'_>, turn: TurnId) -> Secs {
        change(hand, turn, &mut self.cuts)
    }

    /// Somebody is about to tap something: whom it sets free is known only before.
    pub(super) fn before(&mut self, state: &State, act: &Act) {
        let Act::Done { turn, .. } = act else { return self.ending = None };
        let set = state.under_way().find(|set| set.turn == *turn);
        self.ending = set.map(|set| (*set, stands_by(state, set)));
    }

    /// Somebody has tapped it.
    pub(super) fn after(&mut self, now: FloorMs) {
        let Some((set, coach)) = self.ending.take() else { return };
        let at = set.station;
        self.clients.insert(set.turn.client, Stood { at, until: now });
        self.stations.insert(at, now);
        if let Some(coach) = coach {
            self.coaches.insert(coach, Stood { at, until: now });
        }
    }
}

fn there(state: &State, stood: Option<&Stood>, station: StationId) -> FloorMs {
    stood.map_or(FloorMs::default(), |stood| stood.until + walk(&state.floor, stood.at, station))
}

/// The coach whom a set under way binds: one who spots, or watches a light set until it has been passed.
pub(super) fn bound(state: &State, set: &UnderWay) -> Option<CoachId> {
    let passed = || InHand::of(state, set.turn.group).is_some_and(|hand| hand.technique_passed(set.turn));
    let spots = matches!(set.spotter, Some(Spotter::Coach { .. }));
    stands_by(state, set).filter(|_| spots || !passed())
}

/// The coach who stands by a set under way.
fn stands_by(state: &State, set: &UnderWay) -> Option<CoachId> {
    if let Some(Spotter::Coach { coach }) = set.spotter {
        return Some(coach);
    }
    state.groups.get(&set.turn.group).filter(|_| set.turn.round == 0).map(|group| group.coach)
}
