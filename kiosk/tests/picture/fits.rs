//! Sentences and counts of any length fit their place.

use slint::{ComponentHandle, Global, Model, ModelRc, Rgba8Pixel, SharedPixelBuffer};
use turnabout_kiosk::face::Body;
use turnabout_kiosk::ui::{Kiosk, KioskWindow};
use turnabout_protocol::next::Change;
use turnabout_protocol::promise::StartReason;
use turnabout_protocol::text::Language;
use turnabout_protocol::work::Work;

use crate::ink::{MARGIN, filled, height};
use crate::scenes::*;
use crate::screens::{STATIONS, area, picture, put_on, window};

/// The rows in which a sentence is said, each of them whole where it is shown at all; how many are shown.
fn said_whole(
    window: &KioskWindow,
    picture: &SharedPixelBuffer<Rgba8Pixel>,
    sentence: &str,
    place: &str,
) -> usize {
    let rows: Vec<String> = Kiosk::get(window).get_rows().iter().map(|row| row.text.to_string()).collect();
    let (first, count) = (0..rows.len())
        .flat_map(|first| (1..=rows.len() - first).map(move |count| (first, count)))
        .find(|(first, count)| rows[*first..first + count].join(" ") == sentence)
        .unwrap_or_else(|| panic!("{place}: {sentence} is not said in {rows:?}"));
    let shown = rows[first..first + count].iter().filter_map(|row| area(window, picture, row));
    shown
        .map(|area| {
            let filled = filled(&area, picture);
            assert!(filled <= MARGIN, "{place}: {filled:.3} of its box: {}", area.label);
        })
        .count()
}

#[test]
fn whatever_is_proposed_is_never_cut() {
    let window = window();
    let mut shown = 0;
    for screen in STATIONS {
        put_on(&window, screen);
        for (reason, language) in reasons().into_iter().flat_map(|r| Language::ALL.map(|l| (r, l))) {
            let mut part = proposed("122.5 kg", Change::MoreReps, reason);
            part.proposal.work = Work::Reps { least: 10, most: 12 };
            let sample = Sample::new("", view(vec![bench_with(part)]));
            let face = sample.face(language);
            let Body::Stations { panels } = &face.body else { panic!("a station's face") };
            let picture = picture(&window, &face, &sample);
            shown += said_whole(&window, &picture, &panels[0].proposal, &format!("{screen:?}"));
        }
    }
    assert!(shown > 100, "{shown} lines");
}

#[test]
fn why_a_set_is_not_earlier_is_never_cut() {
    let window = window();
    let mut shown = 0;
    for screen in STATIONS {
        put_on(&window, screen);
        for (reason, language) in start_reasons().into_iter().flat_map(|r| Language::ALL.map(|l| (r, l))) {
            let part = told(bench_1(coming(rest(20), 20, 20, &[])), 50, reason);
            let sample = Sample::new("", view(vec![part]));
            let face = sample.face(language);
            let Body::Stations { panels } = &face.body else { panic!("a station's face") };
            let picture = picture(&window, &face, &sample);
            if !panels[0].why.is_empty() {
                shown += said_whole(&window, &picture, &panels[0].why, &format!("{screen:?}"));
            }
        }
    }
    assert!(shown > 100, "{shown} lines");
}

#[test]
fn the_tail_of_a_comma_is_never_cut() {
    let window = window();
    let sample = Sample::new("", view(vec![bench_1(coming(rest(34), 34, 34, &[]))]));
    for screen in STATIONS {
        put_on(&window, screen);
        // How high the lowest ink and the size of a number are, from three quarters of its row on and as far as a tail hangs.
        let lowest = |number: &str| {
            let mut face = sample.face(Language::De);
            let Body::Stations { panels } = &mut face.body else { panic!("a station's face") };
            panels[0].load.number = number.into();
            picture(&window, &face, &sample);
            // Nothing else stands below.
            Kiosk::get(&window).set_rows(ModelRc::default());
            Kiosk::get(&window).set_discs(ModelRc::default());
            let picture = window.window().take_snapshot().unwrap();
            let mut place = area(&window, &picture, number).unwrap();
            let row = place.bottom - place.y;
            place.y += row * 3 / 4;
            place.bottom += row / 10;
            (f64::from(height(&place, &picture)), f64::from(row) / 0.88)
        };
        let ((digits, _), (comma, size)) = (lowest("222"), lowest("2,2"));
        // Digits end on their line and the tail 0.147 of the size below it, by the typeface's own table (`glyf`).
        let hangs = comma - digits;
        assert!(hangs >= 0.147 * size - 1.5, "{screen:?}: a tail of {hangs} px at a size of {size:.0}");
    }
}

#[test]
fn a_countdown_of_any_length_is_never_cut() {
    let window = window();
    for screen in STATIONS {
        put_on(&window, screen);
        for (start, count) in [(5, "0:05"), (59, "0:59"), (754, "12:34"), (-4, "+0:04"), (-754, "+12:34")] {
            let sample = Sample::new("", view(vec![told(resting(-800), start, StartReason::Later)]));
            let picture = picture(&window, &sample.face(Language::En), &sample);
            let filled = filled(&area(&window, &picture, count).unwrap(), &picture);
            assert!(filled <= MARGIN, "{screen:?}: {filled:.3} of its box: {count}");
        }
    }
}
