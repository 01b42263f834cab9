//! What a later entry may rest on: everything an event is about, and what only the state before it tells.

use turnabout_protocol::command::Spotter;
use turnabout_protocol::ids::{GroupId, StationId, TurnId};
use turnabout_protocol::role::Actor;

use crate::floor::event::{Event, Subject};
use crate::floor::state::State;

/// What nothing rests on, and what rests on nothing: said of a group or of the clock, it takes nothing away
/// from what was tapped before. That all sets of a block are done is said anew where it is so again.
pub(super) const fn harmless(event: &Event) -> bool {
    matches!(
        event,
        Event::ClockMapped { .. }
            | Event::TurnAssumed { .. }
            | Event::SetsFinished { .. }
            | Event::LapseWarned { .. }
            | Event::GroupStillHere { .. }
    )
}

/// Everything that a later event may share with this one, by the state before it: the station and the spotter of
/// a set, the stations that a group gives up, the coach who goes to a call.
pub(super) fn about(before: &State, by: Actor, event: &Event) -> Vec<Subject> {
    let mut about = event.subjects();
    match event {
        Event::TurnWent { turn, spotter: Some(who), .. } | Event::SpotterNamed { turn, spotter: who, .. } => {
            about.extend(spotter(turn.group, *who));
        }
        Event::TurnDone { turn, .. } | Event::TurnReopened { turn } | Event::TurnCalledOff { turn } => {
            about.extend(of_set(before, *turn));
        }
        Event::StationsGivenBack { group, .. }
        | Event::StationsFreed { group, .. }
        | Event::GroupLapsed { group }
        | Event::SessionEnded { group, .. }
        | Event::BlockDropped { group, .. } => {
            about.extend(before.held_by(*group).into_iter().map(Subject::Station));
        }
        // Whether the client who comes, or comes back, is behind depends on how far the others are.
        Event::ClientLeft { group, .. } => about.push(Subject::Group(*group)),
        Event::ClientsArrived { group, .. }
            if before.groups.get(group).is_some_and(|g| g.claim.is_some()) =>
        {
            about.push(Subject::Group(*group));
        }
        // Who has to agree, and who may, depends on who is there.
        Event::GroupOffered { to, asks, .. } => about.extend([Subject::Coach(*to), Subject::Coach(*asks)]),
        Event::GroupHandedOver { from, to, .. } => {
            about.extend([Subject::Coach(*from), Subject::Coach(*to)]);
        }
        Event::ExerciseSwapped { station: Some(station), .. } => about.push(Subject::Station(*station)),
        Event::CallAnswered { .. } => match by {
            Actor::Coach { coach } | Actor::Assistant { coach } => about.push(Subject::Coach(coach)),
            Actor::Station { .. } | Actor::Board | Actor::Manager | Actor::Floor => {}
        },
        // What its subjects say is all.
        Event::TurnWent { spotter: None, .. }
        | Event::ClientsArrived { .. }
        | Event::ExerciseSwapped { station: None, .. }
        | Event::FloorSet(_)
        | Event::ProgrammeSet(_)
        | Event::ClockMapped { .. }
        | Event::Resumed { .. }
        | Event::StationsTaken { .. }
        | Event::StationsAsked { .. }
        | Event::AskWithdrawn { .. }
        | Event::LeaveGiven { .. }
        | Event::StationSwapped { .. }
        | Event::OtherUseBegan { .. }
        | Event::OtherUseEnded { .. }
        | Event::TakenOutOfService { .. }
        | Event::PutBackInService { .. }
        | Event::SettingKept { .. }
        | Event::ArrivalTakenBack { .. }
        | Event::ClientWarmedUp { .. }
        | Event::ClientsBriefed { .. }
        | Event::ScreeningDecided { .. }
        | Event::SetsMissed { .. }
        | Event::RoundsMadeUp { .. }
        | Event::RoundsSet { .. }
        | Event::LapseWarned { .. }
        | Event::GroupStillHere { .. }
        | Event::GroupNotComing { .. }
        | Event::TechniquePassed { .. }
        | Event::TechniqueNotPassed { .. }
        | Event::TechniqueAsked { .. }
        | Event::LoadConfirmed { .. }
        | Event::LoadUnconfirmed { .. }
        | Event::SpotterGone { .. }
        | Event::SpotterPassed { .. }
        | Event::CoachWentAway { .. }
        | Event::CoachCameBack { .. }
        | Event::OfferWithdrawn { .. }
        | Event::RestShortened { .. }
        | Event::TreatedAsRest { .. }
        | Event::StartPutOff { .. }
        | Event::TurnAssumed { .. }
        | Event::TurnsSkipped { .. }
        | Event::ExerciseSkipped { .. }
        | Event::SetCorrected { .. }
        | Event::EffortGiven { .. }
        | Event::RepsCorrected { .. }
        | Event::LoadLightened { .. }
        | Event::LoadSet { .. }
        | Event::LoadSettled { .. }
        | Event::PlatesSeen { .. }
        | Event::PlatesMissing { .. }
        | Event::SetsFinished { .. }
        | Event::GroupPaused { .. }
        | Event::GroupStopped { .. }
        | Event::GroupResumed { .. }
        | Event::ClientStopped { .. }
        | Event::ClientResumed { .. }
        | Event::CallMade { .. }
        | Event::CallTakenBack { .. }
        | Event::CallAttended { .. }
        | Event::Promised { .. }
        | Event::NoteKept { .. }
        | Event::NoteErased { .. } => {}
    }
    about
}

fn of_set(before: &State, turn: TurnId) -> impl Iterator<Item = Subject> {
    let client = before.groups.get(&turn.group).and_then(|group| group.clients.get(&turn.client));
    // What is reopened is the last set that was done.
    let set = client.and_then(|c| c.current.or(c.last)).filter(|u| u.turn == turn);
    let station: Option<StationId> = set.map(|u| u.station);
    let who = set.and_then(|u| u.spotter);
    station.map(Subject::Station).into_iter().chain(who.and_then(|who| spotter(turn.group, who)))
}

fn spotter(group: GroupId, who: Spotter) -> Option<Subject> {
    match who {
        Spotter::Coach { coach } | Spotter::Assistant { coach } => Some(Subject::Coach(coach)),
        Spotter::Client { client } => Some(Subject::Client(group, client)),
        Spotter::Arms => None,
    }
}
