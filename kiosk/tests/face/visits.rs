//! A coach at a display: what is typed, what that opens, and what closes it.

use turnabout_kiosk::face::{
    ASK_MS, BUSY_MS, Body, DigitsFace, Face, IDLE_MS, LONGEST_WAIT_MS, Let, LinkState, Pin, SLIPS, STAY_MS,
    Sheet, SheetFace, Step, Unlet, Visit, VisitFace, WAIT_MS,
};
use turnabout_protocol::text::Language;
use turnabout_protocol::view::*;

use crate::scenes::*;

const EN: Language = Language::En;

/// A resting station at which somebody has come.
fn face_of(visit: &Visit, real: u64) -> Face {
    let sample = Sample::new("", view(vec![bench_1(coming(rest(34), 34, 34, &[]))]));
    sample.face_with(NOW, real, EN, visit)
}

fn pad_of(visit: &Visit, real: u64) -> DigitsFace {
    match face_of(visit, real).visit {
        Some(VisitFace::Digits { digits }) => digits,
        other => panic!("a pad: {other:?}"),
    }
}

pub(crate) fn sheet_face(visit: &Visit, real: u64, language: Language) -> SheetFace {
    let sample = Sample::new("", view(vec![bench_1(coming(rest(34), 34, 34, &[]))]));
    match sample.face_with(NOW, real, language, visit).visit {
        Some(VisitFace::Sheet { sheet }) => sheet,
        other => panic!("a sheet: {other:?}"),
    }
}

/// Which keys can be pressed.
fn live(pad: &DigitsFace) -> Vec<&str> {
    pad.digits.iter().chain(&pad.row).filter(|key| key.enabled).map(|key| key.name.as_str()).collect()
}

#[test]
fn where_nobody_has_come_nothing_of_it_is_drawn() {
    for sample in all().iter().filter(|sample| sample.visit == Visit::default()) {
        let face = sample.face(EN);
        assert_eq!((face.visit, face.aside.as_str()), (None, ""), "{}", sample.name);
    }
}

#[test]
fn four_to_eight_digits_are_typed_and_seen_as_dots() {
    let mut coach = visit(&[]);
    let pad = pad_of(&coach, 0);
    assert_eq!(
        (pad.title.as_str(), pad.dots.as_str()),
        ("Coach: type your PIN to see who needs you.", "· · · ·")
    );
    let ten: Vec<String> = [1, 2, 3, 4, 5, 6, 7, 8, 9, 0].map(|digit| format!("digit-{digit}")).into();
    let with = |more: &[&str]| -> Vec<String> {
        ten.iter().cloned().chain(more.iter().map(|k| (*k).into())).collect()
    };
    assert_eq!(live(&pad), with(&["close"]));
    for (typed, keys) in [
        (1, &["close", "rub"][..]),
        (3, &["close", "rub"]),
        (4, &["close", "rub", "show"]),
        (7, &["close", "rub", "show"]),
    ] {
        let pad = pad_of(&visit(&digits(typed)), 0);
        assert_eq!(pad.dots.matches('•').count(), usize::from(typed));
        assert_eq!(live(&pad), with(keys), "{typed}");
    }
    let full = visit(&[digits(8), digits(1)].concat());
    assert_eq!(live(&pad_of(&full, 0)), ["close", "rub", "show"], "no PIN is longer");
    assert_eq!(pad_of(&full, 0).dots, "• • • • • • • •");
    // What is wiped out is not sent.
    for step in [
        Step::Digit { digit: 9 },
        Step::Rub,
        Step::Digit { digit: 4 },
        Step::Digit { digit: 0 },
        Step::Digit { digit: 7 },
        Step::Digit { digit: 7 },
        Step::Show,
    ] {
        coach.press(&step, 0);
    }
    assert_eq!(coach.asks().map(Pin::into_digits), Some(vec![4, 0, 7, 7]));
    assert_eq!(coach.asks(), None, "once");
}

#[test]
fn nobody_reads_a_pin_off_anything_but_what_is_sent() {
    let coach = visit(&[
        Step::Digit { digit: 7 },
        Step::Digit { digit: 3 },
        Step::Digit { digit: 7 },
        Step::Digit { digit: 9 },
    ]);
    for said in [format!("{coach:?}"), format!("{coach:#?}")] {
        assert!(!said.contains(['7', '3', '9']), "{said}");
    }
    let other = visit(&digits(4));
    let text = |visit| serde_json::to_string(&face_of(visit, 0)).unwrap();
    assert_eq!(text(&coach), text(&other), "nor does the face say which digits they are");
}

