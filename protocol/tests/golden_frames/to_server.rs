//! What displays send.

use turnabout_protocol::card::PlatePart;
use turnabout_protocol::command::{
    Act, BarLeft, CallKind, Command, Defect, Effort, Ending, NoteAbout, Reason, Scope, ScreeningDecision,
    SkipScope,
};
use turnabout_protocol::frame::{PROTOCOL, ToServer};
use turnabout_protocol::ids::{
    CallId, ClientId, CoachId, CommandId, DeviceId, ExerciseId, GroupId, Key, NoteId, StationId, TurnId,
};
use turnabout_protocol::load::Load;
use turnabout_protocol::next::CoachSaid;
use turnabout_protocol::role::Role;
use turnabout_protocol::units::{FloorMs, Mass};
use uuid::Uuid;

use crate::proposals::proposed;

fn plate(grams: i64) -> PlatePart {
    PlatePart { mass: Mass::from_grams(grams), full: grams >= 10_000 }
}

pub(crate) fn key(text: &str) -> Key {
    text.parse().expect("a key")
}

/// A set of Bram's, by round and exercise.
pub(crate) fn turn(round: u8, leg: u8) -> TurnId {
    TurnId { group: GroupId(1), client: ClientId(102), block: 0, round, leg }
}

pub(crate) fn hellos() -> Vec<ToServer> {
    let coach = key("coach-1");
    [
        (Role::Station { stations: vec![key("bench-1"), key("row-1")] }, "station/bench-1,row-1"),
        (Role::Board, "board"),
        (Role::Coach { coach: coach.clone() }, "coach/coach-1"),
        (Role::Assistant { coach }, "coach/coach-1"),
        (Role::Manager, "manager"),
    ]
    .into_iter()
    .zip(1..)
    .map(|((role, topic), n)| ToServer::Hello {
        protocol: PROTOCOL,
        device: DeviceId(Uuid::from_u128(n)),
        role,
        topic: topic.parse().expect("a topic"),
    })
    .collect()
}

