//! Scenes of the phases of a station that are told of it alone: free until when, whose, who is on the way elsewhere, who
//! does what, what is asked of a round, who comes when called, and what follows the last set.

use turnabout_kiosk::face::Notice;
use turnabout_protocol::command::{Act, CallKind};
use turnabout_protocol::ids::{CallId, StationId};
use turnabout_protocol::load::Load;
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::refusal::{Outcome, Refusal};
use turnabout_protocol::units::{MassUnit, Secs};
use turnabout_protocol::view::*;

use super::*;

/// A free bench, for everyone until so many seconds from now.
pub(crate) fn free(until: Option<i64>, then: Option<&str>) -> StationPart {
    let free = FreePart { until: until.map(at), then: then.map(Into::into) };
    StationPart { free: Some(free), ..station(1, "Bench 1", GearKind::Bar, None) }
}

/// The same at another bench.
fn second_bench(part: StationPart) -> StationPart {
    StationPart { station: StationId(3), key: "bench-2".parse().unwrap(), name: "Bench 2".into(), ..part }
}

/// The bench is reserved, and nobody is to come there yet.
pub(crate) fn reserved(coach: &str) -> StationPart {
    StationPart {
        state: StationState::Reserved,
        claim: Some(ClaimPart { group: GroupId(1), block: 0 }),
        coach: Some(coach.into()),
        ..station(1, "Bench 1", GearKind::Bar, None)
    }
}

/// Ayla has just left a station for the row, where she should have begun in so many seconds.
pub(crate) fn left(part: StationPart, limit: i64, held_by: Option<&str>) -> StationPart {
    let leaving = LeavingPart {
        client: "Ayla".into(),
        to: "Row 1".into(),
        exercise: cable_row(),
        limit: at(limit),
        held_by: held_by.map(Into::into),
    };
    StationPart { leaving: Some(leaving), ..part }
}

/// The bench, where Bram comes next.
pub(crate) fn bram_next(phase: TurnPhase) -> StationPart {
    let mut part = bench_1(phase);
    let turn = part.turn.as_mut().unwrap();
    turn.client = "Bram".into();
    turn.turn = turn_id(2, 2, 0);
    part.next = None;
    part
}

/// The plates are to be changed, the hooks are to be set, and each of the group has something to do.
pub(crate) fn to_make_ready(spots: Option<&str>) -> StationPart {
    let mut part = bench_with_plates();
    let turn = part.turn.as_mut().unwrap();
    turn.client = "Hana".into();
    turn.phase = coming(rest(-3), -3, -3, &[Need::ConfirmLoad]);
    let setting = |setting, name: &str, value: &str, change| SettingPart {
        setting,
        name: name.into(),
        value: value.into(),
        change,
    };
    turn.settings = vec![setting(1, "hooks", "7", true), setting(0, "bench", "flat", false)];
    part.jobs = Some(JobsPart { spots: spots.map(Into::into), loads: "Dara".into() });
    part
}

/// Both sets of Ayla's last round are asked about; her next is to start so many seconds from now.
pub(crate) fn asked_both(part: StationPart, until: i64) -> StationPart {
    let ask = |leg, exercise| AskEffort {
        turn: turn_id(1, 1, leg),
        client: "Ayla".into(),
        exercise,
        until: Some(at(until)),
    };
    StationPart { ask_efforts: vec![ask(0, press()), ask(1, cable_row())], ..part }
}

/// A call from the bench two minutes ago.
pub(crate) fn called(part: StationPart, kind: CallKind, answered: Option<&str>) -> StationPart {
    let call = CallPart {
        call: CallId(3),
        kind,
        station: StationId(1),
        place: "Bench 1".into(),
        since: at(-125),
        answered: answered.map(Into::into),
    };
    StationPart { calls: vec![call], ..part }
}

/// All sets are done at a station.
pub(crate) fn finished(gear: GearKind, clients: &[&str], next_time: &[(&str, &str)]) -> StationPart {
    let next = |(client, load): &(&str, &str)| LoadNextTime {
        client: (*client).into(),
        exercise: press(),
        load: Load::from(stamped(load)),
        unit: MassUnit::Kg,
    };
    StationPart {
        state: StationState::WipeDown,
        claim: Some(ClaimPart { group: GroupId(1), block: 0 }),
        finished: Some(FinishedPart {
            clients: clients.iter().map(|name| (*name).into()).collect(),
            next_time: next_time.iter().map(next).collect(),
        }),
        ..station(1, "Bench 1", gear, None)
    }
}

/// Every scene of them.
pub(crate) fn phases() -> Vec<Sample> {
    let one = |name, part: StationPart| Sample::new(name, view(vec![part]));
    let two = |name, part: StationPart| Sample::new(name, view(vec![part, row_1(under_way(-5))]));
    let resting = |secs| bram_next(coming(rest(secs), secs, secs, &[]));
    let dumbbells = || {
        let mut part = bench_1(under_way(7));
        part.turn.as_mut().unwrap().load = Some(pair("22.5 kg"));
        part
    };
    let busy = Refusal::StationBusy { station: StationId(1), turn: turn_id(2, 2, 0) };
    let go = Act::Go { turn: turn_id(1, 2, 0) };
    let refused = Notice::Answered { act: go, outcome: Outcome::Refused { refusal: busy } };
    let ends = [("Ayla", "45 kg"), ("Bram", "62.5 kg")];
    vec![
        one("free-until", free(Some(137), Some("Ayla"))),
        one("free-closes", free(Some(7_800), None)),
        one("reserved", reserved("Zeno")),
        Sample::new(
            "reserved-two",
            view(vec![row_1(under_way(-5)), reserved("Zeno"), second_bench(free(Some(137), None))]),
        ),
        one("get-ready", to_make_ready(Some("Bram"))),
        one(
            "get-ready-told",
            told(to_make_ready(Some("Bram")), 41, StartReason::LoadChange { takes: Secs(13) }),
        ),
        two("get-ready-two", to_make_ready(None)),
        one("leaving", left(resting(80), 18, None)),
        one("leaving-held", left(resting(80), 18, Some("Dara"))),
        one("leaving-reserved", left(reserved("Zeno"), 18, None)),
        two("leaving-two", left(resting(80), 18, None)),
        one("leaving-line", left(resting(29), 18, None)),
        one("cue-now", resting(8)),
        one("get-set-pair", dumbbells()),
        two("get-set-two", bench_1(under_way(7))),
        two("count-in-two", bench_1(under_way(2))),
        Sample { notice: Some(refused), ..one("count-in-refused", bench_1(under_way(2))) },
        one("efforts", asked_both(bench_1(coming(rest(64), 64, 64, &[])), 64)),
        Sample::new(
            "efforts-two",
            view(vec![
                asked_both(bench_1(coming(rest(64), 64, 64, &[])), 64),
                row_1(coming(rest(90), 90, 90, &[])),
            ]),
        ),
        Sample { last: tapped(done_right()), ..one("efforts-undo", asked_both(resting(64), 64)) },
        one("call-sent", called(resting(64), CallKind::CoachPlease, None)),
        one("call-answered", called(resting(64), CallKind::CoachPlease, Some("Zeno"))),
        one("finished", finished(GearKind::Bar, &["Ayla", "Bram"], &ends)),
        one("finished-stack", finished(GearKind::Stack, &["Ayla", "Bram"], &ends[..1])),
        two("finished-two", finished(GearKind::Bar, &["Ayla", "Bram"], &[])),
    ]
}
