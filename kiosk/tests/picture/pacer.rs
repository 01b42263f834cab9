//! The pacer in pixels: its words are read from as far as they should be, its level is where the tempo is, and nothing of it
//! flashes.

use std::collections::BTreeSet;
use std::time::Duration;

use i_slint_backend_testing::{AccessibleRole, ElementQuery, mock_elapsed_time};
use slint::{ComponentHandle, Global, Rgba8Pixel, SharedPixelBuffer};
use turnabout_kiosk::apply::apply;
use turnabout_kiosk::face::{Body, Face, Going, Panel};
use turnabout_kiosk::ui::{KioskWindow, Pace};
use turnabout_protocol::text::Language;
use turnabout_protocol::units::FloorMs;

use crate::contrast::{contrast, luminance};
use crate::ink::{self, MARGIN, filled};
use crate::scenes::*;
use crate::screens::{Area, STATIONS, Screen, area, areas, picture, put_on, window};

fn large(face: &mut Face) -> &mut Panel {
    let Body::Stations { panels } = &mut face.body else { panic!("a station's face") };
    &mut panels[0]
}

/// The faces on which a pacer is drawn, in every language.
fn paced() -> impl Iterator<Item = (Sample, Face, Language)> {
    let faces =
        Language::ALL.into_iter().flat_map(|language| paces().into_iter().map(move |s| (s, language)));
    faces.map(|(sample, language)| (sample.face(language), sample, language)).filter_map(
        |(mut face, sample, language)| {
            let covered = sample.asking || sample.saving;
            (large(&mut face).pacer.is_some() && !covered).then_some((sample, face, language))
        },
    )
}

/// The level with its frame.
fn level(window: &KioskWindow, picture: &SharedPixelBuffer<Rgba8Pixel>) -> Option<Area> {
    let found = ElementQuery::from_root(window).match_accessible_role(AccessibleRole::ProgressIndicator);
    found.find_first().map(|element| Area::of(&element, picture))
}

#[test]
fn what_to_do_is_read_from_three_metres_and_breath_and_pace_from_two() {
    // As for names and lines: 22 minutes of arc are preferred and 16 the least (ISO 9241-303). A screen of ten inches is read
    // from two metres.
    let window = window();
    let mut measured = 0;
    for screen in STATIONS {
        put_on(&window, screen);
        let word = screen.pixels(22.0, if screen.is_far() { 3.0 } else { 2.0 });
        for (sample, mut face, language) in paced() {
            let place = format!("{} {} {screen:?}", sample.name, language.tag());
            let panel = large(&mut face);
            // Capitals and digits alone are measured, and of the pace as many as are as wide: a digit is 0.6 of the size and
            // a letter 0.46 on average.
            "HANA".clone_into(&mut panel.pacer.as_mut().unwrap().word);
            "HILDE".clone_into(&mut panel.pacer.as_mut().unwrap().breath);
            panel.pace = "0".repeat(panel.pace.chars().count() * 46 / 60);
            let pace = panel.pace.clone();
            let picture = picture(&window, &face, &sample);
            for (text, least) in
                [("HANA", word), ("HILDE", screen.pixels(16.0, 2.0)), (&pace, screen.pixels(16.0, 2.0))]
            {
                let area = area(&window, &picture, text).unwrap_or_else(|| panic!("{place}: no {text}"));
                let found = f64::from(ink::height(&area, &picture));
                assert!(found >= least, "{place}: {text} is {found} px high, {least:.1} needed");
                measured += 1;
            }
        }
    }
    assert!(measured > 400, "{measured}");
}

