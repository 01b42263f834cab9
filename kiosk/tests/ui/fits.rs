//! Sentences of any length fit their line.

use i_slint_backend_testing::ElementHandle;
use slint::{ComponentHandle, PhysicalSize};
use turnabout_kiosk::apply::apply;
use turnabout_kiosk::face::{Body, Face};
use turnabout_kiosk::ui::KioskWindow;
use turnabout_protocol::next::Change;
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{Need, PromisePart, View};
use turnabout_protocol::work::Work;

use crate::scenes::*;
use crate::{SIZES, window};

/// The columns from the first bright pixel of a label's box to its last, as a share of the box.
fn ink_share(window: &KioskWindow, label: &str) -> f32 {
    let picture = window.window().take_snapshot().unwrap();
    let element = ElementHandle::find_by_accessible_label(window, label).next().unwrap();
    let (at, size) = (element.absolute_position(), element.size());
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "positions on a screen")]
    let (x, y, right, bottom) =
        (at.x as u32, at.y as u32, (at.x + size.width) as u32, (at.y + size.height) as u32);
    let bright = |column: u32| {
        (y..bottom).any(|row| {
            let pixel = picture.as_slice()[(row * picture.width() + column) as usize];
            u32::from(pixel.r) + u32::from(pixel.g) + u32::from(pixel.b) > 200
        })
    };
    let last = (x..right).rev().find(|column| bright(*column)).unwrap();
    let first = (x..right).find(|column| bright(*column)).unwrap();
    #[expect(clippy::cast_precision_loss, reason = "a screen is a few thousand pixels")]
    let share = (last + 1 - first) as f32 / size.width;
    share
}

/// A line that is cut fills its box to the last letter that goes in; one that fits leaves a margin.
const MARGIN: f32 = 0.99;

#[test]
fn whatever_is_proposed_is_never_cut() {
    let window = window(SIZES[0]);
    for (width, height) in SIZES {
        window.window().set_size(PhysicalSize::new(width, height));
        for (reason, language) in reasons().into_iter().flat_map(|r| Language::ALL.map(|l| (r, l))) {
            let mut part = proposed("122.5 kg", Change::MoreReps, reason);
            part.proposal.work = Work::Reps { least: 10, most: 12 };
            let face = Sample::new("", view(vec![bench_with(part)])).face(language);
            let Body::Stations { panels } = &face.body else { panic!("a station's face") };
            let line = panels[0].proposal.clone();
            apply(&window, &face);
            let share = ink_share(&window, &line);
            assert!(share <= MARGIN, "{width} x {height}: {share} of the box: {line}");
        }
    }
}

/// The picture of a station's face with this reason why not earlier.
fn with_why(window: &KioskWindow, face: &Face, why: &str) -> Vec<u8> {
    let mut face = face.clone();
    let Body::Stations { panels } = &mut face.body else { panic!("a station's face") };
    panels[0].why = why.to_owned();
    apply(window, &face);
    window.window().take_snapshot().unwrap().as_bytes().to_vec()
}

#[test]
fn why_a_set_is_not_earlier_is_never_cut() {
    let window = window(SIZES[0]);
    for (width, height) in SIZES {
        window.window().set_size(PhysicalSize::new(width, height));
        for (reason, language) in start_reasons().into_iter().flat_map(|r| Language::ALL.map(|l| (r, l))) {
            for phase in [coming(rest(20), 20, 20, &[]), coming(rest(-5), -5, -5, &[Need::Racked])] {
                let face = Sample::new("", view(vec![told(bench_1(phase), 50, reason)])).face(language);
                let Body::Stations { panels } = &face.body else { panic!("a station's face") };
                let why = panels[0].why.clone();
                if why.is_empty() {
                    continue;
                }
                // What is cut looks the same whatever comes after the cut.
                let (as_it_is, longer) = (with_why(&window, &face, &why), format!("{why} II II"));
                assert!(as_it_is != with_why(&window, &face, &longer), "{width} x {height}: {why}");
            }
        }
    }
    let face = Sample::new("", view(vec![told(resting(20), 50, StartReason::Later)])).face(Language::En);
    let endless = "HANA ".repeat(40);
    let cut = with_why(&window, &face, &endless);
    assert!(cut == with_why(&window, &face, &format!("{endless}II II")), "a cut would be seen");
}

