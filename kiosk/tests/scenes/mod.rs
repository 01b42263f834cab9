//! Invented scenes: one for everything a display can show. Used by the tests and the pictures.
#![allow(dead_code, unused_imports, reason = "each user takes its part")]
#![allow(clippy::unwrap_used, reason = "what is invented here is known to be in order")]

mod board;
mod cards;
mod hands;
mod offers;
mod paces;
mod pads;
mod phases;
mod promises;
mod proposals;
mod setups;
mod sheets;
mod troubles;
mod visits;

use std::collections::BTreeSet;

use turnabout_kiosk::face::{
    Face, Going, Known, LastTap, LinkState, Notice, PAGE_MS, Pad, Scene, Visit, face,
};
use turnabout_kiosk::input::Drawn;
use turnabout_protocol::card::{BarPart, GearKind, LoadCard, PlatePart, UnbuiltPart};
use turnabout_protocol::command::{Act, CallKind, Defect};
use turnabout_protocol::frame::Fault;
use turnabout_protocol::ids::{CallId, ClientId, GroupId, StationId, TurnId};
use turnabout_protocol::refusal::{Outcome, Refusal};
use turnabout_protocol::text::Language;
use turnabout_protocol::units::{FloorMs, Mass, MassUnit, Secs, Stamped};
use turnabout_protocol::view::*;
use turnabout_protocol::words::Words;
use turnabout_protocol::work::Work;

pub(crate) use self::board::*;
pub(crate) use self::cards::*;
pub(crate) use self::hands::*;
pub(crate) use self::offers::*;
pub(crate) use self::paces::*;
pub(crate) use self::pads::*;
pub(crate) use self::phases::*;
pub(crate) use self::promises::*;
pub(crate) use self::proposals::*;
pub(crate) use self::setups::*;
pub(crate) use self::sheets::*;
pub(crate) use self::troubles::*;
pub(crate) use self::visits::*;

/// Now, in every scene.
pub(crate) const NOW: FloorMs = FloorMs(1_000_000);

/// Floor time stands still there: what moves is drawn where it is now.
pub(crate) const STILL: Option<Going> = Some(Going { now: NOW, rate: 0 });

/// So many seconds from now.
pub(crate) fn at(secs: i64) -> FloorMs {
    FloorMs(NOW.0 + secs * 1_000)
}

pub(crate) struct Sample {
    pub(crate) name: &'static str,
    pub(crate) view: Option<View>,
    pub(crate) link: LinkState,
    pub(crate) pending: Vec<Act>,
    pub(crate) saving: bool,
    pub(crate) notice: Option<Notice>,
    /// The tap that can be taken back.
    pub(crate) last: Option<LastTap>,
    /// The answers to DONE are open.
    pub(crate) asking: bool,
    /// Real milliseconds since the display started.
    pub(crate) real: u64,
    /// What somebody is saying of the plates.
    pub(crate) pad: Option<Pad>,
    /// The sets whose pacer is off.
    pub(crate) unpaced: BTreeSet<TurnId>,
    /// A coach who has come.
    pub(crate) visit: Visit,
    /// What hands do on it.
    pub(crate) hands: Drawn,
}

impl Sample {
    pub(crate) fn new(name: &'static str, view: View) -> Self {
        Self {
            name,
            view: Some(view),
            link: LinkState::Up,
            pending: Vec::new(),
            saving: false,
            notice: None,
            last: None,
            asking: false,
            real: 0,
            pad: None,
            unpaced: BTreeSet::new(),
            visit: Visit::default(),
            hands: Drawn::default(),
        }
    }

    pub(crate) fn face(&self, language: Language) -> Face {
        self.face_at(NOW, language)
    }

    pub(crate) fn face_at(&self, now: FloorMs, language: Language) -> Face {
        self.face_with(now, self.real, language, &self.visit)
    }