/// Every act, with and without what may be left out.
pub(crate) fn acts() -> Vec<Act> {
    let (group, work) = (GroupId(1), turn(2, 0));
    vec![
        Act::TakeStations {
            group,
            block: 0,
            stations: vec![StationId(1), StationId(4)],
            revision: 7,
            despite: None,
        },
        Act::TakeStations {
            group,
            block: 1,
            stations: vec![StationId(2)],
            revision: 7,
            despite: Some(Reason::Safety),
        },
        Act::AskStations { group, block: 1, revision: 7 },
        Act::WithdrawAsk { group },
        Act::GiveLeave { station: StationId(1), group },
        Act::SwapStation { group, leg: 1, to: StationId(5), revision: 7 },
        Act::OtherUse { station: StationId(1), minutes: 10 },
        Act::EndOtherUse { station: StationId(1) },
        Act::OutOfService { station: StationId(4), defect: Defect::Cable },
        Act::BackInService { station: StationId(4) },
        Act::SetSetting { station: StationId(4), client: ClientId(102), setting: 0, value: 3 },
        Act::Arrive { group, clients: vec![ClientId(102)] },
        Act::WarmedUp { group, client: ClientId(102) },
        Act::Brief { group, clients: vec![ClientId(102)], skipped: true },
        Act::Screen { group, client: ClientId(102), decision: ScreeningDecision::NotToday },
        Act::Leave { group, client: ClientId(102) },
        Act::MakeUp { group, client: ClientId(102), rounds: 1, revision: 7 },
        Act::SetRounds { group, block: 0, rounds: 2, revision: 7 },
        Act::DropBlock { group, block: 1, revision: 7 },
        Act::EndSession { group, reason: Reason::ShortOfTime },
        Act::StillHere { group },
        Act::PassTechnique { turn: turn(0, 0) },
        Act::ConfirmLoad { turn: work },
        Act::Spot { turn: work, lift_off: false },
        Act::Spot { turn: work, lift_off: true },
        Act::SpotBy { turn: work, client: ClientId(103) },
        Act::UseArms { turn: work },
        Act::PassSpotter { group, client: ClientId(103), exercise: ExerciseId(1) },
        Act::Away { coach: CoachId(1), minutes: 15 },
        Act::Back { coach: CoachId(1) },
        Act::HandOver { groups: vec![group], from: CoachId(1), to: CoachId(2) },
        Act::AcceptGroup { group, from: CoachId(1) },
        Act::DeclineGroup { group },
        Act::Go { turn: work },
        Act::NotYet { turn: work },
        Act::MoreRest { turn: work, secs: 60 },
        Act::LessRest { turn: work, secs: 30, reason: Reason::ClientAsked },
        Act::TreatAsRest { turn: work },
        Act::Done { turn: work, reps: None, effort: None, ending: None },
        Act::Done {
            turn: work,
            reps: Some(9),
            effort: Some(Effort::Rir { reps: 2 }),
            ending: Some(Ending::Helped { reps: 1 }),
        },
        Act::Skip { turn: work, skip: SkipScope::Exercise, reason: Reason::Equipment },
        Act::SwapExercise {
            group,
            client: ClientId(102),
            leg: 1,
            exercise: ExerciseId(9),
            station: Some(StationId(6)),
            load: Some(Mass::from_grams(40_000).into()),
            sure: true,
            revision: 7,
        },
        Act::TechniqueAgain { turn: work },
        Act::Correct {
            turn: work,
            reps: 9,
            load: Some(Mass::from_grams(60_000).into()),
            effort: Some(Effort::Heavy),
            ending: Ending::Failed,
        },
        Act::Effort { turn: work, effort: Effort::Light },
        Act::Effort { turn: work, effort: Effort::Right },
        Act::Effort { turn: work, effort: Effort::Heavy },
        Act::Effort { turn: work, effort: Effort::Rir { reps: Effort::MAX_RIR } },
        Act::Reps { turn: work, reps: 8 },
        Act::Lighter { turn: work, revision: 8 },
        Act::SetLoad { turn: work, load: Mass::from_grams(82_500).into(), sure: false, revision: 8 },
        Act::SetLoad { turn: work, load: Load::Pin { pin: 7 }, sure: false, revision: 8 },
        Act::SetLoad { turn: work, load: Mass::from_grams(82_500).into(), sure: true, revision: 8 },
        Act::SettleLoad { turn: work, proposed: proposed(), said: CoachSaid::Accept },
        Act::SettleLoad { turn: work, proposed: proposed(), said: CoachSaid::Harder { steps: 1 } },
        Act::SettleLoad { turn: work, proposed: proposed(), said: CoachSaid::Easier { steps: 2 } },
        Act::PlatesOn { station: StationId(1), side: vec![plate(20_000), plate(1_250)], bar: 0 },
        Act::PlatesOn { station: StationId(1), side: Vec::new(), bar: 1 },
        Act::PlatesMissing { station: StationId(1), plate: plate(1_250), count: 2 },
        Act::Pause { group },
        Act::Stop { scope: Scope::Client { group, client: ClientId(102) } },
        Act::Stop { scope: Scope::Group { group } },
        Act::Stop { scope: Scope::Floor },
        Act::Resume { group, client: None },
        Act::Resume { group, client: Some(ClientId(102)) },
        Act::Call { station: StationId(1), call: CallKind::CoachPlease },
        Act::Call { station: StationId(1), call: CallKind::HelpNow },
        Act::Answer { call: CallId(3) },
        Act::Attend { call: CallId(3) },
        Act::FreeStations { group, block: 0, bar: None },
        Act::FreeStations { group, block: 0, bar: Some(BarLeft::Stripped) },
        Act::Note {
            note: NoteAbout::Incident { station: StationId(1), call: Some(CallId(3)) },
            text: "Slipped on the mat, sat down, went on.".to_owned(),
        },
        Act::EraseNote { note: NoteId(4) },
        Act::Undo { command: CommandId(Uuid::from_u128(7)) },
    ]
}

pub(crate) fn commands() -> Vec<ToServer> {
    acts()
        .into_iter()
        .zip(1_u32..)
        .map(|(act, n)| {
            let at = FloorMs(60_000 + i64::from(n) * 1_000);
            ToServer::Command(Command { id: CommandId(Uuid::from_u128(u128::from(n))), at, act })
        })
        .collect::<Vec<_>>()
}

pub(crate) fn times() -> Vec<ToServer> {
    // A display's own clock may have any origin, so both signs occur.
    vec![ToServer::Time { t1: 123_456 }, ToServer::Time { t1: -5 }]
}
