//! Views, rich enough that every part of one occurs with and without what may be left out.

use turnabout_protocol::card::LoadCard;
use turnabout_protocol::command::{CallKind, Defect, Effort, Ending, NoteAbout};
use turnabout_protocol::frame::{Revision, ToDisplay};
use turnabout_protocol::ids::{CallId, ClientId, CoachId, ExerciseId, GroupId, NoteId, StationId, TurnId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Mass, MassUnit, Secs};
use turnabout_protocol::view::{
    After, Attendance, BlockPart, BoardGroup, BoardView, Breathing, CallPart, ClientPart, ClockPart,
    CoachClient, CoachGroup, CoachLine, CoachView, CuesPart, Emergency, ErasedPart, ExerciseChoice,
    ExerciseName, ExpectedTap, FitOffer, FitPart, HaltKind, HaltPart, HelpPart, LastPart, LegChoices, Need,
    NotePart, NoteText, OfferPart, OtherUsePart, OutPart, PhaseWords, PlaceChoice, SetName, SettingChoice,
    SettingPart, Stage, StartsWith, StationLine, StationSettings, StationState, ThenPart, TurnPart,
    TurnPhase, View, WaitPart,
};
use turnabout_protocol::words::Words;
use turnabout_protocol::work::Work;

use crate::admission::{admissions, too_large};
use crate::cards::{at_the_pin, load, plates, unbuilt, with_plates};
use crate::happened::{deeds, happened};
use crate::proposals::proposal;
use crate::ribbon::ribbon;
use crate::run_sheet::{promise, run_sheet};
use crate::to_display::{EAST_OF_UTC, EPOCH};
use crate::to_server::{acts, key, turn};

pub(crate) fn frame(topic: &str, sequence: u64, view: View) -> ToDisplay {
    let revision = Revision { epoch: EPOCH, sequence, plan: 0 };
    ToDisplay::View { topic: topic.parse().expect("a topic"), revision, as_of: FloorMs(100_000), view }
}

fn in_both(en: &str, de: &str) -> Words {
    Words { en: en.to_owned(), de: de.to_owned() }
}

pub(crate) fn press() -> Words {
    in_both("Bench press", "Bankdrücken")
}

fn incline() -> Words {
    in_both("Incline press", "Schrägbankdrücken")
}

pub(crate) fn row() -> Words {
    in_both("Cable row", "Rudern am Kabelzug")
}

pub(crate) fn lat_pulldown() -> Words {
    in_both("Pulldown", "Latzug")
}

fn lowering_first() -> PhaseWords {
    PhaseWords { eccentric: in_both("lower", "senken"), concentric: in_both("press", "drücken") }
}

/// Which time of day which floor time is.
pub(crate) fn clock() -> ClockPart {
    ClockPart { floor: FloorMs(60_000), utc_ms: 1_795_802_400_000 }
}

/// A press under way, spotted, with everything said.
pub(crate) fn pressing() -> TurnPart {
    TurnPart {
        turn: turn(2, 0),
        revision: 8,
        client: "Bram".to_owned(),
        station: Some(StationId(1)),
        exercise: press(),
        set: SetName::Working { n: 2, of: 3 },
        reps: 10,
        work: Work::Reps { least: 8, most: 10 },
        per_side: false,
        tempo: "2-0-2-0".parse().expect("a tempo"),
        starts_with: StartsWith::Eccentric,
        cues: Some(CuesPart { phases: Some(lowering_first()), breathing: Breathing::OutWithEffort }),
        load: Some(with_plates(&load(42_500, Some(30_000), false))),
        spotted: true,
        spotter: Some("Ayla".to_owned()),
        arms: false,
        lift_off: false,
        settings: vec![SettingPart {
            setting: 0,
            name: "hooks".to_owned(),
            value: "7".to_owned(),
            change: true,
        }],
        proposal: None,
        promise: None,
        phase: TurnPhase::UnderWay {
            went: FloorMs(80_000),
            count_in: FloorMs(90_000),
            starts: FloorMs(93_000),
            ends: FloorMs(133_000),
        },
        then: Some(ThenPart { station: "Cable row 1".to_owned(), exercise: row(), changeover: Secs(20) }),
    }
}

