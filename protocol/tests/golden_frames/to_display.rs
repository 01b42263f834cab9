//! What the server sends, but for views.

use turnabout_protocol::command::Defect;
use turnabout_protocol::frame::{Fault, PROTOCOL, ToDisplay};
use turnabout_protocol::ids::{CallId, ClientId, CoachId, CommandId, GroupId, StationId};
use turnabout_protocol::load::Load;
use turnabout_protocol::refusal::{Outcome, Refusal, WriteTrouble};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Mass};
use uuid::Uuid;

use crate::to_server::turn;

/// The server's start in all of these.
pub(crate) const EPOCH: Uuid = Uuid::from_u128(0xE0);

/// Clocks at the floor in all of these, in seconds.
pub(crate) const EAST_OF_UTC: i32 = 7_200;

pub(crate) fn welcomes() -> Vec<ToDisplay> {
    [1, 10, 0]
        .map(|rate| ToDisplay::Welcome { protocol: PROTOCOL, epoch: EPOCH, rate, now: FloorMs(60_000) })
        .to_vec()
}

pub(crate) fn times() -> Vec<ToDisplay> {
    vec![ToDisplay::Time { t1: -5, t2: FloorMs(60_010), t3: FloorMs(60_011) }]
}

pub(crate) fn clocks() -> Vec<ToDisplay> {
    vec![ToDisplay::Clock { now: FloorMs(90_000) }]
}

pub(crate) fn answers() -> Vec<ToDisplay> {
    let actors = [
        Actor::Floor,
        Actor::Station { station: StationId(1) },
        Actor::Coach { coach: CoachId(1) },
        Actor::Assistant { coach: CoachId(1) },
        Actor::Board,
        Actor::Manager,
    ];
    std::iter::once(Outcome::Accepted { recorded: FloorMs(61_000) })
        .chain(actors.map(|by| Outcome::Already { by, when: FloorMs(60_500) }))
        .chain(refusals().into_iter().map(|refusal| Outcome::Refused { refusal }))
        .zip(1..)
        .map(|(answer, n)| ToDisplay::Answer { id: CommandId(Uuid::from_u128(n)), answer })
        .collect()
}