#[test]
fn a_pad_that_nobody_touches_gives_up() {
    let mut coach = visit(&digits(2));
    assert!(face_of(&coach, IDLE_MS - 1).visit.is_some());
    assert_eq!(face_of(&coach, IDLE_MS).visit, None);
    coach.press(&Step::Digit { digit: 3 }, IDLE_MS - 1);
    assert_eq!(pad_of(&coach, 2 * IDLE_MS - 2).dots, "• • • ·");
    assert_eq!(face_of(&coach, 2 * IDLE_MS - 1).visit, None);
    // What was typed is gone with it.
    coach.want(true, 3 * IDLE_MS);
    assert_eq!(pad_of(&coach, 3 * IDLE_MS).dots, "· · · ·");
    coach.press(&Step::Close, 3 * IDLE_MS);
    assert_eq!(face_of(&coach, 3 * IDLE_MS).visit, None);
}

#[test]
fn whoever_is_asked_has_some_seconds() {
    let mut coach = pin_sent();
    assert_eq!(pad_of(&coach, ASK_MS - 1).title, "Asking who needs you");
    assert_eq!(live(&pad_of(&coach, 0)), ["close"], "nothing is typed meanwhile");
    assert!(coach.listens(ASK_MS - 1) && !coach.listens(ASK_MS));
    assert_eq!(pad_of(&coach, ASK_MS).title, "Nobody answers. Try again, or ask another coach.");
    assert_eq!(face_of(&coach, ASK_MS + IDLE_MS).visit, None);
    // Whoever answers too late is not heard.
    coach.heard(Let::In(Box::new(Sheet::of(&page_of_edda(four_rows(), Vec::new())))), ASK_MS + 1);
    assert_eq!(pad_of(&coach, ASK_MS + 1).dots, "· · · ·");
    coach.press(&Step::Digit { digit: 1 }, ASK_MS + 2);
    assert_eq!(pad_of(&coach, ASK_MS + 2).dots, "• · · ·");
}

#[test]
fn after_three_wrong_pins_the_pad_waits_and_longer_each_time() {
    let wrong = |times| unlet(times, Unlet::Wrong);
    assert_eq!(pad_of(&wrong(1), 0).title, "That PIN is no coach's. Type it again.");
    assert_eq!(pad_of(&wrong(SLIPS - 1), 0).title, "That PIN is no coach's. Type it again.");
    assert_eq!(pad_of(&unlet(9, Unlet::Nobody), 0).title, "Nobody answers. Try again, or ask another coach.");
    let mut coach = wrong(SLIPS);
    assert_eq!(pad_of(&coach, 0).title, "Several wrong PINs. Again in 0:30.");
    assert_eq!(live(&pad_of(&coach, 0)), ["close"]);
    // It waits whether the pad is open or not.
    coach.press(&Step::Digit { digit: 1 }, 1);
    coach.press(&Step::Close, 2);
    coach.want(true, WAIT_MS - 1_000);
    assert_eq!(pad_of(&coach, WAIT_MS - 1_000).title, "Several wrong PINs. Again in 0:01.");
    assert_eq!(pad_of(&coach, WAIT_MS).title, "Coach: type your PIN to see who needs you.");
    let mut now = WAIT_MS;
    let mut again = |coach: &mut Visit, answer: Let| {
        coach.want(true, now);
        digits(4).iter().for_each(|step| coach.press(step, now));
        coach.press(&Step::Show, now);
        coach.heard(answer, now);
        let mut waits = 0;
        while let Some(VisitFace::Digits { digits }) = face_of(coach, now + waits).visit {
            if !digits.title.starts_with("Several") {
                break;
            }
            coach.want(true, now + waits);
            // A touch keeps it open.
            coach.press(&Step::Rub, now + waits);
            waits += 1_000;
        }
        now += waits;
        waits
    };
    let out = || Let::Out(Unlet::Wrong);
    let waits: Vec<u64> = (0..4).map(|_| again(&mut coach, out())).collect();
    assert_eq!(waits, [2 * WAIT_MS, 4 * WAIT_MS, 8 * WAIT_MS, LONGEST_WAIT_MS]);
    // The right one ends it.
    again(&mut coach, Let::In(Box::new(Sheet::of(&page_of_edda(Vec::new(), Vec::new())))));
    coach.press(&Step::Close, 10_000_000);
    coach.want(true, 10_000_000);
    digits(4).iter().for_each(|step| coach.press(step, 10_000_000));
    coach.press(&Step::Show, 10_000_000);
    coach.heard(out(), 10_000_000);
    assert_eq!(pad_of(&coach, 10_000_000).title, "That PIN is no coach's. Type it again.");
}

#[test]
fn that_it_waits_outlives_another_link() {
    let mut coach = unlet(SLIPS, Unlet::Wrong);
    coach.begin_anew(10_000);
    assert_eq!(face_of(&coach, 0).visit, None);
    coach.want(true, 0);
    assert_eq!(pad_of(&coach, 0).title, "Several wrong PINs. Again in 0:20.");
}