    /// The same where another coach may have come.
    pub(crate) fn face_with(&self, now: FloorMs, real: u64, language: Language, visit: &Visit) -> Face {
        let known = self.view.clone().map(|view| Known { view, as_of: at(-3) });
        face(&Scene {
            known: known.as_ref(),
            link: &self.link,
            now: Some(now),
            real,
            language,
            focus: None,
            pending: &self.pending,
            saving: self.saving,
            notice: self.notice.as_ref(),
            last: self.last.as_ref(),
            pad: self.pad.as_ref(),
            unpaced: &self.unpaced,
            visit,
        })
    }
}

pub(crate) fn turn_id(client: u32, round: u8, leg: u8) -> TurnId {
    TurnId { group: GroupId(1), client: ClientId(client), block: 0, round, leg }
}

/// The names of the catalogue.
pub(crate) fn press() -> Words {
    in_both("Bench press", "Bankdrücken")
}

pub(crate) fn cable_row() -> Words {
    in_both("Cable row", "Rudern am Kabelzug")
}

pub(crate) fn in_both(en: &str, de: &str) -> Words {
    Words { en: en.into(), de: de.into() }
}

pub(crate) fn card(total: &str, on_now: Option<&str>, confirmed: bool) -> LoadCard {
    let mass = |text: &str| text.parse::<Stamped>().unwrap().mass;
    let plain = LoadCard::new(GearKind::Bar, mass(total), MassUnit::Kg);
    LoadCard { on_now: on_now.map(|on| mass(on).into()), confirmed, ..plain }
}

/// The plates of each side, and what to change, by the numbers stamped on them.
pub(crate) fn with_plates(card: &LoadCard, side: &str, strip: &str, add: &str) -> LoadCard {
    let mass = |text: &str| format!("{text} kg").parse::<Stamped>().unwrap().mass;
    let plates = |list: &str| {
        let plate = |text: &str| PlatePart { mass: mass(text), full: mass(text) >= mass("10") };
        list.split_whitespace().map(plate).collect::<Vec<_>>()
    };
    let (side, strip, add) = (plates(side), plates(strip), plates(add));
    let known = card.on_now.is_some();
    let (alone, together) = (Secs(35), Secs(13));
    let bar = BarPart {
        bar: mass("20"),
        other_bar: false,
        collar: Mass::ZERO,
        side,
        known,
        strip,
        add,
        alone,
        together,
    };
    LoadCard { bar: Some(bar), ..card.clone() }
}

pub(crate) fn coming(after: After, ready: i64, go_from: i64, needs: &[Need]) -> TurnPhase {
    TurnPhase::Coming { after, ready: at(ready), go_from: at(go_from), needs: needs.to_vec() }
}

/// Under way, the first repetition `starts` seconds from now; eleven seconds before it GO was said.
pub(crate) fn under_way(starts: i64) -> TurnPhase {
    TurnPhase::UnderWay {
        went: at(starts - 11),
        count_in: at(starts - 3),
        starts: at(starts),
        ends: at(starts + 40),
    }
}

/// What a pacer says, with the breath out with the effort.
pub(crate) fn cues(eccentric: (&str, &str), concentric: (&str, &str)) -> CuesPart {
    let words = |(en, de)| in_both(en, de);
    let phases = PhaseWords { eccentric: words(eccentric), concentric: words(concentric) };
    CuesPart { phases: Some(phases), breathing: Breathing::OutWithEffort }
}

/// It is ten to seven in the evening at the floor.
pub(crate) fn clock() -> ClockPart {
    // 2026-11-25T16:50:00Z, two hours west of the floor's clocks.
    ClockPart { floor: NOW, utc_ms: 1_795_625_400_000 }
}

