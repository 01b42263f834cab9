//! Mistakes planted in the core, each of which the checker must find.
//!
//! Most are a check left out: the tap is decided on a state in which what the check looks at is not so, and
//! what comes out happens on the real one.

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::StationId;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_server::floor::decide::{Speaker, Tap, Verdict, decide};
use turnabout_server::floor::due::{self, Due};
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::state::{Stamp, State};

use crate::floor::{self, Scenario};

/// A mistake somebody could make.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fault {
    /// Of two stations wanted, the one that is free is taken and the other waited for.
    OneByOne,
    /// A coach who spots is taken for free.
    DoubleSpot,
    /// A station on which somebody is busy is taken for free.
    DoubleStation,
    /// GO is not held back by the rest.
    ShortRest,
    /// GO does not ask whether the load was confirmed.
    AnyLoad,
    /// Who has stations after somebody else keeps that one's confirmation.
    OldConfirmation,
    /// The floor says GO itself when everything is ready.
    FloorSaysGo,
    /// A set that is only assumed to be over frees its station.
    AssumedFrees,
    /// Stations lapse a millisecond before their time.
    LapseEarly,
    /// Stations lapse only after the millisecond at which they should have.
    LapseLate,
    /// The same claim again is a new claim.
    ClaimedAgain,
    /// A group that is stopped stays stopped.
    NoResume,
}

impl Fault {
    pub(crate) const ALL: [Self; 12] = [
        Self::OneByOne,
        Self::DoubleSpot,
        Self::DoubleStation,
        Self::ShortRest,
        Self::AnyLoad,
        Self::OldConfirmation,
        Self::FloorSaysGo,
        Self::AssumedFrees,
        Self::LapseEarly,
        Self::LapseLate,
        Self::ClaimedAgain,
        Self::NoResume,
    ];

    /// The property that this must break.
    pub(crate) const fn breaks(self) -> &'static str {
        match self {
            Self::OneByOne => "all stations or none",
            Self::DoubleSpot => "one bar a spotter",
            Self::DoubleStation => "one set a station",
            Self::ShortRest => "rest is kept",
            Self::AnyLoad | Self::OldConfirmation => "loads are confirmed",
            Self::FloorSaysGo => "no countdown starts a set",
            Self::AssumedFrees => "what is assumed frees nothing",
            Self::LapseEarly | Self::LapseLate => "what is due happens on time",
            Self::ClaimedAgain => "once is once",
            Self::NoResume => "never stuck",
        }
    }

    /// An evening in which it can be made.
    pub(crate) fn evening(self) -> Scenario {
        match self {
            Self::DoubleStation | Self::ShortRest => floor::pair_alone(),
            Self::OldConfirmation => floor::same_load(),
            Self::NoResume => floor::held_back(),
            Self::OneByOne
            | Self::DoubleSpot
            | Self::AnyLoad
            | Self::FloorSaysGo
            | Self::AssumedFrees
            | Self::LapseEarly
            | Self::LapseLate
            | Self::ClaimedAgain => floor::two_groups(),
        }
    }

    /// Decides with the mistake; `right` is what the core says.
    pub(crate) fn decide(self, state: &State, tap: &Tap, now: FloorMs, right: Verdict) -> Verdict {
        match (self, &right, &tap.act) {
            (Self::OneByOne, Verdict::Refused(Refusal::StationTaken { .. }), Act::TakeStations { .. }) => {
                free_ones(state, &tap.act).unwrap_or(right)
            }
            (Self::DoubleSpot, Verdict::Refused(Refusal::SpotterBusy { .. }), Act::Go { .. }) => {
                decide(&nobody_spots(state), tap, now)
            }
            (Self::DoubleStation, Verdict::Refused(Refusal::StationBusy { .. }), Act::Go { .. }) => {
                decide(&nobody_on(state), tap, now)
            }
            (Self::ShortRest, Verdict::Refused(Refusal::RestNotOver { .. }), Act::Go { .. }) => {
                decide(&long_rested(state), tap, now)
            }
            (Self::AnyLoad, Verdict::Refused(Refusal::LoadNotConfirmed), Act::Go { .. }) => {
                decide(&all_loaded(state, tap), tap, now)
            }
            (Self::ClaimedAgain, Verdict::Already(_), Act::TakeStations { group, block, stations, .. }) => {
                let (group, block, stations) = (*group, *block, stations.clone());
                Verdict::Accepted(vec![Event::StationsTaken { group, block, stations }])
            }
            (Self::NoResume, _, Act::Resume { .. }) => Verdict::Refused(Refusal::NotHalted),
            _ => right,
        }
    }

    /// Takes an entry in with the mistake.
    pub(crate) fn evolve(self, state: &mut State, entry: &Entry) {
        match (self, &entry.event) {
            (Self::OldConfirmation, Event::StationsFreed { .. }) => {
                let confirmed: Vec<_> = state.stations.values().map(|s| s.confirmed).collect();
                evolve(state, entry);
                for (station, confirmed) in state.stations.values_mut().zip(confirmed) {
                    station.confirmed = confirmed;
                }
            }
            (Self::AssumedFrees, Event::TurnAssumed { turn }) => {
                evolve(state, entry);
                for station in state.stations.values_mut() {
                    station.on = station.on.filter(|on| on != turn);
                }
            }
            _ => evolve(state, entry),
        }
    }

    /// What is due with the mistake.
    pub(crate) fn due(self, state: &State, now: FloorMs) -> Option<Due> {
        let right = due::due(state, now);
        match self {
            Self::FloorSaysGo => right.or_else(|| floor_says_go(state, now)),
            Self::LapseEarly => right.or_else(|| {
                let early = due::due(state, now + MOMENT).filter(frees)?;
                Some(Due { at: early.at - MOMENT, ..early })
            }),
            Self::LapseLate => right.filter(|due| !frees(due) || due.at < now),
            _ => right,
        }
    }

    /// When the floor must look again, with the mistake.
    pub(crate) fn next_wake(self, state: &State) -> Option<FloorMs> {
        let right = due::next_wake(state)?;
        let early = self == Self::LapseEarly && due::due(state, right).is_some_and(|due| frees(&due));
        Some(if early { right - MOMENT } else { right })
    }
}

