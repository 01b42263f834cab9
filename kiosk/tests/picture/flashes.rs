//! Nothing flashes. Faces change with the second, so this looks at every tenth of one.
//!
//! WCAG 2.2, success criterion 2.3.1: a general flash is a pair of opposing changes in relative luminance of 10 % of the
//! most there is or more, where the darker of the two is below 0.80; three of them in a second are the most that may be.
//! Here it is one, and over any part of a picture, however small.

use slint::{Rgba8Pixel, SharedPixelBuffer};
use turnabout_kiosk::face::Face;
use turnabout_kiosk::ui::KioskWindow;
use turnabout_protocol::text::Language;
use turnabout_protocol::units::FloorMs;

use crate::contrast::luminance;
use crate::scenes::{NOW, Sample, all};
use crate::screens::{Screen, picture, put_on, window};

/// A small screen: parts of it, and not letters, are looked at.
const SCREEN: Screen = Screen { width: 640, height: 360, inches: 15.6 };

/// A part of a picture from side to side, in pixels: a fiftieth of the width.
const PART: usize = 12;

/// How much a change of luminance has to be.
const CHANGE: f64 = 0.1;
/// What is as bright as this may change.
const BRIGHT: f64 = 0.8;

/// How the brightness of a part went so far.
#[derive(Clone, Debug, Default)]
struct Part {
    /// The brightest or darkest since it last turned: what a change is measured from.
    from: Option<f64>,
    /// Whether it last grew brighter.
    grew: Option<bool>,
    /// Times of opposing changes, in milliseconds.
    turns: Vec<i64>,
}

impl Part {
    /// Looks at the part once more.
    fn look(&mut self, bright: f64, at: i64) {
        let Some(from) = self.from else {
            self.from = Some(bright);
            return;
        };
        let grows = bright > from;
        if self.grew == Some(grows) {
            // The same way on: what turns back is measured from the farthest.
            self.from = Some(bright);
        } else if (bright - from).abs() >= CHANGE && bright.min(from) < BRIGHT {
            if self.grew.is_some() {
                self.turns.push(at);
            }
            (self.grew, self.from) = (Some(grows), Some(bright));
        }
    }

    /// The most turns in any second: a flash is two.
    fn most(&self) -> usize {
        let within = |first: i64| self.turns.iter().filter(|at| (first..first + 1_000).contains(*at)).count();
        self.turns.iter().map(|first| within(*first)).max().unwrap_or(0)
    }
}

/// The parts of a picture by their mean luminance.
fn parts(picture: &SharedPixelBuffer<Rgba8Pixel>) -> Vec<f64> {
    let (width, pixels) = (picture.width() as usize, picture.as_slice());
    let rows: Vec<&[Rgba8Pixel]> = pixels.chunks(width).collect();
    let bright = |rows: &[&[Rgba8Pixel]], column: usize| {
        let within = rows.iter().flat_map(|row| &row[column..(column + PART).min(width)]);
        let (sum, count) = within.fold((0.0, 0.0), |(sum, count), pixel| {
            (sum + luminance([pixel.r, pixel.g, pixel.b]), count + 1.0)
        });
        sum / count
    };
    rows.chunks(PART).flat_map(|rows| (0..width).step_by(PART).map(|column| bright(rows, column))).collect()
}

/// Looks at a scene every tenth of a second for so many seconds, and tells the most turns of any part in a second.
fn most_turns(window: &KioskWindow, sample: &Sample, secs: std::ops::Range<i64>) -> usize {
    let mut seen: Vec<Part> = Vec::new();
    let mut last: Option<(Face, Vec<f64>)> = None;
    for tenth in secs.start * 10..secs.end * 10 {
        let at = NOW.0 + tenth * 100;
        let face = sample.face_at(FloorMs(at), Language::En);
        // What is the same is drawn the same.
        let bright = match last.take() {
            Some((same, bright)) if same == face => bright,
            Some(_) | None => parts(&picture(window, &face, sample)),
        };
        seen.resize(bright.len(), Part::default());
        for (part, bright) in seen.iter_mut().zip(&bright) {
            part.look(*bright, at);
        }
        last = Some((face, bright));
    }
    seen.iter().map(Part::most).max().unwrap_or(0)
}

#[test]
fn nothing_flashes_more_than_once_a_second() {
    let window = window();
    put_on(&window, SCREEN);
    let mut looked = 0;
    for sample in all() {
        // Two opposing changes are one flash, and have one turn between them.
        let turns = most_turns(&window, &sample, -2..12);
        assert!(turns <= 1, "{}: {turns} opposing changes in a second", sample.name);
        looked += 1;
    }
    assert!(looked > 50, "{looked}");
}

#[test]
fn a_flash_is_what_the_standard_says() {
    let turns = |brights: &[f64]| {
        let mut part = Part::default();
        for (n, bright) in (0..).zip(brights) {
            part.look(*bright, n * 100);
        }
        part.most()
    };
    assert_eq!(
        turns(&[0.0, 0.5, 0.0, 0.5, 0.0, 0.5, 0.0]),
        5,
        "three flashes, whose first change begins them"
    );
    assert_eq!(turns(&[0.0, 0.09, 0.0, 0.09]), 0, "a tenth is the least");
    assert_eq!(turns(&[0.0, 0.05, 0.1, 0.15, 0.1, 0.05, 0.0]), 1, "slow changes count as one");
    assert_eq!(turns(&[0.85, 1.0, 0.85, 1.0]), 0, "bright on bright is none");
}
