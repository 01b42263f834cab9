//! What the planted mistakes do.
//!
//! Most are a check left out: the tap is decided on a state in which what the check looks at is not so, and
//! what comes out happens on the real one.

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::{CommandId, GroupId, StationId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_server::floor::decide::{Speaker, Tap, Verdict, decide};
use turnabout_server::floor::due::{self, Due};
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::state::State;
use turnabout_server::floor::undo::{RecentTaps, TappedBy};

use crate::blind::{
    all_give_leave, all_in_reserve, all_in_service, all_lifted_off, all_loaded, long_rested, nobody_has,
    nobody_is_away, nobody_lifts, nobody_on, nobody_spots, nobody_waits, nobody_works_in,
};
use crate::clock::NOW;
use crate::fault::Fault;

impl Fault {
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
            (
                Self::DoubleStation | Self::WorksInMeanwhile,
                Verdict::Refused(Refusal::StationBusy { .. }),
                Act::Go { .. },
            ) => on(&nobody_on(state)),
            (
                Self::BrokenStation,
                Verdict::Refused(Refusal::NotInService { .. }),
                Act::Go { .. } | Act::ConfirmLoad { .. },
            ) => on(&all_in_service(state)),
            (Self::ShortRest, Verdict::Refused(Refusal::RestNotOver { .. }), Act::Go { .. }) => {
                on(&long_rested(state))
            }
            (Self::SkipsRest, Verdict::Refused(Refusal::RestNotOver { .. }), Act::Go { turn })
                if turn.leg > 0 =>
            {
                on(&long_rested(state))
            }
            (Self::AnyLoad, Verdict::Refused(Refusal::LoadNotConfirmed), Act::Go { .. }) => {
                on(&all_loaded(state, tap))
            }
            (Self::Overtakes | Self::WorksInFirst, Verdict::Refused(Refusal::InLine { .. }), _)
            | (Self::SwapsFirst, Verdict::Refused(Refusal::InLine { .. }), Act::SwapStation { .. }) => {
                on(&nobody_waits(state))
            }
            (
                Self::AheadFirst,
                Verdict::Refused(Refusal::InLine { .. }),
                Act::TakeStations { group, block, .. },
            ) if *block > state.groups[group].block => on(&nobody_waits(state)),
            (Self::ClaimedAgain, Verdict::Already(_), Act::TakeStations { group, block, stations, .. }) => {
                let (group, block, stations) = (*group, *block, stations.clone());
                Verdict::Accepted(vec![Event::StationsTaken {
                    group,
                    block,
                    stations,
                    despite: None,
                    loads: Vec::new(),
                }])
            }
            (Self::NoResume, _, Act::Resume { .. }) => Verdict::Refused(Refusal::NotHalted),
            _ => self.replan(state, tap, right, on),
        }
    }

    /// The same for what changes the plan while it is carried out.
    fn replan(self, state: &State, tap: &Tap, right: Verdict, on: impl Fn(&State) -> Verdict) -> Verdict {
        let Verdict::Refused(refusal) = &right else { return self.agreed_at_once(tap, right) };
        match (self, refusal, &tap.act) {
            (Self::WorkInTwice, Refusal::StationTaken { .. }, Act::TakeStations { .. }) => {
                on(&nobody_works_in(state))
            }
            (Self::NoLeave, Refusal::LeaveNeeded { .. }, Act::TakeStations { group, .. }) => {
                on(&all_give_leave(state, *group))
            }
            (Self::SwapsToTaken, Refusal::StationTaken { .. }, Act::SwapStation { to, .. }) => {
                on(&nobody_has(state, *to))
            }
            (Self::HandedOverMidSet, Refusal::SpottedSetUnderWay { .. }, Act::AcceptGroup { .. })
            | (Self::AwayFromBar, Refusal::SpotterBusy { .. }, Act::Away { .. }) => on(&nobody_spots(state)),
            (Self::SpotsWhileAway, Refusal::CoachAway { .. }, Act::Go { .. }) => on(&nobody_is_away(state)),
            (Self::LiftOffTwice, Refusal::SpotterBusy { .. }, Act::Go { .. }) => on(&all_lifted_off(state)),
            (Self::LiftOffAnyway, Refusal::LiftOffNeedsReserve { .. }, _) => on(&all_in_reserve(state)),
            _ => right,
        }
    }

    fn agreed_at_once(self, tap: &Tap, right: Verdict) -> Verdict {
        match (self, &tap.act) {
            (Self::HandedOverUnasked, Act::HandOver { groups, from, to }) => {
                let (from, to) = (*from, *to);
                let over = |group: &GroupId| Event::GroupHandedOver { group: *group, from, to };
                Verdict::Accepted(groups.iter().map(over).collect())
            }
            _ => right,
        }
    }

    /// What taking back leads to with the mistake.
    pub(crate) fn undo(
        self,
        right: Result<Vec<Event>, Refusal>,
        recent: &RecentTaps,
        (by, command): (TappedBy, CommandId),
    ) -> Result<Vec<Event>, Refusal> {
        match (self, &right) {
            (Self::UndoesNothing, Ok(_)) => Ok(Vec::new()),
            (Self::UndoesAnyway, Err(Refusal::LaterRestsOnIt)) => {
                // As if nothing had happened since, and nothing were looked at.
                let at_once = |last| {
                    let mut recent = recent.clone();
                    recent.forget_after(last);
                    recent.undo(by, command, &State::new(), NOW).ok()
                };
                (1..=MOST_EVENTS).find_map(at_once).ok_or(Refusal::LaterRestsOnIt)
            }
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
            (Self::KeepsAhead, Event::GroupLapsed { group }) => {
                let ahead = state.groups[group].ahead.clone();
                evolve(state, entry);
                for station in ahead.iter().flat_map(|claim| &claim.stations) {
                    state.stations.entry(*station).or_default().claim = Some(*group);
                }
            }
            (Self::SkippedOccupies, Event::TurnsSkipped { turn, .. }) => {
                let station = InHand::of(state, turn.group).and_then(|hand| hand.station(*turn));
                evolve(state, entry);
                if let Some(now) = station.and_then(|station| state.stations.get_mut(&station)) {
                    now.on = now.on.or(Some(*turn));
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
            Self::AdmitsToBroken => right.or_else(|| due::due(&all_in_service(state), now).filter(admits)),
            Self::OtherUseForgotten => right
                .filter(|due| !due.events.iter().any(|event| matches!(event, Event::OtherUseEnded { .. }))),
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

/// No tap of the model leads to more.
const MOST_EVENTS: u64 = 8;

/// The smallest step of floor time.
const MOMENT: Millis = Millis(1);

fn admits(due: &Due) -> bool {
    due.events.iter().any(|event| matches!(event, Event::StationsTaken { .. }))
}

fn free_ones(state: &State, act: &Act) -> Option<Verdict> {
    let Act::TakeStations { group, block, stations, .. } = act else { return None };
    let free = |station: &StationId| state.stations[station].claim.is_none();
    let stations: Vec<_> = stations.iter().copied().filter(free).collect();
    let taken = Event::StationsTaken {
        group: *group,
        block: *block,
        stations: stations.clone(),
        despite: None,
        loads: Vec::new(),
    };
    (!stations.is_empty()).then(|| Verdict::Accepted(vec![taken]))
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