#[test]
fn no_word_is_cut_and_no_tail_of_a_letter() {
    let window = window();
    let mut measured = 0;
    for screen in STATIONS {
        put_on(&window, screen);
        for (sample, mut face, language) in paced() {
            let place = format!("{} {} {screen:?}", sample.name, language.tag());
            let first = picture(&window, &face, &sample);
            let pacer = large(&mut face).pacer.as_mut().unwrap();
            for text in [&pacer.word, &pacer.breath].into_iter().filter(|text| !text.is_empty()) {
                let area = area(&window, &first, text).unwrap_or_else(|| panic!("{place}: no {text}"));
                let filled = filled(&area, &first);
                assert!(filled <= MARGIN, "{place}: {filled:.3} of its box: {text}");
                measured += 1;
            }
            // From the top of a capital to the end of a tail are 0.9 of the size, 1.29 of a capital alone.
            let [capital, tail] = ["HH", "Hg"].map(|breath| {
                breath.clone_into(&mut large(&mut face).pacer.as_mut().unwrap().breath);
                let picture = picture(&window, &face, &sample);
                f64::from(ink::height(&area(&window, &picture, breath).unwrap(), &picture))
            });
            assert!(tail / capital > 1.24, "{place}: {capital} px, with a tail {tail}");
        }
    }
    assert!(measured > 200, "{measured}");
}

/// The green part of the level's middle row, from 0 to 1.
fn drawn(area: &Area, picture: &SharedPixelBuffer<Rgba8Pixel>) -> f64 {
    let rows: Vec<_> = area.rows(picture).collect();
    let row = rows[rows.len() / 2];
    // Neither of the frame's two ends.
    let is_green = |pixel: &&Rgba8Pixel| pixel.g > 100 && pixel.r < 60;
    let green = u32::try_from(row.iter().filter(is_green).count()).unwrap();
    f64::from(green) / f64::from(area.right - area.x)
}

#[test]
fn the_level_is_drawn_empty_half_and_full_and_stands_out() {
    let window = window();
    for screen in STATIONS {
        put_on(&window, screen);
        // A press at a second of its three-second way down and so on: 3-1-2-1, at the beginning of each part and in its middle.
        for (ms, full) in
            [(0, 1.0), (1_500, 0.5), (3_000, 0.0), (3_500, 0.0), (5_000, 0.5), (6_000, 1.0), (6_500, 1.0)]
        {
            let now = FloorMs(NOW.0 + ms);
            let sample = Sample::new("", view(vec![press_at("3-1-2-1", 0)]));
            apply(&window, &sample.face_at(now, Language::En), Some(Going { now, rate: 0 }));
            let picture = window.window().take_snapshot().unwrap();
            let area = level(&window, &picture).unwrap();
            let found = drawn(&area, &picture);
            assert!((found - full).abs() < 0.02, "{screen:?} at {ms} ms: {found:.3}, not {full}");
            // Three to one for what is no text (WCAG 2.2, success criterion 1.4.11): the level on its ground, and its frame on
            // that of the screen.
            let colours = area.rows(&picture).flatten().map(|pixel| [pixel.r, pixel.g, pixel.b]);
            let colours: BTreeSet<_> = colours.collect();
            let corner = picture.as_slice()[0];
            let ground = [corner.r, corner.g, corner.b];
            assert!(colours.len() > 1, "{screen:?}: nothing is drawn");
            for colour in colours.into_iter().filter(|colour| *colour != ground) {
                assert!(contrast(colour, ground) >= 3.0, "{screen:?}: {colour:?} on {ground:?}");
            }
        }
    }
}

#[test]
fn words_never_stand_on_the_level() {
    let window = window();
    for screen in STATIONS {
        put_on(&window, screen);
        for (sample, face, language) in paced() {
            let picture = picture(&window, &face, &sample);
            let Some(level) = level(&window, &picture) else { continue };
            let place = format!("{} {} {screen:?}", sample.name, language.tag());
            assert!(level.bottom - level.y >= screen_share(screen, 0.02), "{place}: {level:?}");
            for other in areas(&window, &picture) {
                let apart = other.right <= level.x
                    || other.x >= level.right
                    || other.bottom <= level.y
                    || other.y >= level.bottom;
                assert!(apart, "{place}: {other:?} lies on {level:?}");
            }
        }
    }
}

/// A share of the shorter side of a screen, in pixels.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few pixels")]
fn screen_share(screen: Screen, share: f64) -> u32 {
    (f64::from(screen.width.min(screen.height)) * share) as u32
}

/// How long a frame stands: as often as a slow display draws one.
const FRAME: u64 = 50;

