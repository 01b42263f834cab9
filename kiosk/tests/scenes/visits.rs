//! Scenes of a coach who has come for the own run sheet.

use turnabout_kiosk::face::{Let, Sheet, Step, Unlet};
use turnabout_protocol::ids::CoachId;
use turnabout_protocol::promise::StartReason;

use super::*;

/// A row of a run sheet: who, at which station, what for, in how many seconds, and why then.
pub(crate) fn run_row(who: &str, n: u16, task: CoachTask, secs: i64, reason: StartReason) -> RunRow {
    // No two have the same load, so that each is told from the others by it.
    let load = match (n, who) {
        (2, _) => LoadCard { gear: GearKind::Stack, ..card("55 kg", None, true) },
        (3, _) => card("70 kg", None, true),
        (_, "Wanja") => card("62.5 kg", None, true),
        (_, "Hana") => with_plates(&card("82.5 kg", Some("82.5 kg"), true), "20 10 1.25", "", ""),
        _ => card("82.5 kg", None, true),
    };
    RunRow {
        turn: turn_id(u32::from(n), 2, 0),
        client: who.into(),
        station: StationId(n),
        exercise: press(),
        set: SetName::Working { n: 2, of: 3 },
        task,
        start: at(secs),
        reason,
        told: secs < 60,
        about: secs >= 40,
        load: Some(load),
    }
}

/// What Edda's page knows.
pub(crate) fn page_of_edda(run_sheet: Vec<RunRow>, calls: Vec<CallPart>) -> CoachView {
    let coach = |n, name: &str| CoachLine {
        coach: CoachId(n),
        key: name.to_lowercase().parse().unwrap(),
        name: name.into(),
        spotting: None,
        away: None,
    };
    let line = |n, name: &str| StationLine {
        station: StationId(n),
        key: name.to_lowercase().replace(' ', "-").parse().unwrap(),
        name: name.into(),
        state: StationState::Reserved,
        group: None,
        shared_with: None,
        other_use: None,
        out: None,
    };
    CoachView {
        zone_offset: 7_200,
        floor: "Hall".into(),
        me: CoachId(1),
        coaches: vec![coach(0, "Quinn"), coach(1, "Edda")],
        stations: vec![line(1, "Bench 1"), line(2, "Row 1"), line(3, "Rack 1"), line(5, "Rack 2")],
        groups: Vec::new(),
        calls,
        run_sheet,
        settings: Vec::new(),
        plates: Vec::new(),
        exercises: Vec::new(),
        places: Vec::new(),
        notes: Vec::new(),
        older_notes: 0,
        help: None,
    }
}

/// Somebody at Bench 1 asks for a coach, who may be on the way.
pub(crate) fn please(answered: Option<&str>) -> CallPart {
    CallPart {
        call: CallId(3),
        kind: CallKind::CoachPlease,
        station: StationId(1),
        place: "Bench 1".into(),
        since: at(-42),
        answered: answered.map(Into::into),
    }
}

/// Four who need Edda.
pub(crate) fn four_rows() -> Vec<RunRow> {
    vec![
        run_row("Hana", 5, CoachTask::Spot, 18, StartReason::Rest),
        run_row("Bram", 2, CoachTask::Watch, 45, StartReason::SpotterBusy),
        run_row("Marit", 3, CoachTask::Spot, 75, StartReason::Turns),
        run_row("Wanja", 5, CoachTask::Spot, 130, StartReason::Later),
    ]
}

/// A coach has come, and these keys were pressed.
pub(crate) fn visit(steps: &[Step]) -> Visit {
    let mut visit = Visit::default();
    visit.want(true, 0);
    steps.iter().for_each(|step| visit.press(step, 0));
    visit
}

/// So many digits.
pub(crate) fn digits(count: u8) -> Vec<Step> {
    (1..=count).map(|digit| Step::Digit { digit }).collect()
}

/// A PIN was sent.
pub(crate) fn pin_sent() -> Visit {
    let mut visit = visit(&digits(4));
    visit.press(&Step::Show, 0);
    visit.asks().unwrap();
    visit
}

/// So many PINs were answered so.
pub(crate) fn unlet(times: u32, why: Unlet) -> Visit {
    let mut visit = pin_sent();
    visit.heard(Let::Out(why), 0);
    for _ in 1..times {
        digits(4).iter().for_each(|step| visit.press(step, 0));
        visit.press(&Step::Show, 0);
        visit.heard(Let::Out(why), 0);
    }
    visit
}

/// The sheet is open.
pub(crate) fn sheet_of(view: &CoachView) -> Visit {
    let mut visit = pin_sent();
    visit.heard(Let::In(Box::new(Sheet::of(view))), 0);
    visit
}

/// It was asked for where it would hide something.
fn turned_away() -> Visit {
    let mut visit = Visit::default();
    visit.want(false, 0);
    visit
}

/// Every scene of them.
pub(crate) fn visits() -> Vec<Sample> {
    let resting = || view(vec![bench_1(coming(rest(34), 34, 34, &[]))]);
    let ready = || view(vec![bench_1(coming(rest(-17), -17, -17, &[]))]);
    let two = || view(vec![bench_1(coming(rest(34), 34, 34, &[])), row_1(under_way(-5))]);
    let is = |name, view: View, visit: Visit| Sample { visit, ..Sample::new(name, view) };
    let full = || sheet_of(&page_of_edda(four_rows(), Vec::new()));
    let called = || sheet_of(&page_of_edda(four_rows(), vec![please(None)]));
    let empty = || sheet_of(&page_of_edda(Vec::new(), Vec::new()));
    vec![
        is("visit-digits", resting(), visit(&digits(3))),
        is("visit-digits-ready", ready(), visit(&digits(4))),
        is("visit-digits-two", two(), visit(&digits(8))),
        is("visit-asking", resting(), pin_sent()),
        is("visit-wrong", resting(), unlet(1, Unlet::Wrong)),
        is("visit-nobody", resting(), unlet(1, Unlet::Nobody)),
        is("visit-waits", resting(), unlet(3, Unlet::Wrong)),
        is("visit-sheet", resting(), full()),
        is("visit-sheet-called", ready(), called()),
        is("visit-sheet-two", two(), full()),
        is("visit-sheet-load", resting(), sheet_of(&page_before_rows(to_confirm(&[Need::ConfirmLoad])))),
        is("visit-sheet-explain", resting(), sheet_of(&page_with(to_explain()))),
        is("visit-sheet-decide", resting(), sheet_of(&page_with(unbuilt()))),
        is(
            "visit-sheet-pass",
            resting(),
            sheet_of(&page_before_rows(to_pass(coming(rest(400), 400, 400, &[])))),
        ),
        is("visit-sheet-every", resting(), sheet_of(&full_page())),
        is("visit-sheet-empty", resting(), empty()),
        is("visit-busy", view(vec![bench_1(under_way(-13))]), turned_away()),
        is("visit-board-digits", View::Board(spot_board()), visit(&digits(4))),
        is("visit-board-sheet", View::Board(spot_board()), called()),
    ]
}
