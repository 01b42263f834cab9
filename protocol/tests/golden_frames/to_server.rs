//! What displays send.

use turnabout_protocol::command::{Act, CallKind, Command, Effort, Scope};
use turnabout_protocol::frame::{PROTOCOL, ToServer};
use turnabout_protocol::ids::{CallId, ClientId, CommandId, DeviceId, GroupId, Key, StationId, TurnId};
use turnabout_protocol::role::Role;
use turnabout_protocol::units::FloorMs;
use uuid::Uuid;

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
        Act::TakeStations { group, block: 0, stations: vec![StationId(1), StationId(4)], revision: 7 },
        Act::PassTechnique { turn: turn(0, 0) },
        Act::ConfirmLoad { turn: work },
        Act::Spot { turn: work },
        Act::Go { turn: work },
        Act::NotYet { turn: work },
        Act::Done { turn: work, reps: None, effort: None },
        Act::Done { turn: work, reps: Some(9), effort: Some(Effort::Rir { reps: 2 }) },
        Act::Effort { turn: work, effort: Effort::Light },
        Act::Effort { turn: work, effort: Effort::Right },
        Act::Effort { turn: work, effort: Effort::Heavy },
        Act::Effort { turn: work, effort: Effort::Rir { reps: Effort::MAX_RIR } },
        Act::Reps { turn: work, reps: 8 },
        Act::Lighter { turn: work, revision: 8 },
        Act::Pause { group },
        Act::Stop { scope: Scope::Group { group } },
        Act::Stop { scope: Scope::Floor },
        Act::Resume { group },
        Act::Call { station: StationId(1), call: CallKind::CoachPlease },
        Act::Call { station: StationId(1), call: CallKind::HelpNow },
        Act::Attend { call: CallId(3) },
        Act::FreeStations { group, block: 0 },
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