/// What has happened to the luminance of one pixel.
#[derive(Clone, Default)]
struct Lit {
    /// The extreme that the next opposing change is measured from.
    from: f64,
    /// Whether it went up last.
    rose: Option<bool>,
    /// When the latest changes were.
    changes: Vec<u64>,
}

impl Lit {
    /// Takes the luminance at a time; a change of 10 % of the most there is goes the other way than the one before
    /// (general flash of WCAG 2.2: where the darker of the two is below 0.80, which it always is here).
    fn take(&mut self, now: f64, ms: u64) {
        let rises = now > self.from;
        if self.rose == Some(rises) {
            self.from = now;
        } else if (now - self.from).abs() >= 0.1 {
            self.changes.push(ms);
            (self.rose, self.from) = (Some(rises), now);
        }
    }

    /// The most changes within a second.
    fn most(&self) -> usize {
        let within =
            |from: &u64| self.changes.iter().filter(|at| (*from..*from + 1_000).contains(at)).count();
        self.changes.iter().map(within).max().unwrap_or(0)
    }
}

/// Ten seconds of a set, each of its pixels; and how many frames have another level than the one before.
fn ten_seconds(
    window: &KioskWindow,
    part: turnabout_protocol::view::StationPart,
    rate: u32,
) -> (Vec<Lit>, u32) {
    let sample = Sample::new("", view(vec![part]));
    let (mut lit, mut shown, mut moved): (Vec<Lit>, Option<Face>, u32) = (Vec::new(), None, 0);
    let greys: Vec<f64> = (0..=u8::MAX).map(|part| luminance([part; 3])).collect();
    let mut level = Pace::get(window).get_level();
    for ms in (0..10_000).step_by(FRAME.try_into().unwrap()) {
        let now = FloorMs(NOW.0 + i64::try_from(ms).unwrap() * i64::from(rate));
        let face = sample.face_at(now, Language::En);
        if shown.as_ref() != Some(&face) {
            apply(window, &face, Some(Going { now, rate }));
            shown = Some(face);
        }
        let picture = window.window().take_snapshot().unwrap();
        let bright = picture.as_slice().iter().map(|pixel| {
            // That of a grey is the part of each of its colours.
            let [r, g, b] = [pixel.r, pixel.g, pixel.b].map(|part| greys[usize::from(part)]);
            0.2126 * r + 0.7152 * g + 0.0722 * b
        });
        if lit.is_empty() {
            lit = bright.map(|from| Lit { from, ..Lit::default() }).collect();
        } else {
            lit.iter_mut().zip(bright).for_each(|(pixel, now)| pixel.take(now, ms));
        }
        let next = Pace::get(window).get_level();
        moved += u32::from((next - level).abs() > f32::EPSILON);
        level = next;
        mock_elapsed_time(Duration::from_millis(FRAME));
    }
    (lit, moved)
}

#[test]
fn nothing_flashes_more_than_once_a_second() {
    // A flash is a pair of opposing changes (WCAG 2.2, success criterion 2.3.1, which allows three a second over a quarter of
    // ten degrees of view): here not one pixel of the whole screen has more than one pair in any second.
    let window = window();
    put_on(&window, STATIONS[5]);
    for (tempo, least) in [("1-0-X-0", 180), ("3-1-2-0", 140)] {
        let (lit, moved) = ten_seconds(&window, press_at(tempo, 0), 1);
        assert!(moved > least, "{tempo}: the level moved in {moved} frames");
        let most = lit.iter().map(Lit::most).max().unwrap();
        assert!(most <= 2, "{tempo}: {most} changes of one pixel within a second");
        // It is bright and dark in turn, which the count sees.
        let changed = lit.iter().map(|pixel| pixel.changes.len()).max().unwrap();
        assert!((3..=10).contains(&changed), "{tempo}: {changed} changes of one pixel in ten seconds");
    }
}

#[test]
fn no_level_is_drawn_where_it_would_flash() {
    // Six seconds a repetition are 0.6 where time runs ten times as fast.
    let window = window();
    put_on(&window, STATIONS[5]);
    let (_, moved) = ten_seconds(&window, press_at("3-1-2-0", 0), 10);
    assert_eq!(moved, 0);
    let picture = window.window().take_snapshot().unwrap();
    assert!(level(&window, &picture).is_none());
}
