//! A coach's run sheet is worked out twice: by the page's script, and by a display that a coach comes to. On the pages of
//! whole evenings both say the same, row by row.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

mod evening;
#[path = "../../../kiosk/src/face/mod.rs"]
#[allow(dead_code, unreachable_pub, unused_imports, reason = "the kiosk's source, used in part")]
mod face;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use std::process::Command;

use serde_json::json;
use turnabout_protocol::text::{Language, message};
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_protocol::view::{ClockPart, CoachView, StationView, View};
use turnabout_tests::outside;

use face::{Known, Let, LinkState, NeedLine, Scene, Sheet, Step, Visit, VisitFace};

/// Who, in how long, where, what for, with which load, why then.
type Row = [String; 6];

/// The sheet of a display that shows no station, so that nothing is in the way.
fn at_a_display(view: &CoachView, now: FloorMs) -> Vec<Row> {
    let mut visit = Visit::default();
    visit.want(true, 0);
    (1..=4).for_each(|digit| visit.press(&Step::Digit { digit }, 0));
    visit.press(&Step::Show, 0);
    visit.asks().unwrap();
    visit.heard(Let::In(Box::new(Sheet::of(view))), 0);
    let stations = StationView {
        zone_offset: view.zone_offset,
        clock: ClockPart::default(),
        stations: Vec::new(),
        help: None,
    };
    let face = face::face(&Scene {
        known: Some(&Known { view: View::Station(stations), as_of: now }),
        link: &LinkState::Up,
        now: Some(now),
        real: 0,
        language: Language::En,
        focus: None,
        pending: &[],
        saving: false,
        notice: None,
        last: None,
        pad: None,
        unpaced: &BTreeSet::new(),
        visit: &visit,
    });
    let Some(VisitFace::Sheet { sheet }) = face.visit else { panic!("the sheet is open") };
    let row = |NeedLine { who, count, place, what, load, why, .. }| [who, count, place, what, load, why];
    sheet.needs.into_iter().map(row).collect()
}

/// What a coach is asked for on such evenings, at the least.
const KINDS: [&str; 12] = [
    "spot",
    "watch",
    "need_confirm",
    "need_decide",
    "need_go",
    "need_done",
    "need_pass",
    "need_brief",
    "need_free",
    "need_stations",
    "need_resume",
    "call.coach_please",
];

/// A space that keeps two words in one line is a space.
fn plain(text: &str) -> String {
    text.replace('\u{a0}', " ")
}

#[test]
fn a_display_and_the_page_say_the_same_of_whole_evenings() {
    let Some(node) = outside::node() else { return };
    // Things happen, and then time alone goes by.
    let pages: Vec<(FloorMs, CoachView)> = (1..=2)
        .flat_map(evening::pages)
        .flat_map(|(now, view)| [(now, view.clone()), (now + Millis::secs(13), view)])
        .collect();
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("pages.jsonl");
    let lines: Vec<String> =
        pages.iter().map(|(now, view)| json!({ "now": now, "view": view }).to_string()).collect();
    fs::write(&file, lines.join("\n")).unwrap();
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("outside/page/run_sheets.mjs");
    let answer = Command::new(node).arg(script).arg(&file).output().unwrap();
    assert!(answer.status.success(), "{}", String::from_utf8_lossy(&answer.stderr));
    let told = String::from_utf8(answer.stdout).unwrap();
    let told: Vec<Vec<Row>> = told.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    assert_eq!(told.len(), pages.len());

    let mut kinds = BTreeMap::<String, usize>::new();
    for ((now, view), told) in pages.iter().zip(told) {
        let told: Vec<Row> = told.into_iter().map(|row| row.map(|text| plain(&text))).collect();
        let display: Vec<Row> =
            at_a_display(view, *now).into_iter().map(|row| row.map(|text| plain(&text))).collect();
        assert_eq!(display, told, "at {now:?} by the page {}", json!(view));
        for [.., what, _, _] in display {
            *kinds.entry(what).or_default() += 1;
        }
    }
    for kind in KINDS {
        let id = kind.strip_prefix("call.").map_or_else(|| format!("label.page_{kind}"), |_| kind.to_owned());
        let said = plain(message(Language::En, &id));
        assert!(kinds.contains_key(&said), "no evening had a row of {kind}: {kinds:?}");
    }
}
