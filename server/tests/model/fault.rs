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
use turnabout_server::floor::state::{SetOver, Stamp, State};

use crate::floor::Scenario;
use crate::scenarios;

/// A mistake somebody could make.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fault {
    /// Of two stations wanted, the one that is free is taken and the other waited for.
    OneByOne,
    /// A coach who spots is taken for free.
    DoubleSpot,
    /// A client who spots may lift.
    LiftsWhileSpotting,
    /// A client who lifts is taken for a spotter.
    SpotsWhileLifting,
    /// A station on which somebody is busy is taken for free.
    DoubleStation,
    /// A station that is out of service is used.
    BrokenStation,
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
    /// Whoever asks for stations does not look at the line.
    Overtakes,
    /// When the first in line cannot be served, the next who can is.
    SkipsTheFirst,
    /// Nobody in line is ever served.
    NobodyServed,
    /// Stations are free a millisecond before the time for wiping down is over.
    FreeEarly,
    /// Stations are free only after the millisecond at which they should be.
    FreeLate,
    /// A silent group is given up a millisecond before its time.
    LapseEarly,
    /// A silent group is given up only after the millisecond at which it should be.
    LapseLate,
    /// The same claim again is a new claim.
    ClaimedAgain,
    /// A group that is stopped stays stopped.
    NoResume,
}

impl Fault {
    pub(crate) const ALL: [Self; 20] = [
        Self::OneByOne,
        Self::DoubleSpot,
        Self::LiftsWhileSpotting,
        Self::SpotsWhileLifting,
        Self::DoubleStation,
        Self::BrokenStation,
        Self::ShortRest,
        Self::AnyLoad,
        Self::OldConfirmation,
        Self::FloorSaysGo,
        Self::AssumedFrees,
        Self::Overtakes,
        Self::SkipsTheFirst,
        Self::NobodyServed,
        Self::FreeEarly,
        Self::FreeLate,
        Self::LapseEarly,
        Self::LapseLate,
        Self::ClaimedAgain,
        Self::NoResume,
    ];

    /// The property that this must break, and an evening in which it can be made.
    pub(crate) fn breaks(self) -> (&'static str, Scenario) {
        match self {
            Self::OneByOne => ("all stations or none", scenarios::two_groups()),
            Self::DoubleSpot => ("one bar a spotter", scenarios::two_groups()),
            Self::LiftsWhileSpotting | Self::SpotsWhileLifting => {
                ("one bar a spotter", scenarios::spotting_each_other())
            }
            Self::DoubleStation => ("one set a station", scenarios::pair_alone()),
            Self::BrokenStation => ("one set a station", scenarios::out_of_use()),
            Self::ShortRest => ("rest is kept", scenarios::pair_alone()),
            Self::AnyLoad => ("loads are confirmed", scenarios::two_groups()),
            Self::OldConfirmation => ("loads are confirmed", scenarios::same_load()),
            Self::FloorSaysGo => ("no countdown starts a set", scenarios::two_groups()),
            Self::AssumedFrees => ("what is assumed frees nothing", scenarios::two_groups()),
            Self::Overtakes | Self::SkipsTheFirst => ("nobody is overtaken", scenarios::different_wishes()),
            Self::NobodyServed => ("nobody waits in vain", scenarios::in_line()),
            Self::FreeEarly | Self::FreeLate => ("what is due happens on time", scenarios::same_load()),
            Self::LapseEarly | Self::LapseLate => ("what is due happens on time", scenarios::silent()),
            Self::ClaimedAgain => ("once is once", scenarios::two_groups()),
            Self::NoResume => ("never stuck", scenarios::held_back()),
        }
    }

