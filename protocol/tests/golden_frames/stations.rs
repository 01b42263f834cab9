//! The face of stations, with and without what may be left out.

use turnabout_protocol::card::GearKind;
use turnabout_protocol::command::CallKind;
use turnabout_protocol::frame::ToDisplay;
use turnabout_protocol::ids::{ClientId, GroupId, StationId};
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::units::{FloorMs, Mass, MassUnit};
use turnabout_protocol::view::{
    AskEffort, ClaimPart, FinishedPart, FreePart, HaltKind, JobsPart, LapsePart, LeavingPart, LoadNextTime,
    NextPart, PartnerPart, SetName, StartPart, StationPart, StationState, StationView, TurnPart, View,
};
use turnabout_protocol::words::Words;

use crate::cards::plates;
use crate::to_display::EAST_OF_UTC;
use crate::to_server::{key, turn};
use crate::views::{
    call, clock, every_need, frame, halt, help, other_use, out, press, pressing, rest, row, to_press,
    to_pull, to_row,
};

fn station(n: u16, name: &str, gear: GearKind, state: StationState, turn: Option<TurnPart>) -> StationPart {
    StationPart {
        station: StationId(n),
        key: key(&format!("place-{n}")),
        name: name.to_owned(),
        gear,
        state,
        claim: (state != StationState::Free).then_some(ClaimPart { group: GroupId(1), block: 0 }),
        arms: gear == GearKind::Bar,
        shared_with: (state == StationState::InUse).then_some(ClaimPart { group: GroupId(2), block: 1 }),
        other_use: other_use(state),
        out: out(state),
        lapses: (state == StationState::Reserved)
            .then_some(LapsePart { group: GroupId(1), at: FloorMs(400_000) }),
        turn,
        partners: Vec::new(),
        next: None,
        free: (state == StationState::Free)
            .then_some(FreePart { until: Some(FloorMs(900_000)), then: Some("Greta".to_owned()) }),
        coach: (state == StationState::Reserved).then(|| "Ayla".to_owned()),
        leaving: None,
        jobs: None,
        finished: (state == StationState::WipeDown).then(finished),
        ask_efforts: Vec::new(),
        halt: None,
        plates: None,
        calls: Vec::new(),
    }
}

fn finished() -> FinishedPart {
    let next = LoadNextTime {
        client: "Bram".to_owned(),
        exercise: press(),
        load: Mass::from_grams(45_000).into(),
        unit: MassUnit::Kg,
    };
    FinishedPart { clients: vec!["Bram".to_owned(), "Chidi".to_owned()], next_time: vec![next] }
}

fn ask((leg, exercise): (u8, Words)) -> AskEffort {
    let until = (leg == 0).then_some(FloorMs(150_000));
    AskEffort { turn: turn(1, leg), client: "Bram".to_owned(), exercise, until }
}

pub(crate) fn stations() -> Vec<ToDisplay> {
    let busy = StationPart {
        next: Some(NextPart {
            client: "Chidi".to_owned(),
            ready: FloorMs(140_000),
            promise: Some(StartPart {
                start: FloorMs(152_000),
                about: true,
                reason: StartReason::StationInUse,
            }),
        }),
        leaving: Some(LeavingPart {
            client: "Bram".to_owned(),
            to: "Cable row 1".to_owned(),
            exercise: row(),
            limit: FloorMs(120_000),
            held_by: Some("Chidi".to_owned()),
        }),
        ask_efforts: [(0, press()), (1, row())].into_iter().map(ask).collect(),
        halt: Some(halt(HaltKind::Pause)),
        calls: vec![call(CallKind::CoachPlease)],
        ..station(1, "Bench 1", GearKind::Bar, StationState::InUse, Some(pressing()))
    };
    let reserved = StationPart {
        next: Some(NextPart { client: "Edda".to_owned(), ready: FloorMs(160_000), promise: None }),
        ..station(4, "Cable row 1", GearKind::Stack, StationState::Reserved, Some(to_row()))
    };
    let stations = vec![
        busy,
        reserved,
        station(7, "Mat", GearKind::Plain, StationState::Free, None),
        station(8, "Rack", GearKind::Bar, StationState::WipeDown, None),
        station(9, "Rack 2", GearKind::Bar, StationState::OtherUse, None),
        station(10, "Cable row 2", GearKind::Stack, StationState::OutOfService, None),
        station(12, "Dip bars", GearKind::Belt, StationState::Free, None),
        station(11, "Dumbbell rack", GearKind::Dumbbells, StationState::Free, None),
        station(12, "Assisting rack", GearKind::Stack, StationState::Reserved, Some(to_pull())),
    ];
    let full = StationView { zone_offset: EAST_OF_UTC, clock: clock(), stations, help: Some(help()) };
    let resting = to_press(rest(), SetName::Working { n: 3, of: 3 }, every_need());
    let one = StationPart {
        jobs: Some(JobsPart { spots: Some("Ayla".to_owned()), loads: "Chidi".to_owned() }),
        partners: vec![PartnerPart { client: ClientId(103), name: "Chidi".to_owned() }],
        plates: Some(plates()),
        ..station(1, "Bench 1", GearKind::Bar, StationState::Reserved, Some(resting))
    };
    let quiet = StationView { zone_offset: EAST_OF_UTC, clock: clock(), stations: vec![one], help: None };
    vec![
        frame("station/place-1,place-4,place-7,place-8", 41, View::Station(full)),
        frame("station/place-1", 42, View::Station(quiet)),
    ]
}