fn refusals() -> Vec<Refusal> {
    vec![
        Refusal::RoleMayNot,
        Refusal::NotHere,
        Refusal::UnknownStation,
        Refusal::UnknownGroup,
        Refusal::UnknownTurn,
        Refusal::UnknownCall,
        Refusal::UnknownNote,
        Refusal::StaleRevision { revision: 8 },
        Refusal::NotWaiting,
        Refusal::StationCount { wanted: 2 },
        Refusal::StationUnfit { station: StationId(4) },
        Refusal::StationTaken { station: StationId(1), group: GroupId(2) },
        Refusal::NotReserved,
        Refusal::NotNext { turn: turn(1, 1) },
        Refusal::Over,
        Refusal::UnderWay,
        Refusal::NotBegun,
        Refusal::StationBusy { station: StationId(1), turn: turn(1, 0) },
        Refusal::RestNotOver { until: FloorMs(120_000) },
        Refusal::TechniqueNotDone,
        Refusal::TechniqueNotPassed,
        Refusal::NoTechniqueSet,
        Refusal::LoadNotConfirmed,
        Refusal::NothingToConfirm,
        Refusal::NeedsSpotter,
        Refusal::NotSpotted,
        Refusal::SpotterBusy { turn: turn(3, 0) },
        Refusal::NotRacked { turn: turn(1, 0) },
        Refusal::NoSuchBar { count: 2 },
        Refusal::PairOut { load: Mass::from_grams(20_000), station: StationId(1) },
        Refusal::AtLightest { load: Mass::from_grams(20_000).into() },
        Refusal::NoLoad,
        Refusal::Paused,
        Refusal::Stopped,
        Refusal::NotHalted,
        Refusal::SetsLeft,
        Refusal::RepsRange { most: 100 },
        Refusal::EffortRange { most: 10 },
        Refusal::UnknownClient,
        Refusal::UnknownCoach,
        Refusal::UnknownExercise,
        Refusal::UnknownSetting,
        Refusal::NobodyHere,
        Refusal::ClientAbsent { client: ClientId(102) },
        Refusal::ClientElsewhere { client: ClientId(102), group: GroupId(2) },
        Refusal::NotBriefed,
        Refusal::AskCoach,
        Refusal::ScreeningRequired,
        Refusal::ScreeningInOrder,
        Refusal::InLine { first: GroupId(2) },
        Refusal::NotInLine,
        Refusal::TooEarlyToAsk,
        Refusal::LeaveNeeded { station: StationId(1), group: GroupId(2) },
        Refusal::NotShared { station: StationId(1) },
        Refusal::InOtherUse { station: StationId(1), until: FloorMs(700_000) },
        Refusal::HelpNeeded { station: StationId(1), call: CallId(3) },
        Refusal::NoOtherUse,
        Refusal::NotInService { station: StationId(4), defect: Defect::Cable },
        Refusal::InService,
        Refusal::NoHandle { count: 2 },
        Refusal::KeptForMembers { keep: 1 },
        Refusal::StationsACoach { most: 4 },
        Refusal::ClientsACoach { most: 8 },
        Refusal::Closed,
        Refusal::MinutesRange { most: 120 },
        Refusal::SecsRange { least: 5, most: 600 },
        Refusal::RoundsRange { least: 2, most: 20 },
        Refusal::TextLength { most: 500 },
        Refusal::CoachAway { coach: CoachId(1), until: FloorMs(700_000) },
        Refusal::NotAway,
        Refusal::OffShift { coach: CoachId(1) },
        Refusal::OnCall { call: CallId(3) },
        Refusal::SpotterLifts { client: ClientId(103) },
        Refusal::ClientSpots { turn: turn(3, 0) },
        Refusal::SpotterNotPassed { client: ClientId(103) },
        Refusal::ArmsNotAccepted,
        Refusal::LiftOffNeedsReserve { least: 3 },
        Refusal::CoachedBy { coach: CoachId(2) },
        Refusal::NotOffered,
        Refusal::NotYoursToAgree { coach: CoachId(2) },
        Refusal::SpottedSetUnderWay { turn: turn(2, 0) },
        Refusal::SetUnderWay { turn: turn(2, 0) },
        Refusal::OtherMovement,
        Refusal::LoadUnfit {
            below: Some(Mass::from_grams(60_000).into()),
            above: Some(Mass::from_grams(62_500).into()),
        },
        Refusal::LoadUnfit { below: None, above: None },
        Refusal::FarAboveLast { last: Mass::from_grams(60_000).into() },
        Refusal::FarAboveLast { last: Load::Pin { pin: 7 } },
        Refusal::TakesPin { most: 20 },
        Refusal::TakesMass,
        Refusal::NothingProposed,
        Refusal::ProposalChanged,
        Refusal::StepsRange { most: 3 },
        Refusal::NoSuchPlates { there: 4 },
        Refusal::NoPlatesMissing,
        Refusal::RoundsOwed { most: 1 },
        Refusal::BlockBegun,
        Refusal::WasSkipped,
        Refusal::NoRest,
        Refusal::NothingToUndo,
        Refusal::NoUndo,
        Refusal::LaterRestsOnIt,
        Refusal::TooOld,
        Refusal::InFuture,
        Refusal::ReusedId,
        Refusal::Busy,
        Refusal::NotSaving { writing: WriteTrouble::DiskFull },
        Refusal::NotSaving { writing: WriteTrouble::DiskFault },
        Refusal::Internal,
    ]
}

pub(crate) fn faults() -> Vec<ToDisplay> {
    [
        Fault::Malformed { line: 1, column: 17 },
        Fault::NotText,
        Fault::Oversize,
        Fault::Version { supported: PROTOCOL, found: 1 },
        Fault::HelloFirst,
        Fault::HelloTwice,
        Fault::HelloLate,
        Fault::UnknownTopic,
        Fault::TopicNotAllowed,
        Fault::Flood,
        Fault::Full,
    ]
    .map(|fault| ToDisplay::Fault { fault })
    .to_vec()
}
