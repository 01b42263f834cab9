//! What happens that no order of turns could have known of.

use crate::floor::event::Event;

/// Whether something changes who is there, what is left to do, or what can be used and when, rather than how long
/// something takes. After it any better order is worth having, not only a clearly better one.
#[must_use]
pub const fn is(event: &Event) -> bool {
    match event {
        Event::FloorSet(_)
        | Event::ProgrammeSet(_)
        | Event::Resumed { .. }
        | Event::StationsTaken { .. }
        | Event::StationsGivenBack { .. }
        | Event::StationsAsked { .. }
        | Event::AskWithdrawn { .. }
        | Event::LeaveGiven { .. }
        | Event::StationSwapped { .. }
        | Event::OtherUseBegan { .. }
        | Event::OtherUseEnded { .. }
        | Event::TakenOutOfService { .. }
        | Event::PutBackInService { .. }
        | Event::ClientsArrived { .. }
        | Event::ArrivalTakenBack { .. }
        | Event::ScreeningDecided { .. }
        | Event::ClientLeft { .. }
        | Event::SetsMissed { .. }
        | Event::RoundsMadeUp { .. }
        | Event::RoundsSet { .. }
        | Event::BlockDropped { .. }
        | Event::SessionEnded { .. }
        | Event::GroupLapsed { .. }
        | Event::GroupNotComing { .. }
        | Event::TechniqueNotPassed { .. }
        | Event::TechniqueAsked { .. }
        | Event::SpotterNamed { .. }
        | Event::SpotterGone { .. }
        | Event::CoachWentAway { .. }
        | Event::CoachCameBack { .. }
        | Event::GroupHandedOver { .. }
        | Event::RestShortened { .. }
        | Event::TreatedAsRest { .. }
        | Event::StartPutOff { .. }
        | Event::TurnReopened { .. }
        | Event::TurnsSkipped { .. }
        | Event::ExerciseSkipped { .. }
        | Event::ExerciseSwapped { .. }
        | Event::SetsFinished { .. }
        | Event::StationsFreed { .. }
        | Event::GroupPaused { .. }
        | Event::GroupStopped { .. }
        | Event::GroupResumed { .. }
        | Event::ClientStopped { .. }
        | Event::ClientResumed { .. } => true,
        Event::ClockMapped { .. }
        | Event::SettingKept { .. }
        | Event::ClientWarmedUp { .. }
        | Event::ClientsBriefed { .. }
        | Event::LapseWarned { .. }
        | Event::GroupStillHere { .. }
        | Event::TechniquePassed { .. }
        | Event::LoadConfirmed { .. }
        | Event::LoadUnconfirmed { .. }
        | Event::SpotterPassed { .. }
        | Event::GroupOffered { .. }
        | Event::OfferWithdrawn { .. }
        | Event::TurnWent { .. }
        | Event::TurnCalledOff { .. }
        | Event::TurnAssumed { .. }
        | Event::TurnDone { .. }
        | Event::SetCorrected { .. }
        | Event::EffortGiven { .. }
        | Event::RepsCorrected { .. }
        | Event::LoadLightened { .. }
        | Event::LoadSet { .. }
        | Event::LoadSettled { .. }
        | Event::PlatesSeen { .. }
        | Event::PlatesMissing { .. }
        | Event::Promised { .. }
        | Event::CallMade { .. }
        | Event::CallAnswered { .. }
        | Event::CallTakenBack { .. }
        | Event::CallAttended { .. }
        | Event::NoteKept { .. }
        | Event::NoteErased { .. } => false,
    }
}