#[test]
fn a_sheet_stays_a_minute_and_a_tap_keeps_it_one_longer() {
    let page = page_of_edda(four_rows(), Vec::new());
    let mut coach = sheet_of(&page);
    assert_eq!(sheet_face(&coach, 0, EN).stays, "closes in 1:00");
    assert_eq!(sheet_face(&coach, STAY_MS - 1, EN).stays, "closes in 0:01");
    assert_eq!(face_of(&coach, STAY_MS).visit, None);
    coach.press(&Step::Stay, STAY_MS - 1_000);
    assert_eq!(sheet_face(&coach, STAY_MS - 1_000, EN).stays, "closes in 1:01");
    for _ in 0..9 {
        coach.press(&Step::Stay, STAY_MS);
    }
    assert_eq!(sheet_face(&coach, STAY_MS, EN).stays, "closes in 2:00", "a screen is not to be kept");
    // What changes meanwhile is shown, and keeps it no longer.
    coach.heard(Let::In(Box::new(Sheet::of(&page_of_edda(Vec::new(), Vec::new())))), STAY_MS);
    let empty = sheet_face(&coach, STAY_MS, EN);
    assert_eq!((empty.nobody.as_str(), empty.needs.len()), ("Nobody needs you now", 0));
    assert_eq!(face_of(&coach, 3 * STAY_MS).visit, None);
    coach.press(&Step::Close, STAY_MS);
    assert_eq!(face_of(&coach, STAY_MS).visit, None);
    let mut gone = sheet_of(&page);
    gone.heard(Let::Out(Unlet::Nobody), 1);
    assert_eq!(face_of(&gone, 1).visit, None, "what nobody keeps up is not left standing");
}

/// The sheet is open at these stations.
fn at_stations(parts: Vec<StationPart>) -> Face {
    let coach = sheet_of(&page_of_edda(four_rows(), Vec::new()));
    Sample::new("", view(parts)).face_with(NOW, 0, EN, &coach)
}

#[test]
fn from_go_until_a_set_is_done_and_while_something_is_stopped_the_station_has_its_place() {
    let rests = || row_1(coming(rest(34), 34, 34, &[]));
    for (what, part) in [
        ("get set", bench_1(under_way(8))),
        ("count-in", bench_1(under_way(2))),
        ("under way", bench_1(under_way(-13))),
        ("as good as done", bench_1(under_way(-52))),
        ("rack it", halted(bench_1(under_way(-13)), HaltKind::Stop)),
        ("do not start", halted(bench_1(coming(rest(20), 20, 20, &[])), HaltKind::Stop)),
    ] {
        assert_eq!(at_stations(vec![part]).visit, None, "{what}");
    }
    // Whoever counts in anywhere has the large place; a set that is under way in the strip stays there.
    assert_eq!(at_stations(vec![rests(), bench_1(under_way(2))]).visit, None);
    let two = at_stations(vec![bench_1(coming(rest(9), 9, 9, &[])), row_1(under_way(-5))]);
    assert!(two.visit.is_some());
    let Body::Stations { panels } = &two.body else { panic!("stations") };
    assert_eq!(panels.len(), 2, "both are in the strip");
    for live in [coming(rest(34), 34, 34, &[]), coming(rest(-17), -17, -17, &[])] {
        assert!(at_stations(vec![bench_1(live)]).visit.is_some());
    }
}

#[test]
fn help_and_a_lost_link_close_it() {
    let coach = sheet_of(&page_of_edda(four_rows(), Vec::new()));
    let part = || bench_1(coming(rest(34), 34, 34, &[]));
    let help = View::Station(StationView {
        zone_offset: 0,
        clock: clock(),
        stations: vec![part()],
        help: Some(help()),
    });
    assert_eq!(Sample::new("", help).face_with(NOW, 0, EN, &coach).visit, None);
    let lost = Sample { link: LinkState::Lost { since: at(-3) }, ..Sample::new("", view(vec![part()])) };
    assert_eq!(lost.face_with(NOW, 0, EN, &coach).visit, None);
    let wall = Sample::new("", View::Board(spot_board()));
    assert!(wall.face_with(NOW, 0, EN, &coach).visit.is_some());
}

#[test]
fn whoever_comes_while_that_would_hide_something_is_told_so_for_a_moment() {
    let sample = Sample::new("", view(vec![bench_1(under_way(-13))]));
    assert!(!sample.face(EN).has_room_for_a_visit());
    let mut coach = Visit::default();
    coach.want(false, 0);
    let face = sample.face_with(NOW, BUSY_MS - 1, EN, &coach);
    assert_eq!(face.aside, "A set is under way here: wait, or go to another display.");
    assert_eq!(face.visit, None);
    assert_eq!(sample.face_with(NOW, BUSY_MS, EN, &coach).aside, "");
}