/// A bench press of Ayla's: the second of three sets of ten at 2-0-2-0, spotted by Edda.
pub(crate) fn bench(phase: TurnPhase) -> TurnPart {
    TurnPart {
        turn: turn_id(1, 2, 0),
        revision: 7,
        client: "Ayla".into(),
        station: Some(StationId(1)),
        exercise: press(),
        set: SetName::Working { n: 2, of: 3 },
        reps: 10,
        work: Work::reps(10),
        per_side: false,
        arms: false,
        lift_off: false,
        settings: Vec::new(),
        proposal: None,
        promise: None,
        tempo: "2-0-2-0".parse().unwrap(),
        starts_with: StartsWith::Eccentric,
        cues: Some(cues(("lower", "senken"), ("press", "drücken"))),
        load: Some(with_plates(&card("42.5 kg", Some("42.5 kg"), true), "10 1.25", "", "")),
        spotted: true,
        spotter: Some("Edda".into()),
        phase,
        then: Some(ThenPart { station: "Row 1".into(), exercise: cable_row(), changeover: Secs(30) }),
    }
}

/// A cable row of Bram's.
pub(crate) fn row(phase: TurnPhase) -> TurnPart {
    TurnPart {
        turn: turn_id(2, 2, 1),
        client: "Bram".into(),
        station: Some(StationId(2)),
        exercise: cable_row(),
        starts_with: StartsWith::Concentric,
        cues: Some(cues(("return", "zurück"), ("pull", "ziehen"))),
        load: Some(LoadCard { gear: GearKind::Stack, ..card("55 kg", None, true) }),
        spotted: false,
        spotter: None,
        then: None,
        ..bench(phase)
    }
}

pub(crate) fn station(n: u16, name: &str, gear: GearKind, turn: Option<TurnPart>) -> StationPart {
    let state = match &turn {
        Some(TurnPart { phase: TurnPhase::UnderWay { .. }, .. }) => StationState::InUse,
        Some(_) => StationState::Reserved,
        None => StationState::Free,
    };
    StationPart {
        station: StationId(n),
        key: name.to_lowercase().replace(' ', "-").parse().unwrap(),
        name: name.into(),
        gear,
        state,
        claim: turn.as_ref().map(|_| ClaimPart { group: GroupId(1), block: 0 }),
        arms: false,
        shared_with: None,
        other_use: None,
        out: None,
        lapses: None,
        turn,
        partners: Vec::new(),
        next: None,
        free: None,
        coach: None,
        leaving: None,
        jobs: None,
        finished: None,
        ask_efforts: Vec::new(),
        halt: None,
        plates: None,
        calls: Vec::new(),
    }
}

pub(crate) fn bench_1(phase: TurnPhase) -> StationPart {
    let next = Some(NextPart { client: "Bram".into(), ready: at(80), promise: None });
    StationPart { next, ..station(1, "Bench 1", GearKind::Bar, Some(bench(phase))) }
}

pub(crate) fn row_1(phase: TurnPhase) -> StationPart {
    station(2, "Row 1", GearKind::Stack, Some(row(phase)))
}

pub(crate) fn view(stations: Vec<StationPart>) -> View {
    View::Station(StationView { zone_offset: 7_200, clock: clock(), stations, help: None })
}

pub(crate) fn rest(secs: i64) -> After {
    After::Rest { since: at(secs - 60), latest: at(secs + 60) }
}

pub(crate) fn help() -> HelpPart {
    HelpPart {
        call: CallPart {
            call: CallId(4),
            kind: CallKind::HelpNow,
            station: StationId(5),
            place: "Rack 2".into(),
            since: at(-42),
            answered: None,
        },
        emergency: Emergency {
            number: "112".into(),
            address: "Example Street 1, rear entrance, first floor".into(),
            defibrillator: "beside the front desk, left of the door".into(),
            first_aid: "white cabinet between Row 1 and the pulldown".into(),
        },
    }
}

pub(crate) fn halted(part: StationPart, halt: HaltKind) -> StationPart {
    StationPart { halt: Some(HaltPart { halt, since: at(-20) }), ..part }
}

