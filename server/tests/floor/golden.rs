//! A row of every kind and version ever shipped can still be read, and means what it meant.
//!
//! `GOLDEN=write cargo test -p turnabout-server --test floor golden` adds rows of new kinds and versions.

use std::path::Path;

use turnabout_protocol::command::{
    BarLeft, CallKind, Defect, Effort, Ending, NoteAbout, Reason, ScreeningDecision,
};
use turnabout_protocol::ids::{CallId, ExerciseId, NoteId};
use turnabout_protocol::load::Load;
use turnabout_protocol::next::{Change, CoachSaid, NextReason, Proposal, Rule, SetTo, Settled};
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis, Secs};
use turnabout_protocol::work::Work;
use turnabout_server::floor::event::{Entry, Event, FirstLoads, LegLoads};
use turnabout_server::floor::state::Promise;
use turnabout_server::journal::Row;
use turnabout_server::journal::codec::{CodecError, decode, encode};
use turnabout_server::loading::bar::{BarNo, Diameter, Loaded, Plate, Side};

use crate::world::*;

fn plate(mass: i64) -> Plate {
    Plate { mass: kg(mass), diameter: Diameter::Full }
}

/// A 20 kg bar with 20 kg on each side.
fn twenty() -> Loaded {
    Loaded { bar: BarNo(0), side: Side::new(vec![plate(20)]) }
}