    /// Decides with the mistake; `right` is what the core says.
    pub(crate) fn decide(self, state: &State, tap: &Tap, now: FloorMs, right: Verdict) -> Verdict {
        let on = |other: &State| decide(other, tap, now);
        match (self, &right, &tap.act) {
            (Self::OneByOne, Verdict::Refused(Refusal::StationTaken { .. }), Act::TakeStations { .. }) => {
                free_ones(state, &tap.act).unwrap_or(right)
            }
            (Self::DoubleSpot, Verdict::Refused(Refusal::SpotterBusy { .. }), Act::Go { .. })
            | (Self::LiftsWhileSpotting, Verdict::Refused(Refusal::ClientSpots { .. }), Act::Go { .. }) => {
                on(&nobody_spots(state))
            }
            (Self::SpotsWhileLifting, Verdict::Refused(Refusal::SpotterLifts { .. }), _) => {
                on(&nobody_lifts(state))
            }
            (Self::DoubleStation, Verdict::Refused(Refusal::StationBusy { .. }), Act::Go { .. }) => {
                on(&nobody_on(state))
            }
            (Self::BrokenStation, Verdict::Refused(Refusal::NotInService { .. }), Act::Go { .. }) => {
                on(&all_in_service(state))
            }
            (Self::ShortRest, Verdict::Refused(Refusal::RestNotOver { .. }), Act::Go { .. }) => {
                on(&long_rested(state))
            }
            (Self::AnyLoad, Verdict::Refused(Refusal::LoadNotConfirmed), Act::Go { .. }) => {
                on(&all_loaded(state, tap))
            }
            (Self::Overtakes, Verdict::Refused(Refusal::InLine { .. }), _) => {
                on(&State { line: Vec::new(), ..state.clone() })
            }
            (Self::ClaimedAgain, Verdict::Already(_), Act::TakeStations { group, block, stations, .. }) => {
                let (group, block, stations) = (*group, *block, stations.clone());
                Verdict::Accepted(vec![Event::StationsTaken { group, block, stations, despite: None }])
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
            Self::SkipsTheFirst => right.or_else(|| {
                let others = state.line.get(1..).unwrap_or_default().to_vec();
                due::due(&State { line: others, ..state.clone() }, now).filter(admits)
            }),
            Self::NobodyServed => right.filter(|due| !admits(due)),
            Self::FreeEarly | Self::LapseEarly => right.or_else(|| {
                let early = due::due(state, now + MOMENT).filter(|due| self.is_about(due))?;
                Some(Due { at: early.at - MOMENT, ..early })
            }),
            Self::FreeLate | Self::LapseLate => right.filter(|due| !self.is_about(due) || due.at < now),
            _ => right,
        }
    }

    /// When the floor must look again, with the mistake.
    pub(crate) fn next_wake(self, state: &State) -> Option<FloorMs> {
        let right = due::next_wake(state)?;
        let early = matches!(self, Self::FreeEarly | Self::LapseEarly);
        let early = early && due::due(state, right).is_some_and(|due| self.is_about(&due));
        Some(if early { right - MOMENT } else { right })
    }

    /// Whether that is what happens at the wrong time.
    fn is_about(self, due: &Due) -> bool {
        due.events.iter().any(|event| match event {
            Event::StationsFreed { .. } => matches!(self, Self::FreeEarly | Self::FreeLate),
            Event::GroupLapsed { .. } => matches!(self, Self::LapseEarly | Self::LapseLate),
            _ => false,
        })
    }
}

/// The smallest step of floor time.
const MOMENT: Millis = Millis(1);

fn admits(due: &Due) -> bool {
    due.events.iter().any(|event| matches!(event, Event::StationsTaken { .. }))
}

fn free_ones(state: &State, act: &Act) -> Option<Verdict> {
    let Act::TakeStations { group, block, stations, .. } = act else { return None };
    let free = |station: &StationId| state.stations[station].claim.is_none();
    let stations: Vec<_> = stations.iter().copied().filter(free).collect();
    let taken =
        Event::StationsTaken { group: *group, block: *block, stations: stations.clone(), despite: None };
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

fn nobody_lifts(state: &State) -> State {
    let mut state = state.clone();
    for client in state.groups.values_mut().flat_map(|group| group.clients.values_mut()) {
        client.current = None;
    }
    state
}

fn all_in_service(state: &State) -> State {
    let mut state = state.clone();
    for station in state.stations.values_mut() {
        station.out = None;
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
        for record in client.sets.iter_mut().filter_map(SetOver::done_mut) {
            record.ended = FloorMs(0);
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