pub(crate) fn asked(part: StationPart) -> StationPart {
    let ask = AskEffort { turn: turn_id(2, 1, 0), client: "Bram".into(), exercise: press(), until: None };
    StationPart { ask_efforts: vec![ask], ..part }
}

/// Every scene of one station.
pub(crate) fn one_station() -> Vec<Sample> {
    let one = |name, part: StationPart| Sample::new(name, view(vec![part]));
    let needs_load = {
        let mut part = bench_1(coming(After::Nothing, -5, -5, &[Need::ConfirmLoad, Need::Spotter]));
        if let Some(turn) = &mut part.turn {
            turn.load =
                Some(with_plates(&card("82.5 kg", Some("40 kg"), false), "20 10 1.25", "10", "20 10 1.25"));
            turn.spotter = None;
        }
        part.plates = bench_with_plates().plates;
        part
    };
    let no_plates = {
        let mut part = needs_load.clone();
        if let Some(turn) = &mut part.turn {
            let mass = |text: &str| text.parse::<Stamped>().unwrap().mass;
            let unbuilt =
                Some(UnbuiltPart { below: Some(mass("80 kg")), above: Some(mass("85 kg")), at: Vec::new() });
            turn.load = Some(LoadCard { unbuilt, ..card("82.5 kg", Some("40 kg"), false) });
        }
        part
    };
    let technique = {
        let mut part = bench_1(coming(After::Nothing, -5, -5, &[Need::TechniquePass, Need::ConfirmLoad]));
        if let Some(turn) = &mut part.turn {
            turn.set = SetName::Technique;
            turn.reps = 4;
        }
        part
    };
    let wipe_down = StationPart {
        state: StationState::WipeDown,
        claim: Some(ClaimPart { group: GroupId(1), block: 0 }),
        ..station(1, "Bench 1", GearKind::Bar, None)
    };
    let called = {
        let mut part = bench_1(coming(rest(34), 34, 34, &[]));
        part.calls.push(CallPart {
            call: CallId(3),
            kind: CallKind::CoachPlease,
            station: StationId(1),
            place: "Bench 1".into(),
            since: at(-9),
            answered: None,
        });
        part
    };
    vec![
        one("free", station(1, "Bench 1", GearKind::Bar, None)),
        one("coming", bench_1(coming(After::Nothing, 95, 95, &[Need::StationFree]))),
        one("needs-load", needs_load),
        one("no-plates", no_plates),
        one("held", technique),
        one("rest", called),
        one("rest-effort", asked(bench_1(coming(rest(34), 34, 34, &[Need::Racked])))),
        one("ready", bench_1(coming(rest(-17), -17, -17, &[]))),
        one(
            "changeover",
            row_1(coming(After::Changeover { since: at(-12), limit: at(18) }, 3, 3, &[Need::ConfirmLoad])),
        ),
        one("get-set", bench_1(under_way(8))),
        one("count-in", bench_1(under_way(2))),
        one("working", bench_1(under_way(-13))),
        one("assumed", bench_1(under_way(-52))),
        Sample { asking: true, ..one("asking", bench_1(under_way(-36))) },
        one("wipe-down", wipe_down),
        one("paused", halted(bench_1(coming(rest(20), 20, 20, &[Need::Resume])), HaltKind::Pause)),
        one("stopped-rack", halted(bench_1(under_way(-13)), HaltKind::Stop)),
        one("stopped-wait", halted(row_1(coming(rest(20), 20, 20, &[Need::Resume])), HaltKind::Stop)),
    ]
}