/// One event of every kind.
fn events() -> Vec<Event> {
    let turn = turn(PAIR, DARA, 1, 0);
    vec![
        Event::FloorSet(Box::new(floor())),
        Event::ProgrammeSet(Box::new(programme())),
        Event::ClockMapped { utc_ms: 1_790_000_000_000, offset_secs: 7_200 },
        Event::Resumed { down: Millis(90_000) },
        Event::StationsTaken {
            group: PAIR,
            block: 0,
            stations: vec![BENCH, ROW],
            despite: Some(Reason::Safety),
            loads: vec![FirstLoads { leg: 0, loads: leg_loads() }],
        },
        Event::TechniquePassed { turn },
        Event::LoadConfirmed { turn, station: BENCH, load: kg(60), plates: Some(twenty()) },
        Event::SpotterNamed { turn, spotter: spots(AYLA), lift_off: false },
        Event::TurnWent {
            turn,
            station: BENCH,
            count_in: FloorMs(110_000),
            starts: FloorMs(113_000),
            ends: FloorMs(153_000),
            reps: 10,
            load: Some(kilos(60)),
            spotter: Some(spots(AYLA)),
            lift_off: false,
            short_rest: Some(Reason::ClientAsked),
        },
        Event::TurnCalledOff { turn },
        Event::StartPutOff { turn, ready: FloorMs(140_000) },
        Event::TurnAssumed { turn },
        Event::TurnDone {
            turn,
            ended: FloorMs(152_000),
            reps: Some(9),
            effort: Some(Effort::Rir { reps: 2 }),
            ending: Ending::Helped { reps: 1 },
        },
        Event::EffortGiven { turn, effort: Some(Effort::Heavy) },
        Event::RepsCorrected { turn, reps: Some(8) },
        Event::LoadLightened { turn, load: kilos(50) },
        Event::SetsFinished { group: PAIR, block: 0 },
        Event::StationsFreed { group: PAIR, block: 0, bar: Some(BarLeft::Stripped) },
        Event::GroupPaused { group: PAIR },
        Event::GroupStopped { group: PAIR },
        Event::GroupResumed { group: PAIR },
        Event::CallMade { call: CallId(1), station: ROW, urgency: CallKind::HelpNow },
        Event::CallAttended { call: CallId(1) },
        Event::StationsGivenBack { group: PAIR, block: 0 },
        Event::StationsAsked { group: PAIR, block: 0 },
        Event::AskWithdrawn { group: PAIR },
        Event::LeaveGiven { station: BENCH, group: SINGLE },
        Event::StationSwapped { group: PAIR, leg: 0, from: BENCH, to: BENCH_2, loads: vec![leg_loads()] },
        Event::OtherUseBegan { station: BENCH, until: FloorMs(700_000) },
        Event::OtherUseEnded { station: BENCH },
        Event::TakenOutOfService { station: ROW, defect: Defect::Cable },
        Event::PutBackInService { station: ROW },
        Event::SettingKept { station: BENCH, client: DARA, setting: 0, value: Some(3) },
        Event::ClientsArrived { group: PAIR, clients: vec![DARA, EDDA] },
        Event::ArrivalTakenBack { group: PAIR, clients: vec![EDDA] },
        Event::ClientWarmedUp { group: PAIR, client: DARA },
        Event::ClientsBriefed { group: PAIR, clients: vec![DARA], skipped: true },
        Event::ScreeningDecided { group: PAIR, client: DARA, decision: ScreeningDecision::Refer },
        Event::ClientLeft { group: PAIR, client: DARA },
        Event::SetsMissed { group: PAIR, client: DARA, until: 2 },
        Event::RoundsMadeUp { group: PAIR, client: DARA, rounds: 1 },
        Event::RoundsSet { group: PAIR, block: 0, rounds: 1 },
        Event::BlockDropped { group: PAIR, block: 1 },
        Event::SessionEnded { group: PAIR, reason: Reason::ShortOfTime },
        Event::LapseWarned { group: PAIR },
        Event::GroupStillHere { group: PAIR },
        Event::GroupLapsed { group: PAIR },
        Event::GroupNotComing { group: PAIR },
        Event::TechniqueNotPassed { turn },
        Event::TechniqueAsked { turn },
        Event::LoadUnconfirmed { station: BENCH, load: None, plates: None },
        Event::SpotterGone { turn },
        Event::SpotterPassed { group: PAIR, client: EDDA, exercise: ExerciseId(1) },
        Event::CoachWentAway { coach: AYLA, until: FloorMs(700_000) },
        Event::CoachCameBack { coach: AYLA },
        Event::GroupOffered { group: PAIR, to: BRAM, asks: BRAM },
        Event::OfferWithdrawn { group: PAIR },
        Event::GroupHandedOver { group: PAIR, from: AYLA, to: BRAM },
        Event::RestShortened { turn, least: Secs(30), reason: Reason::ShortOfTime },
        Event::TreatedAsRest { turn },
        Event::TurnReopened { turn },
        Event::TurnsSkipped { turn, count: 2, reason: Reason::Safety },
        Event::ExerciseSkipped { turn, reason: Reason::Equipment },
        Event::ExerciseSwapped {
            group: PAIR,
            client: DARA,
            leg: 1,
            exercise: ExerciseId(2),
            station: Some(ROW_2),
            load: Some(kilos(40)),
            technique_load: Some(kilos(5)),
        },
        Event::SetCorrected {
            turn,
            reps: Some(8),
            load: Some(kilos(60)),
            effort: Some(Effort::Heavy),
            ending: Ending::Failed,
        },
        Event::ClientStopped { group: PAIR, client: DARA },
        Event::ClientResumed { group: PAIR, client: DARA },
        Event::CallAnswered { call: CallId(1) },
        Event::CallTakenBack { call: CallId(1) },
        Event::NoteKept { note: NoteId(1), about: NoteAbout::Group { group: PAIR } },
        Event::NoteErased { note: NoteId(1) },
        Event::PlatesSeen { station: BENCH, plates: twenty(), load: kg(60) },
        Event::PlatesMissing { station: BENCH, plate: plate(20), count: 2 },
        Event::LoadSet { turn, load: kilos(62) },
        Event::LoadSettled { turn, settled: settled() },
        Event::Promised {
            made: vec![Promise {
                turn,
                station: BENCH,
                spotter: Some(spots(AYLA)),
                start: FloorMs(130_000),
                about: false,
                reason: StartReason::LoadChange { takes: Secs(16) },
            }],
            taken_back: vec![self::turn(PAIR, EDDA, 1, 0)],
        },
        Event::TurnDone { turn, ended: FloorMs(152_000), reps: None, effort: None, ending: Ending::Stopped },
    ]
}

/// A proposal that the coach went one step off.
fn settled() -> Settled {
    let set = SetTo::Mass { load: kg(65) };
    let (change, reason) = (Change::Harder, NextReason::FeltLight);
    let proposed = Proposal { set, work: Work::reps(10), change, reason, rule: Rule::ThreeWords };
    let said = Some(CoachSaid::Easier { steps: 1 });
    Settled { proposed, said, set: SetTo::Mass { load: kg(62) }, work: Work::reps(10) }
}

/// The loads of a press, found by a rule.
fn leg_loads() -> LegLoads {
    let (set, work) = (SetTo::Mass { load: kg(60) }, Work::reps(11));
    let (change, reason) = (Change::First, NextReason::AsLastTime);
    LegLoads {
        client: DARA,
        loads: vec![Some(kilos(60)), None],
        technique_load: Some(kilos(20)),
        ramp: Some(kilos(40)),
        first: Some(Proposal { set, work, change, reason, rule: Rule::TwoForTwo }),
        works: [(1, Work::reps(11))].into(),
    }
}

