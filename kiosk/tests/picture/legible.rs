//! Load, count and name are read from across the room, and what is said beside them from two metres.

use std::rc::Rc;

use slint::{ComponentHandle, Global, Model, ModelRc, Rgba8Pixel, SharedPixelBuffer, VecModel};
use turnabout_kiosk::face::{Body, Face, Panel, PhaseKind};
use turnabout_kiosk::ui::{Kiosk, KioskWindow, RowData, Tone};
use turnabout_protocol::text::Language;

use crate::ink::{self, MARGIN, filled};
use crate::scenes::{Sample, all};
use crate::screens::{STATIONS, area, picture, put_on, window};

fn height(window: &KioskWindow, picture: &SharedPixelBuffer<Rgba8Pixel>, label: &str) -> Option<f64> {
    let area = area(window, picture, label)?;
    Some(f64::from(ink::height(&area, picture)))
}

/// Whether a face is one of somebody's set, with nothing lying over it.
fn of_a_set(panel: &Panel) -> bool {
    !panel.who.is_empty() && panel.phase != PhaseKind::Stopped
}

/// The faces on which a set has the whole place to itself, in every language.
fn sets() -> impl Iterator<Item = (Sample, Face, Language)> {
    let faces = Language::ALL.into_iter().flat_map(|language| all().into_iter().map(move |s| (s, language)));
    faces.map(|(sample, language)| (sample.face(language), sample, language)).filter_map(
        |(face, sample, language)| {
            let Body::Stations { panels } = &face.body else { return None };
            let covered = sample.asking || face.help.is_some() || face.pad.is_some() || face.visit.is_some();
            (of_a_set(&panels[0]) && !covered).then_some((sample, face, language))
        },
    )
}

fn large(face: &mut Face) -> &mut Panel {
    let Body::Stations { panels } = &mut face.body else { panic!("a station's face") };
    &mut panels[0]
}

#[test]
fn load_and_count_are_read_from_four_metres_and_names_from_three() {
    // 22 minutes of arc are preferred for an eye of full acuity (ISO 9241-303), and 1.75 times that for one of 0.4
    // (DIN 1450): 38 minutes. A screen of ten inches is read from two metres.
    let window = window();
    let (mut figures, mut names) = (0, 0);
    for screen in STATIONS {
        put_on(&window, screen);
        let (figure, name) = if screen.is_far() {
            (screen.pixels(38.0, 4.0), screen.pixels(22.0, 3.0))
        } else {
            (screen.pixels(22.0, 2.0), screen.pixels(22.0, 2.0))
        };
        for (sample, mut face, language) in sets() {
            // Capitals and digits alone are measured: no tail hangs below them.
            let panel = large(&mut face);
            panel.who = "HANA".into();
            let (load, count) = (panel.load.number.clone(), panel.count.clone());
            let picture = picture(&window, &face, &sample);
            let place = format!("{} {} {screen:?}", sample.name, language.tag());
            let found = height(&window, &picture, "HANA").unwrap();
            assert!(found >= name, "{place}: a name of {found} px, {name:.1} needed");
            names += 1;
            for text in [load, count].iter().filter(|text| !text.is_empty()) {
                let found = height(&window, &picture, text).unwrap_or_else(|| panic!("{place}: no {text}"));
                // A pin may have a name for a label, and a count may have been running for ten minutes.
                let long = text.chars().count() > 5;
                let least = if long { figure / 1.75 } else { figure };
                assert!(found >= least, "{place}: {text} is {found} px high, {least:.1} needed");
                figures += 1;
            }
        }
    }
    assert!(names > 500 && figures > 500, "{names} names, {figures} figures");
}

#[test]
fn what_else_is_said_is_read_from_two_metres() {
    // 16 minutes of arc are the least (ISO 9241-303).
    let window = window();
    let mut lines = 0;
    for screen in STATIONS {
        put_on(&window, screen);
        for (sample, face, language) in sets() {
            let place = format!("{} {} {screen:?}", sample.name, language.tag());
            picture(&window, &face, &sample);
            let kiosk = Kiosk::get(&window);
            let rows: Vec<RowData> =
                kiosk.get_rows().iter().map(|row| RowData { text: "HANA".into(), ..row }).collect();
            kiosk.set_rows(ModelRc::from(Rc::new(VecModel::from(rows))));
            let picture = window.window().take_snapshot().unwrap();
            let Some(found) = height(&window, &picture, "HANA") else { continue };
            assert!(found >= screen.pixels(16.0, 2.0), "{place}: a line of {found} px");
            lines += 1;
        }
    }
    assert!(lines > 500, "{lines} lines");
}

/// What has become smaller fills 98 of 100, what is as large as it should be less.
const FULL: f64 = 0.97;

#[test]
fn what_has_to_be_done_is_shown_whole_and_first() {
    let window = window();
    let (mut shown, mut smaller) = (0, Vec::new());
    for screen in STATIONS {
        put_on(&window, screen);
        for (sample, face, language) in sets() {
            let picture = picture(&window, &face, &sample);
            let lines: Vec<RowData> = Kiosk::get(&window).get_rows().iter().collect();
            let place = format!("{} {} {screen:?}", sample.name, language.tag());
            let seen = |line: &RowData| area(&window, &picture, &line.text);
            for line in &lines {
                let Some(area) = seen(line) else { continue };
                let filled = filled(&area, &picture);
                assert!(filled <= MARGIN, "{place}: {filled:.3} of its box: {}", line.text);
                shown += 1;
                if filled > FULL {
                    smaller.push(format!("{place}: {:?} {}", line.tone, line.text));
                }
            }
            // Nothing is left out while something of less weight is shown.
            let there: Vec<bool> = lines.iter().map(|line| seen(line).is_some()).collect();
            assert!(there.is_sorted_by(|a, b| a >= b), "{place}: {there:?} of {lines:?}");
            let busy = sample.notice.is_some() || sample.saving;
            let to_do = lines.iter().take_while(|line| matches!(line.tone, Tone::Do | Tone::Set)).count();
            assert!(busy || there.iter().filter(|t| **t).count() >= to_do.min(1), "{place}: {lines:?}");
        }
    }
    assert!(shown > 1_500, "{shown} lines");
    assert!(smaller.is_empty(), "{} of {shown} are smaller than they should be: {smaller:#?}", smaller.len());
}