#[test]
fn a_countdown_of_any_length_is_never_cut() {
    let window = window(SIZES[0]);
    for (width, height) in SIZES {
        window.window().set_size(PhysicalSize::new(width, height));
        for (start, count) in [(5, "0:05"), (59, "0:59"), (754, "12:34"), (-4, "+0:04"), (-754, "+12:34")] {
            let part = told(resting(-800), start, StartReason::Later);
            apply(&window, &Sample::new("", view(vec![part])).face(Language::En));
            let share = ink_share(&window, count);
            assert!(share <= MARGIN, "{width} x {height}: {share} of the box: {count}");
        }
    }
}

#[test]
fn what_a_wall_says_of_a_coming_set_is_never_cut() {
    let window = window(SIZES[0]);
    let mut reasons_shown = 0;
    for (width, height) in SIZES {
        window.window().set_size(PhysicalSize::new(width, height));
        for (reason, language) in start_reasons().into_iter().flat_map(|r| Language::ALL.map(|l| (r, l))) {
            let mut board = board(1);
            for (client, start) in [(0, 48), (1, 754)] {
                let turn = board.groups[0].clients[client].turn.as_mut().unwrap();
                turn.phase = coming(rest(20), 20, 20, &[]);
                turn.load = Some(pair("122.5 kg"));
                turn.promise = Some(PromisePart { start: at(start), about: false, spotter: None, reason });
            }
            let face = Sample::new("", View::Board(board)).face(language);
            apply(&window, &face);
            let Body::Board { board } = &face.body else { panic!("a board") };
            for line in &board.lines {
                let whole = if line.note.is_empty() {
                    line.why.clone()
                } else {
                    format!("{}  ·  {}", line.note, line.why)
                };
                let labels = [line.count.clone(), line.load.clone(), whole];
                for label in labels.iter().filter(|label| !label.is_empty()) {
                    if ElementHandle::find_by_accessible_label(&window, label).next().is_some() {
                        let share = ink_share(&window, label);
                        assert!(share <= MARGIN, "{width} x {height}: {share} of the box: {label}");
                        reasons_shown += usize::from(*label == line.why);
                    } else {
                        assert!(label.ends_with(&line.why), "{label} is not shown");
                    }
                }
            }
        }
    }
    assert!(reasons_shown > 20, "short ones have room: {reasons_shown}");
}

#[test]
fn why_is_read_at_arms_length_and_the_countdown_from_four_metres() {
    // H = 2 D tan(A/2), as above. On a 15.6-inch screen of 1920 x 1080 a pixel is 0.1799 mm: 38 minutes of arc at
    // four metres are 44.2 mm, 246 px; 22 minutes at arm's length, 0.7 m, are 4.48 mm, 25 px.
    const DIGIT: usize = 246;
    const CAPITAL: usize = 25;
    let window = window(SIZES[0]);
    let face =
        Sample::new("", view(vec![told(resting(20), 48, StartReason::SpotterBusy)])).face(Language::En);
    for (why, lines) in [("HH HH", 1), ("HHHH HHHHH HHHH HHHHH HHHH HHHHH HHHH HHHHH", 2)] {
        with_why(&window, &face, why);
        let heights = ink_rows(&window, why);
        assert!(heights.len() == lines && heights.iter().all(|h| *h >= CAPITAL), "{why}: {heights:?}");
    }
    let heights = ink_rows(&window, "0:48");
    assert!(heights.len() == 1 && heights[0] >= DIGIT, "{heights:?}");
}

/// The heights of the lines of ink in a label's box.
fn ink_rows(window: &KioskWindow, label: &str) -> Vec<usize> {
    let picture = window.window().take_snapshot().unwrap();
    let element = ElementHandle::find_by_accessible_label(window, label).next().unwrap();
    let (at, size) = (element.absolute_position(), element.size());
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "positions on a screen")]
    let (x, y, right, bottom) =
        (at.x as u32, at.y as u32, (at.x + size.width) as u32, (at.y + size.height) as u32);
    let bright = |row: u32| {
        (x..right).any(|column| {
            let pixel = picture.as_slice()[(row * picture.width() + column) as usize];
            u32::from(pixel.r) + u32::from(pixel.g) + u32::from(pixel.b) > 200
        })
    };
    let rows: Vec<bool> = (y..bottom).map(bright).collect();
    rows.split(|row| !row).map(<[bool]>::len).filter(|rows| *rows > 0).collect()
}