/// Every scene of one station on an evening that does not go by the book.
pub(crate) fn eventful_stations() -> Vec<Sample> {
    let one = |name, part: StationPart| Sample::new(name, view(vec![part]));
    let with = |name, part: StationPart, change: fn(&mut TurnPart)| {
        let mut part = part;
        change(part.turn.as_mut().unwrap());
        one(name, part)
    };
    let resting = || bench_1(coming(rest(34), 34, 34, &[]));
    let other_use = StationPart {
        state: StationState::OtherUse,
        other_use: Some(OtherUsePart { until: at(700) }),
        ..station(1, "Bench 1", GearKind::Bar, None)
    };
    let out = StationPart {
        state: StationState::OutOfService,
        out: Some(OutPart { defect: Defect::Cable, since: at(-60) }),
        ..row_1(coming(rest(15), 15, 15, &[Need::Service]))
    };
    let lapses = Some(LapsePart { group: GroupId(1), at: at(250) });
    let arms =
        StationPart { arms: true, ..bench_1(coming(rest(-4), -4, -4, &[Need::ConfirmLoad, Need::Spotter])) };
    vec![
        one("other-use", other_use),
        one("out-of-service", out),
        one("still-there", StationPart { lapses, ..bench_1(coming(rest(-400), -400, -400, &[])) }),
        with("arms-wanted", arms, |turn| turn.spotter = None),
        with("range-per-side", row_1(coming(rest(-4), -4, -4, &[])), |turn| {
            turn.work = Work::Reps { least: 8, most: 10 };
            turn.per_side = true;
        }),
        with("hold", row_1(under_way(-13)), |turn| turn.work = Work::Hold { secs: Secs(40) }),
        with("settings", resting(), |turn| {
            let setting = |setting, name: &str, value: &str, change| SettingPart {
                setting,
                name: name.into(),
                value: value.into(),
                change,
            };
            turn.settings = vec![setting(1, "hooks", "7", true), setting(0, "bench", "flat", false)];
        }),
        with("arms", resting(), |turn| {
            turn.spotter = None;
            turn.arms = true;
        }),
        with("lift-off", resting(), |turn| turn.lift_off = true),
    ]
}

/// Every scene of several stations.
pub(crate) fn several_stations() -> Vec<Sample> {
    let four = |phase: TurnPhase| {
        let mut rack = station(3, "Rack 1", GearKind::Bar, Some(row(coming(rest(50), 50, 50, &[]))));
        rack.turn.as_mut().unwrap().client = "Chidi".into();
        let pulldown = station(4, "Pulldown 1", GearKind::Stack, None);
        vec![bench_1(phase), row_1(under_way(-52)), rack, pulldown]
    };
    let lost = LinkState::Lost { since: at(-73) };
    let with_help = |stations| {
        View::Station(StationView { zone_offset: 0, clock: clock(), stations, help: Some(help()) })
    };
    vec![
        Sample::new("two", view(vec![bench_1(under_way(-13)), row_1(coming(rest(15), 15, 15, &[]))])),
        Sample::new(
            "two-effort",
            view(vec![asked(bench_1(coming(rest(9), 9, 9, &[]))), row_1(under_way(-5))]),
        ),
        Sample::new("four", view(four(under_way(2)))),
        Sample { asking: true, ..Sample::new("four-asking", view(four(coming(rest(90), 90, 90, &[])))) },
        Sample { link: lost, ..Sample::new("help-lost", with_help(vec![bench_1(under_way(-13))])) },
        Sample::new("help", with_help(vec![bench_1(under_way(-13))])),
        Sample::new("help-four", with_help(four(under_way(2)))),
        Sample::new("help-stopped", with_help(vec![halted(bench_1(under_way(-13)), HaltKind::Stop)])),
        Sample::new(
            "help-stopped-four",
            with_help(four(under_way(-13)).into_iter().map(|part| halted(part, HaltKind::Stop)).collect()),
        ),
    ]
}

/// Every scene.
pub(crate) fn all() -> Vec<Sample> {
    let stations = [one_station(), eventful_stations(), several_stations(), cards(), pads(), proposals()];
    let others = [promises(), offers(), troubles(), phases(), paces(), hands(), boards(), visits()];
    stations.into_iter().chain(others).flatten().collect()
}