fn entries() -> Vec<Entry> {
    let entry = |(sequence, event)| Entry {
        sequence,
        recorded: FloorMs(100_000),
        at: FloorMs(99_000),
        by: Actor::Coach { coach: AYLA },
        event,
    };
    (1..).zip(events()).map(entry).collect()
}

fn line(row: &Row) -> String {
    let json: serde_json::Value = serde_json::from_str(&row.json).unwrap();
    serde_json::json!({
        "sequence": row.sequence, "recorded": row.recorded, "kind": row.kind, "version": row.version, "json": json
    })
    .to_string()
}

fn row(line: &str) -> Row {
    let line: serde_json::Value = serde_json::from_str(line).unwrap();
    Row {
        sequence: line["sequence"].as_u64().unwrap(),
        recorded: FloorMs(line["recorded"].as_i64().unwrap()),
        kind: line["kind"].as_str().unwrap().to_owned().into(),
        version: u16::try_from(line["version"].as_u64().unwrap()).unwrap(),
        json: line["json"].to_string(),
    }
}

#[test]
fn every_kind_ever_shipped_is_still_read() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden/rows.jsonl");
    let written: Vec<String> = entries().iter().map(|e| line(&encode(e).unwrap())).collect();
    let mut kept: Vec<String> =
        std::fs::read_to_string(&path).unwrap_or_default().lines().map(str::to_owned).collect();
    let name = |line: &String| (row(line).kind, row(line).version);
    if std::env::var("GOLDEN").as_deref() == Ok("write") {
        let new: Vec<_> =
            written.iter().filter(|w| !kept.iter().any(|k| name(k) == name(w))).cloned().collect();
        kept.extend(new);
        std::fs::write(&path, kept.join("\n") + "\n").unwrap();
    }
    for kind in Event::KINDS {
        assert!(written.iter().any(|line| row(line).kind == kind), "no example of {kind}");
    }
    for line in &written {
        assert!(
            kept.contains(line),
            "not in {}: {line}\nwhat was shipped must stay readable",
            path.display()
        );
    }
    let read: Vec<Entry> = kept.iter().map(|line| decode(&row(line)).unwrap()).collect();
    // Of a kind that has had several shapes, each is lifted to the same.
    let floors: Vec<&Entry> = read.iter().filter(|e| matches!(e.event, Event::FloorSet(_))).collect();
    assert_eq!(floors, vec![&entries()[0]; 3], "1 said `spotted`, 2 says `spot`, 3 more of gear");
    for entry in entries() {
        assert!(read.contains(&entry), "{entry:?} is read otherwise than it was meant");
    }
}

#[test]
fn a_pin_is_written_as_one_and_a_mass_as_it_has_always_been() {
    for (load, json) in [
        (Load::Pin { pin: 7 }, serde_json::json!({ "pin": 7 })),
        (kilos(62), serde_json::json!(62_000_000_000_000_i64)),
    ] {
        let event = Event::LoadSet { turn: turn(PAIR, DARA, 1, 0), load };
        let entry = Entry { event, ..entries()[0].clone() };
        let row = encode(&entry).unwrap();
        let written: serde_json::Value = serde_json::from_str(&row.json).unwrap();
        assert_eq!((&written["body"]["load"], row.version), (&json, 1));
        assert_eq!(decode(&row).unwrap(), entry);
    }
}

#[test]
fn a_mapping_from_before_the_offset_was_written_down_has_none() {
    let json = r#"{"at":99000,"by":{"is":"floor"},"body":{"utc_ms":1790000000000}}"#.to_owned();
    let kind = "clock_mapped".into();
    let row = Row { sequence: 3, recorded: FloorMs(100_000), kind, version: 1, json };
    let lifted = Event::ClockMapped { utc_ms: 1_790_000_000_000, offset_secs: 0 };
    assert_eq!(decode(&row).unwrap().event, lifted);
    assert_eq!(encode(&decode(&row).unwrap()).unwrap().version, 2);
}

#[test]
fn an_unknown_kind_version_or_shape_is_named() {
    let good = encode(&entries()[4]).unwrap();
    let unknown = Row { kind: "stations_sold".into(), ..good.clone() };
    assert!(matches!(decode(&unknown), Err(CodecError::Unknown { sequence: 5, .. })));
    let newer = Row { version: 4, ..good.clone() };
    assert!(matches!(decode(&newer), Err(CodecError::Unknown { version: 4, .. })));
    let broken = Row { json: r#"{"at":1,"by":{"is":"floor"},"body":{"group":1}}"#.to_owned(), ..good };
    assert!(matches!(decode(&broken), Err(CodecError::Shape { .. })));
}