/// The smallest step of floor time.
const MOMENT: Millis = Millis(1);

fn frees(due: &Due) -> bool {
    due.events.iter().any(|event| matches!(event, Event::StationsFreed { .. }))
}

fn free_ones(state: &State, act: &Act) -> Option<Verdict> {
    let Act::TakeStations { group, block, stations, .. } = act else { return None };
    let free = |station: &StationId| state.stations[station].claim.is_none();
    let stations: Vec<_> = stations.iter().copied().filter(free).collect();
    let taken = Event::StationsTaken { group: *group, block: *block, stations: stations.clone() };
    (!stations.is_empty()).then(|| Verdict::Accepted(vec![taken]))
}

fn nobody_spots(state: &State) -> State {
    let mut state = state.clone();
    for client in state.groups.values_mut().flat_map(|group| group.clients.values_mut()) {
        if let Some(set) = &mut client.current {
            set.spotter = None;
        }
    }
    state
}

fn nobody_on(state: &State) -> State {
    let mut state = state.clone();
    for station in state.stations.values_mut() {
        station.on = None;
    }
    state
}

fn long_rested(state: &State) -> State {
    let mut state = state.clone();
    for client in state.groups.values_mut().flat_map(|group| group.clients.values_mut()) {
        if let Some(last) = client.sets.last_mut() {
            last.ended = FloorMs(0);
        }
    }
    state
}

fn all_loaded(state: &State, tap: &Tap) -> State {
    let mut state = state.clone();
    let Act::Go { turn } = tap.act else { return state };
    let load = InHand::of(&state, turn.group).and_then(|hand| hand.load(turn));
    for station in state.stations.values_mut() {
        station.load = load;
        station.confirmed = Some(Stamp { by: Actor::Floor, when: FloorMs(0) });
    }
    state
}

fn floor_says_go(state: &State, now: FloorMs) -> Option<Due> {
    let hands = state.groups.keys().filter_map(|id| InHand::of(state, *id));
    let mut turns = hands.flat_map(|hand| hand.group.clients.keys().filter_map(move |c| hand.next(*c)));
    turns.find_map(|turn| {
        // As if a coach had said it.
        let coach = *state.floor.coaches.keys().next()?;
        let speaker = Speaker { actor: Actor::Coach { coach }, stations: Vec::new() };
        match decide(state, &Tap { speaker, at: now, act: Act::Go { turn } }, now) {
            Verdict::Accepted(events) => Some(Due { at: now, events }),
            Verdict::Already(_) | Verdict::Refused(_) => None,
        }
    })
}
