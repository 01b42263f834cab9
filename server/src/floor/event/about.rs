//! Whom an event is about: what counts as a sign of life of a group, and what rests on what.

use turnabout_protocol::ids::{CallId, ClientId, CoachId, GroupId, StationId};

use super::Event;

/// Something an event is about. Where a later event is about the same, it may rest on the earlier one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Subject {
    /// Everything.
    Floor,
    /// A group as a whole: its stations, its plan, whether it is held.
    Group(GroupId),
    /// One client.
    Client(GroupId, ClientId),
    /// A station.
    Station(StationId),
    /// A coach.
    Coach(CoachId),
    /// A call.
    Call(CallId),
}

impl Subject {
    /// Whether what is said of one may rest on what was said of the other.
    #[must_use]
    pub fn touches(self, other: Self) -> bool {
        match (self, other) {
            (Self::Floor, _) | (_, Self::Floor) => true,
            (Self::Group(group), Self::Client(of, _)) | (Self::Client(of, _), Self::Group(group)) => {
                group == of
            }
            (a, b) => a == b,
        }
    }
}

impl Event {
    /// The group it is about, where it is about one.
    #[must_use]
    pub fn group(&self) -> Option<GroupId> {
        self.subjects().into_iter().find_map(|subject| match subject {
            Subject::Group(group) | Subject::Client(group, _) => Some(group),
            Subject::Floor | Subject::Station(_) | Subject::Coach(_) | Subject::Call(_) => None,
        })
    }

    /// Whom and what it is about.
    #[must_use]
    pub fn subjects(&self) -> Vec<Subject> {
        let clients = |group: GroupId, clients: &[ClientId]| {
            clients.iter().map(|client| Subject::Client(group, *client)).collect()
        };
        match self {
            Self::FloorSet(_) | Self::ProgrammeSet(_) | Self::ClockMapped { .. } | Self::Resumed { .. } => {
                vec![Subject::Floor]
            }
            Self::StationsTaken { group, stations, .. } => {
                let stations = stations.iter().map(|station| Subject::Station(*station));
                std::iter::once(Subject::Group(*group)).chain(stations).collect()
            }
            Self::StationSwapped { group, from, to, .. } => {
                vec![Subject::Group(*group), Subject::Station(*from), Subject::Station(*to)]
            }
            Self::StationsGivenBack { group, .. }
            | Self::StationsAsked { group, .. }
            | Self::AskWithdrawn { group }
            | Self::RoundsSet { group, .. }
            | Self::BlockDropped { group, .. }
            | Self::SessionEnded { group, .. }
            | Self::LapseWarned { group }
            | Self::GroupStillHere { group }
            | Self::GroupLapsed { group }
            | Self::GroupNotComing { group }
            | Self::GroupOffered { group, .. }
            | Self::OfferWithdrawn { group }
            | Self::GroupHandedOver { group, .. }
            | Self::SetsFinished { group, .. }
            | Self::StationsFreed { group, .. }
            | Self::GroupPaused { group }
            | Self::GroupStopped { group }
            | Self::GroupResumed { group } => vec![Subject::Group(*group)],
            Self::ClientsArrived { group, clients: who }
            | Self::ArrivalTakenBack { group, clients: who }
            | Self::ClientsBriefed { group, clients: who, .. } => clients(*group, who),
            Self::ClientWarmedUp { group, client }
            | Self::ScreeningDecided { group, client, .. }
            | Self::ClientLeft { group, client }
            | Self::SetsMissed { group, client, .. }
            | Self::RoundsMadeUp { group, client, .. }
            | Self::SpotterPassed { group, client, .. }
            | Self::ExerciseSwapped { group, client, .. }
            | Self::ClientStopped { group, client }
            | Self::ClientResumed { group, client } => vec![Subject::Client(*group, *client)],
            Self::TechniquePassed { turn }
            | Self::TechniqueNotPassed { turn }
            | Self::TechniqueAsked { turn }
            | Self::SpotterNamed { turn, .. }
            | Self::SpotterGone { turn }
            | Self::TurnCalledOff { turn }
            | Self::RestShortened { turn, .. }
            | Self::TreatedAsRest { turn }
            | Self::StartPutOff { turn, .. }
            | Self::TurnAssumed { turn }
            | Self::TurnDone { turn, .. }
            | Self::TurnReopened { turn }
            | Self::TurnsSkipped { turn, .. }
            | Self::ExerciseSkipped { turn, .. }
            | Self::SetCorrected { turn, .. }
            | Self::EffortGiven { turn, .. }
            | Self::RepsCorrected { turn, .. }
            | Self::LoadSet { turn, .. }
            | Self::LoadSettled { turn, .. }
            | Self::LoadLightened { turn, .. } => vec![Subject::Client(turn.group, turn.client)],
            Self::LoadConfirmed { turn, station, .. } | Self::TurnWent { turn, station, .. } => {
                vec![Subject::Client(turn.group, turn.client), Subject::Station(*station)]
            }
            Self::LeaveGiven { station, .. }
            | Self::OtherUseBegan { station, .. }
            | Self::OtherUseEnded { station }
            | Self::TakenOutOfService { station, .. }
            | Self::PutBackInService { station }
            | Self::SettingKept { station, .. }
            | Self::PlatesSeen { station, .. }
            | Self::PlatesMissing { station, .. }
            | Self::LoadUnconfirmed { station, .. } => vec![Subject::Station(*station)],
            Self::CoachWentAway { coach, .. } | Self::CoachCameBack { coach } => {
                vec![Subject::Coach(*coach)]
            }
            Self::CallMade { call, .. }
            | Self::CallAnswered { call }
            | Self::CallTakenBack { call }
            | Self::CallAttended { call } => vec![Subject::Call(*call)],
            // No tap rests on what was told, and what was told is gone with what makes it untrue.
            Self::Promised { .. } | Self::NoteKept { .. } | Self::NoteErased { .. } => Vec::new(),
        }
    }
}