/// A press to come, after a rest or at the very start.
pub(crate) fn to_press(after: After, set: SetName, needs: Vec<Need>) -> TurnPart {
    TurnPart {
        set,
        load: Some(LoadCard {
            unbuilt: Some(unbuilt()),
            rack: Some("Rack A".to_owned()),
            belt: Some(vec![Mass::from_grams(10_000)]),
            ..load(60_000, None, false)
        }),
        spotter: None,
        proposal: Some(proposal()),
        promise: Some(promise()),
        phase: TurnPhase::Coming { after, ready: FloorMs(150_000), go_from: FloorMs(140_000), needs },
        ..pressing()
    }
}

/// A row to come, whose load the client asked not to show.
pub(crate) fn to_row() -> TurnPart {
    let after = After::Changeover { since: FloorMs(95_000), limit: FloorMs(115_000) };
    let ready = FloorMs(95_000);
    TurnPart {
        turn: TurnId { client: ClientId(103), leg: 1, ..turn(1, 1) },
        client: "Chidi".to_owned(),
        station: None,
        exercise: row(),
        tempo: "3-1-X-0".parse().expect("a tempo"),
        starts_with: StartsWith::Concentric,
        cues: Some(CuesPart { phases: None, breathing: Breathing::Even }),
        load: None,
        spotted: false,
        spotter: None,
        phase: TurnPhase::Coming { after, ready, go_from: ready, needs: Vec::new() },
        then: None,
        ..pressing()
    }
}

/// The same where the load is set by a pin.
pub(crate) fn to_pull() -> TurnPart {
    TurnPart { client: "Dara".to_owned(), load: Some(at_the_pin()), ..to_row() }
}

pub(crate) fn rest() -> After {
    After::Rest { since: FloorMs(90_000), latest: FloorMs(210_000) }
}

pub(crate) fn every_need() -> Vec<Need> {
    vec![
        Need::Stations,
        Need::TechniquePass,
        Need::StationFree,
        Need::Racked,
        Need::Pair,
        Need::ConfirmLoad,
        Need::Spotter,
        Need::Resume,
        Need::Arrival,
        Need::Briefing,
        Need::Coach,
        Need::OtherUse,
        Need::Service,
        Need::Help,
    ]
}

pub(crate) fn call(kind: CallKind) -> CallPart {
    let (station, place) = (StationId(1), "Bench 1".to_owned());
    let answered = (kind == CallKind::HelpNow).then(|| "Ayla".to_owned());
    CallPart { call: CallId(3), kind, station, place, since: FloorMs(97_000), answered }
}

pub(crate) fn help() -> HelpPart {
    let emergency = Emergency {
        number: "112".to_owned(),
        address: "Example Street 1".to_owned(),
        defibrillator: "front desk".to_owned(),
        first_aid: "by the door".to_owned(),
    };
    HelpPart { call: call(CallKind::HelpNow), emergency }
}

pub(crate) fn halt(halt: HaltKind) -> HaltPart {
    HaltPart { halt, since: FloorMs(98_000) }
}

pub(crate) fn other_use(state: StationState) -> Option<OtherUsePart> {
    (state == StationState::OtherUse).then_some(OtherUsePart { until: FloorMs(900_000) })
}

pub(crate) fn out(state: StationState) -> Option<OutPart> {
    let out = OutPart { defect: Defect::Cable, since: FloorMs(50_000) };
    (state == StationState::OutOfService).then_some(out)
}

fn lines() -> Vec<StationLine> {
    [
        (StationState::InUse, Some(GroupId(1))),
        (StationState::Free, None),
        (StationState::OtherUse, None),
        (StationState::OutOfService, None),
    ]
    .into_iter()
    .zip(1..)
    .map(|((state, group), n)| StationLine {
        station: StationId(n),
        key: key(&format!("bench-{n}")),
        name: format!("Bench {n}"),
        state,
        group,
        shared_with: group.map(|_| GroupId(2)),
        other_use: other_use(state),
        out: out(state),
    })
    .collect()
}

