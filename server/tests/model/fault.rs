//! Mistakes planted in the core, each of which the checker must find.
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
    nobody_is_away, nobody_lifts, nobody_on, nobody_spots, nobody_works_in,
};
use crate::clock::NOW;
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
    /// Whoever works in does not wait until the other group has racked.
    WorksInMeanwhile,
    /// Two groups work in at once.
    WorkInTwice,
    /// Nobody is asked for leave to work in.
    NoLeave,
    /// Whoever works in does not look at the line.
    WorksInFirst,
    /// Stations that a group got ahead are not free when it is given up.
    KeepsAhead,
    /// A group goes over to a station that another has.
    SwapsToTaken,
    /// A set that is left out occupies its station.
    SkippedOccupies,
    /// Whoever leaves out the first exercise of a round need not rest.
    SkipsRest,
    /// A group changes hands in the middle of a spotted set.
    HandedOverMidSet,
    /// A group changes hands when it is offered.
    HandedOverUnasked,
    /// A coach goes away from a bar.
    AwayFromBar,
    /// A coach who is away is taken for a spotter.
    SpotsWhileAway,
    /// A coach who is to lift off one bar is free for another at once.
    LiftOffTwice,
    /// Nobody asks what is left in reserve.
    LiftOffAnyway,
    /// Whoever waits gets a station that is broken.
    AdmitsToBroken,
    /// The public's use of a station never ends.
    OtherUseForgotten,
    /// A tap is taken back that something rests on.
    UndoesAnyway,
    /// A tap is said to be taken back, and is not.
    UndoesNothing,
}

impl Fault {
    pub(crate) const ALL: [Self; 38] = [
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
        Self::WorksInMeanwhile,
        Self::WorkInTwice,
        Self::NoLeave,
        Self::WorksInFirst,
        Self::KeepsAhead,
        Self::SwapsToTaken,
        Self::SkippedOccupies,
        Self::SkipsRest,
        Self::HandedOverMidSet,
        Self::HandedOverUnasked,
        Self::AwayFromBar,
        Self::SpotsWhileAway,
        Self::LiftOffTwice,
        Self::LiftOffAnyway,
        Self::AdmitsToBroken,
        Self::OtherUseForgotten,
        Self::UndoesAnyway,
        Self::UndoesNothing,
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
            Self::WorksInMeanwhile => ("one set a station", scenarios::working_in()),
            Self::WorkInTwice => ("all stations or none", scenarios::working_in_and_line()),
            Self::NoLeave => ("all stations or none", scenarios::leave_given()),
            Self::WorksInFirst => ("nobody is overtaken", scenarios::working_in_and_line()),
            Self::KeepsAhead => ("all stations or none", scenarios::silent_ahead()),
            Self::SwapsToTaken => ("all stations or none", scenarios::swapping()),
            Self::SkippedOccupies => ("one set a station", scenarios::skipping()),
            Self::SkipsRest => ("rest is kept", scenarios::skipping()),
            Self::HandedOverMidSet | Self::HandedOverUnasked => {
                ("groups change hands by agreement", scenarios::changing_hands())
            }
            Self::AwayFromBar | Self::SpotsWhileAway => ("whoever spots stays", scenarios::coaches_away()),
            Self::LiftOffTwice | Self::LiftOffAnyway => ("one bar a spotter", scenarios::lift_off()),
            Self::AdmitsToBroken => ("all stations or none", scenarios::waited_for()),
            Self::OtherUseForgotten => ("what is due happens on time", scenarios::waited_for()),
            Self::UndoesAnyway => ("what the core itself demands", scenarios::slips()),
            Self::UndoesNothing => ("what is taken back has never been", scenarios::slips()),
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
            (
                Self::DoubleStation | Self::WorksInMeanwhile,
                Verdict::Refused(Refusal::StationBusy { .. }),
                Act::Go { .. },
            ) => on(&nobody_on(state)),
            (Self::BrokenStation, Verdict::Refused(Refusal::NotInService { .. }), Act::Go { .. }) => {
                on(&all_in_service(state))
            }
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
            (Self::Overtakes | Self::WorksInFirst, Verdict::Refused(Refusal::InLine { .. }), _) => {
                on(&State { line: Vec::new(), ..state.clone() })
            }
            (Self::ClaimedAgain, Verdict::Already(_), Act::TakeStations { group, block, stations, .. }) => {
                let (group, block, stations) = (*group, *block, stations.clone());
                Verdict::Accepted(vec![Event::StationsTaken { group, block, stations, despite: None }])
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
    let taken =
        Event::StationsTaken { group: *group, block: *block, stations: stations.clone(), despite: None };
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
