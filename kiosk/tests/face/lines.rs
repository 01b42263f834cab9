//! What is said beside name, load and count, and how it is broken into rows.

use proptest::prelude::*;
use turnabout_kiosk::face::{PhaseKind, Row, Said, Tone, rows};
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{Need, StationPart};

use crate::panels;
use crate::scenes::*;

fn said(part: StationPart) -> (PhaseKind, Vec<Said>) {
    let face = Sample::new("", view(vec![part])).face(Language::En);
    let panel = &panels(&face)[0];
    (panel.phase, panel.lines())
}

fn first(lines: &[Said]) -> (&str, Tone) {
    (lines[0].texts[0].as_str(), lines[0].tone)
}

#[test]
fn what_hands_have_to_do_comes_first_and_nothing_is_changed_any_more_once_a_set_begins() {
    let needs = [Need::ConfirmLoad, Need::Spotter];
    let (phase, lines) = said(bench_1(coming(rest(-5), -5, -5, &needs)));
    assert_eq!(phase, PhaseKind::GetReady);
    // The button says what is confirmed.
    assert_eq!(lines[0].texts, ["spotter at the bar"]);
    let plates = with_plates(&card("82.5 kg", Some("40 kg"), false), "20 10 1.25", "10", "20 10 1.25");
    let mut part = bench_1(coming(rest(-5), -5, -5, &needs));
    part.turn.as_mut().unwrap().load = Some(plates);
    let (_, change) = said(part);
    // The plates are drawn in the place of a count that only says how late it is.
    assert_eq!(change[1].texts, ["off 10, on 20 + 10 + 1.25"]);
    assert_eq!(change[2].texts[0], "load and strip both sides in turn", "a bar with one side loaded tips");
    assert!(lines.iter().is_sorted_by_key(|line| line.tone == Tone::Later), "{lines:?}");
    // Whoever lies under a bar reads nothing but a digit.
    for (from, kind) in [(5, PhaseKind::GetSet), (2, PhaseKind::CountIn)] {
        assert_eq!(said(bench_1(under_way(from))), (kind, Vec::new()));
    }
    let (_, lines) = said(bench_1(under_way(-13)));
    assert_eq!(first(&lines), ("10 reps", Tone::Know), "the pace stands above the lines");
    let (_, lines) = said(held_evenly());
    assert_eq!(first(&lines), ("breathe evenly", Tone::Phase), "a hold has no pacer");
}

#[test]
fn making_ready_names_plates_then_what_is_set_otherwise_then_who_does_what() {
    let (phase, lines) = said(to_make_ready(Some("Bram")));
    assert_eq!(phase, PhaseKind::GetReady);
    let texts: Vec<(&str, Tone)> = lines.iter().map(|line| (line.texts[0].as_str(), line.tone)).collect();
    assert_eq!(
        texts[..4],
        [
            // The bench stays as it is.
            ("change hooks 7", Tone::Set),
            ("Hana lifts, Bram spots, Dara loads", Tone::Do),
            ("off 10, on 20 + 10 + 1.25", Tone::Do),
            ("load and strip both sides in turn", Tone::Know),
        ]
    );
    assert!(texts.iter().all(|(text, _)| *text != "Edda spots"), "whoever spots is named once: {texts:?}");
    let (_, lines) = said(to_make_ready(None));
    assert_eq!(lines[1].texts, ["Hana lifts, Dara loads"]);
    // Nobody knows what is on: a picture cannot say that all of it comes off.
    let mut unknown = to_make_ready(None);
    let load = unknown.turn.as_mut().unwrap().load.as_mut().unwrap();
    load.bar.as_mut().unwrap().known = false;
    let (_, lines) = said(unknown);
    assert_eq!(lines[0].texts, ["take all off, then on 20 + 10 + 1.25"]);
}

#[test]
fn whoever_waits_for_more_than_the_load_is_told_to_wait() {
    for needs in
        [&[Need::Spotter][..], &[Need::ConfirmLoad, Need::Racked], &[Need::TechniquePass, Need::ConfirmLoad]]
    {
        assert_eq!(said(bench_1(coming(rest(-5), -5, -5, needs))).0, PhaseKind::Held, "{needs:?}");
    }
}

fn line(texts: &[&str]) -> Said {
    Said { texts: texts.iter().map(|text| (*text).to_owned()).collect(), tone: Tone::Know }
}

fn texts(rows: &[Row]) -> Vec<(&str, usize)> {
    rows.iter().map(|row| (row.text.as_str(), row.ends)).collect()
}

#[test]
fn what_belongs_together_shares_a_row_where_it_fits_and_a_sentence_is_broken_evenly() {
    let two = [line(&["10 reps", "tempo 2-0-2-0"]), line(&["Bench press", "set 2 of 3"])];
    assert_eq!(texts(&rows(&two, 30)), [("10 reps · tempo 2-0-2-0", 0), ("Bench press · set 2 of 3", 1)]);
    let apart = [("10 reps", 0), ("tempo 2-0-2-0", 1), ("Bench press", 2), ("set 2 of 3", 3)];
    assert_eq!(texts(&rows(&two, 20)), apart);
    let sentence = [line(&["A little later, so that everybody rests as long as they should."])];
    let broken = [("A little later, so that everybody", 1), ("rests as long as they should.", 1)];
    assert_eq!(texts(&rows(&sentence, 42)), broken);
}

proptest! {
    #[test]
    fn no_word_is_lost_and_no_row_is_longer_than_it_may_be(
        lines in prop::collection::vec(prop::collection::vec("[a-zäöü]{1,9}( [a-zäöü]{1,9}){0,12}", 1..4), 0..6),
        letters in 20_usize..60,
    ) {
        let lines: Vec<Said> = lines.into_iter().map(|texts| Said { texts, tone: Tone::Do }).collect();
        let rows = rows(&lines, letters);
        let words = |text: &str| text.split_whitespace().filter(|word| *word != "·").map(str::to_owned).collect::<Vec<_>>();
        let before: Vec<_> = lines.iter().flat_map(|line| line.texts.iter().flat_map(|text| words(text))).collect();
        let after: Vec<_> = rows.iter().flat_map(|row| words(&row.text)).collect();
        prop_assert_eq!(before, after);
        for (n, row) in rows.iter().enumerate() {
            prop_assert!(row.text.chars().count() <= letters, "{:?}", row);
            // Whatever a row is part of ends there, and nothing else does.
            prop_assert!(row.ends >= n && rows[row.ends].ends == row.ends);
        }
    }
}