pub(crate) fn boards() -> Vec<ToDisplay> {
    let client = |turn: Option<TurnPart>| ClientPart {
        client: ClientId(102),
        name: "Bram".to_owned(),
        attendance: if turn.is_some() { Attendance::Here } else { Attendance::Left },
        halt: turn.as_ref().map(|_| halt(HaltKind::Stop)),
        in_place_of: turn.as_ref().map(|_| incline()),
        ribbon: turn.iter().flat_map(|_| ribbon()).collect(),
        turn,
    };
    let first = to_press(After::Nothing, SetName::Technique, vec![Need::Stations]);
    let second = to_press(After::Nothing, SetName::Ramp, vec![Need::ConfirmLoad]);
    let stages = [
        (Stage::Expected, None, None),
        (Stage::Gone, None, None),
        (Stage::WarmUp, None, None),
        (Stage::Briefing, None, None),
        (Stage::Waiting, Some(first), None),
        (Stage::Technique, Some(second), Some(halt(HaltKind::Pause))),
        (Stage::Rounds, Some(pressing()), Some(halt(HaltKind::Stop))),
        (Stage::WipeDown, None, None),
        (Stage::Finished, None, None),
    ];
    let groups = stages.into_iter().zip(1..).map(|((stage, turn, halt), n)| BoardGroup {
        group: GroupId(n),
        stage,
        coach: "Ayla".to_owned(),
        place: (stage == Stage::Waiting).then_some(2),
        clients: vec![client(turn)],
        halt,
    });
    let floor = "Lantern Yard floor".to_owned();
    let full = BoardView {
        zone_offset: EAST_OF_UTC,
        clock: clock(),
        closes: Some(FloorMs(7_200_000)),
        floor: floor.clone(),
        groups: groups.collect(),
        stations: lines(),
        happened: happened(),
        help: Some(help()),
    };
    let empty = BoardView {
        zone_offset: 0,
        clock: ClockPart::default(),
        closes: None,
        floor,
        groups: Vec::new(),
        stations: Vec::new(),
        happened: Vec::new(),
        help: None,
    };
    vec![frame("board", 43, View::Board(full)), frame("board", 0, View::Board(empty))]
}

fn last(effort: Option<Effort>) -> LastPart {
    LastPart {
        turn: turn(1, 0),
        exercise: press(),
        load: effort.map(|_| Mass::from_grams(60_000).into()),
        ended: FloorMs(70_000),
        reps: effort.map(|_| 9),
        effort,
        ending: effort.map_or(Ending::Stopped, |_| Ending::Complete),
    }
}

fn pulldown() -> ExerciseChoice {
    ExerciseChoice { exercise: ExerciseId(3), places: vec![StationId(5), StationId(7)] }
}

fn places() -> Vec<PlaceChoice> {
    let place = |n, lightest: Option<i64>| PlaceChoice {
        station: StationId(n),
        lightest: lightest.map(|grams| Mass::from_grams(grams).into()),
        unit: MassUnit::Kg,
    };
    vec![place(5, Some(5_000)), place(7, None)]
}

fn coach_group() -> CoachGroup {
    let client = |n: u32, name: &str, turn: Option<TurnPart>, last| CoachClient {
        client: ClientId(n),
        name: name.to_owned(),
        attendance: if turn.is_some() { Attendance::Here } else { Attendance::Late },
        warmed_up: turn.is_some(),
        briefed: turn.is_some(),
        screening_open: turn.is_none(),
        owed: u8::from(turn.is_none()),
        halt: turn.as_ref().map(|_| halt(HaltKind::Stop)),
        spots: turn.iter().map(|_| ExerciseId(1)).collect(),
        exercise: turn.as_ref().map(|_| ExerciseId(1)),
        in_place_of: turn.as_ref().map(|_| incline()),
        proposals: turn.iter().map(|_| proposal()).collect(),
        ribbon: turn.iter().flat_map(|_| ribbon()).collect(),
        turn,
        last,
    };
    CoachGroup {
        group: GroupId(1),
        revision: 8,
        coach: CoachId(1),
        stage: Stage::Rounds,
        block: BlockPart {
            n: 1,
            of: 2,
            exercises: vec![press(), row()],
            rounds: 3,
            rest_min: Secs(60),
            rest_max: Secs(120),
        },
        stations: vec![StationId(1), StationId(4)],
        suited: vec![vec![StationId(1), StationId(2)], vec![StationId(4)]],
        ahead: vec![StationId(7)],
        waits: Some(WaitPart { place: 2, block: 1 }),
        offer: Some(OfferPart { to: CoachId(2), asks: CoachId(2) }),
        lapses: Some(FloorMs(400_000)),
        no_show: false,
        done: deeds(),
        fit: Some(FitPart {
            by: FloorMs(3_600_000),
            closing: true,
            left: Secs(1_500),
            offers: vec![FitOffer { act: acts().remove(0), left: Secs(1_200) }],
        }),
        choices: vec![LegChoices { leg: 1, stations: vec![StationId(5)], exercises: vec![pulldown()] }],
        too_large: Some(too_large()),
        admissions: admissions(),
        clients: vec![
            client(102, "Bram", Some(pressing()), Some(last(Some(Effort::Rir { reps: 2 })))),
            client(103, "Chidi", Some(to_row()), Some(last(None))),
            client(104, "Dara", None, None),
        ],
        halt: Some(halt(HaltKind::Stop)),
        taps: acts()
            .into_iter()
            .map(|act| ExpectedTap { act, from: FloorMs(100_000), client: Some(ClientId(102)) })
            .collect(),
    }
}

