//! Scenes of what is offered beside the next step: the last tap can be taken back, a partner can spot.

use turnabout_kiosk::face::{LastTap, LinkState};
use turnabout_protocol::command::{Act, CallKind, Effort};
use turnabout_protocol::ids::{ClientId, CommandId, StationId};
use turnabout_protocol::view::*;
use uuid::Uuid;

use super::*;

/// A tap that was taken down three seconds ago.
pub(crate) fn tapped(act: Act) -> Option<LastTap> {
    Some(LastTap { command: CommandId(Uuid::from_u128(9)), act, recorded: at(-3) })
}

/// Ayla's bench press of before was done, and it was right.
pub(crate) fn done_right() -> Act {
    Act::Done { turn: turn_id(1, 1, 0), reps: None, effort: Some(Effort::Right), ending: None }
}

/// At the bench a spotter is missing, and these of the group may spot.
pub(crate) fn with_partners(names: &[&str], needs: &[Need]) -> StationPart {
    let mut part = bench_1(coming(rest(-4), -4, -4, needs));
    part.turn.as_mut().unwrap().spotter = None;
    let partner = |(name, n): (&&str, u32)| PartnerPart { client: ClientId(n), name: (*name).into() };
    part.partners = names.iter().zip(2..).map(partner).collect();
    part
}

fn set(part: StationPart) -> StationPart {
    let mut part = part;
    let setting = |setting, name: &str, value: &str, change| SettingPart {
        setting,
        name: name.into(),
        value: value.into(),
        change,
    };
    part.turn.as_mut().unwrap().settings =
        vec![setting(1, "hooks", "7", true), setting(0, "bench", "flat", false)];
    part
}

/// Every scene of them.
pub(crate) fn offers() -> Vec<Sample> {
    let undo = |name, act: Act, stations: Vec<StationPart>| Sample {
        last: tapped(act),
        ..Sample::new(name, view(stations))
    };
    let resting = || bench_1(coming(rest(57), 57, 57, &[]));
    let (turn, bench) = (turn_id(1, 2, 0), StationId(1));
    let confirmed = || {
        let mut part = with_partners(&["Bram"], &[Need::Spotter]);
        part.turn.as_mut().unwrap().load =
            Some(with_plates(&card("82.5 kg", Some("82.5 kg"), true), "20 10 1.25", "", ""));
        set(part)
    };
    let crowded = StationPart {
        arms: true,
        lapses: Some(LapsePart { group: GroupId(1), at: at(250) }),
        ..with_partners(&["Bram", "Chidi", "Wanja"], &[Need::ConfirmLoad, Need::Spotter])
    };
    let mut rack = station_3();
    rack.turn.as_mut().unwrap().client = "Chidi".into();
    let called = Act::Call { station: bench, call: CallKind::HelpNow };
    let lost = LinkState::Lost { since: at(-2) };
    let helped = |stations| {
        View::Station(StationView { zone_offset: 0, clock: clock(), stations, help: Some(help()) })
    };
    vec![
        undo("undo-done", done_right(), vec![resting()]),
        undo("undo-free", Act::OtherUse { station: bench, minutes: 15 }, vec![other_use()]),
        undo("undo-effort", done_right(), vec![asked(resting())]),
        Sample {
            asking: true,
            ..undo(
                "undo-asking",
                Act::Call { station: bench, call: CallKind::CoachPlease },
                vec![bench_1(under_way(-36))],
            )
        },
        undo("undo-two", done_right(), vec![asked(resting()), row_1(under_way(-5))]),
        undo(
            "undo-four",
            done_right(),
            vec![resting(), row_1(under_way(-52)), rack, station(4, "Pulldown 1", GearKind::Stack, None)],
        ),
        Sample { last: tapped(called), ..Sample::new("undo-help", helped(vec![resting()])) },
        Sample { link: lost, ..undo("undo-lost", done_right(), vec![resting()]) },
        Sample {
            pending: vec![Act::Undo { command: CommandId(Uuid::from_u128(9)) }],
            saving: true,
            ..undo("undo-saving", done_right(), vec![resting()])
        },
        undo("undo-confirmed", Act::ConfirmLoad { turn }, vec![confirmed()]),
        Sample::new("partner-spots", view(vec![with_partners(&["Bram"], &[Need::Spotter])])),
        Sample::new("partners-spot", view(vec![crowded])),
    ]
}

fn station_3() -> StationPart {
    station(3, "Rack 1", GearKind::Bar, Some(row(coming(rest(50), 50, 50, &[]))))
}

fn other_use() -> StationPart {
    StationPart {
        state: StationState::OtherUse,
        other_use: Some(OtherUsePart { until: at(897) }),
        ..station(1, "Bench 1", GearKind::Bar, None)
    }
}
