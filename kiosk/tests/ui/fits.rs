//! Sentences of any length fit their line.

use i_slint_backend_testing::ElementHandle;
use slint::{ComponentHandle, Global, Model, PhysicalSize};
use turnabout_kiosk::apply::apply;
use turnabout_kiosk::face::Body;
use turnabout_kiosk::ui::{Kiosk, KioskWindow};
use turnabout_protocol::next::Change;
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{PromisePart, View};
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
    let mut shown = 0;
    for (width, height) in SIZES {
        window.window().set_size(PhysicalSize::new(width, height));
        for (reason, language) in reasons().into_iter().flat_map(|r| Language::ALL.map(|l| (r, l))) {
            let mut part = proposed("122.5 kg", Change::MoreReps, reason);
            part.proposal.work = Work::Reps { least: 10, most: 12 };
            let face = Sample::new("", view(vec![bench_with(part)])).face(language);
            let Body::Stations { panels } = &face.body else { panic!("a station's face") };
            let line = panels[0].proposal.clone();
            apply(&window, &face);
            let rows = Kiosk::get(&window).get_rows();
            let said: Vec<_> = rows.iter().filter(|row| line.contains(row.text.as_str())).collect();
            assert!(!said.is_empty(), "{width} x {height}: {line}");
            for row in said
                .iter()
                .filter(|row| ElementHandle::find_by_accessible_label(&window, &row.text).next().is_some())
            {
                let share = ink_share(&window, &row.text);
                assert!(share <= MARGIN, "{width} x {height}: {share} of the box: {}", row.text);
                shown += 1;
            }
        }
    }
    assert!(shown > 100, "{shown} lines");
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