/// A whole note, the beginning of one, and two that were erased.
fn notes() -> Vec<NotePart> {
    let ayla = Actor::Coach { coach: CoachId(1) };
    let erased = Some(ErasedPart { by: ayla, at: FloorMs(90_000) });
    let text = "Prefers the closer bench.".to_owned();
    let texts = [
        NoteText::Whole { text: text.clone() },
        NoteText::Begins { text },
        NoteText::Erased { erased },
        NoteText::Erased { erased: None },
    ];
    let note = |(n, text)| NotePart {
        note: NoteId(n),
        about: NoteAbout::Group { group: GroupId(1) },
        by: ayla,
        at: FloorMs(60_000),
        text,
    };
    (4..).zip(texts).map(note).collect()
}

pub(crate) fn coaches() -> Vec<ToDisplay> {
    let coach = |n, spotting: Option<TurnId>| CoachLine {
        coach: CoachId(n),
        key: key(&format!("coach-{n}")),
        name: format!("Coach {n}"),
        away: spotting.is_none().then_some(FloorMs(500_000)),
        spotting,
    };
    let waiting = CoachGroup {
        group: GroupId(2),
        coach: CoachId(2),
        stage: Stage::Waiting,
        stations: Vec::new(),
        ahead: Vec::new(),
        waits: None,
        offer: None,
        lapses: None,
        no_show: true,
        fit: None,
        choices: Vec::new(),
        too_large: None,
        admissions: Vec::new(),
        halt: None,
        taps: vec![ExpectedTap { act: acts().remove(0), from: FloorMs(0), client: None }],
        ..coach_group()
    };
    let full = CoachView {
        zone_offset: -12_600,
        floor: "Lantern Yard floor".to_owned(),
        me: CoachId(1),
        coaches: vec![coach(1, Some(turn(2, 0))), coach(2, None)],
        stations: lines(),
        groups: vec![coach_group(), waiting],
        calls: vec![call(CallKind::HelpNow), call(CallKind::CoachPlease)],
        run_sheet: run_sheet(),
        exercises: vec![ExerciseName { exercise: ExerciseId(3), name: lat_pulldown() }],
        places: places(),
        plates: vec![plates()],
        settings: vec![StationSettings {
            station: StationId(1),
            settings: vec![SettingChoice {
                name: "hooks".to_owned(),
                values: vec!["6".to_owned(), "7".to_owned()],
            }],
        }],
        notes: notes(),
        older_notes: 3,
        help: Some(help()),
    };
    let quiet = CoachView {
        groups: Vec::new(),
        calls: Vec::new(),
        run_sheet: Vec::new(),
        settings: Vec::new(),
        plates: Vec::new(),
        exercises: Vec::new(),
        places: Vec::new(),
        notes: Vec::new(),
        older_notes: 0,
        help: None,
        ..full.clone()
    };
    vec![frame("coach/coach-1", 44, View::Coach(full)), frame("coach/coach-1", 45, View::Coach(quiet))]
}
