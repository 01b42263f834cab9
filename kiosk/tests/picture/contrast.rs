//! Everything stands out from its ground, as the pixels have it.

use std::collections::BTreeMap;

use slint::{Rgba8Pixel, SharedPixelBuffer};
use turnabout_kiosk::face::Body;
use turnabout_protocol::text::Language;

use crate::scenes::all;
use crate::screens::{Area, STATIONS, areas, picture, put_on, window};

pub(crate) type Colour = [u8; 3];

/// Relative luminance by WCAG 2.2.
pub(crate) fn luminance(colour: Colour) -> f64 {
    let linear = colour.map(|part| {
        let part = f64::from(part) / 255.0;
        if part <= 0.04045 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
    });
    0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
}

/// Contrast by WCAG 2.2. Never rounded up.
pub(crate) fn contrast(one: Colour, other: Colour) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

#[test]
fn contrast_is_that_of_the_standard() {
    // WCAG 2.2, success criterion 1.4.3, worked with its formula of relative luminance.
    for (one, other, ratio) in [
        ([0, 0, 0], [255, 255, 255], 21.0),
        ([0x77, 0x77, 0x77], [255, 255, 255], 4.4781),
        ([0x59, 0x59, 0x59], [255, 255, 255], 7.0047),
        ([255, 0, 0], [255, 255, 255], 3.9985),
        ([0x80, 0x80, 0x80], [0, 0, 0], 5.3172),
    ] {
        assert!((contrast(one, other) - ratio).abs() < 0.0001, "{one:?} on {other:?}");
    }
}

/// What most of an area is, and the colour that stands out from it most.
pub(crate) fn ground_and_ink(area: &Area, picture: &SharedPixelBuffer<Rgba8Pixel>) -> (Colour, Colour) {
    let mut counts: BTreeMap<Colour, usize> = BTreeMap::new();
    for pixel in area.rows(picture).flatten() {
        *counts.entry([pixel.r, pixel.g, pixel.b]).or_default() += 1;
    }
    let ground = *counts.iter().max_by_key(|(_, count)| **count).unwrap().0;
    // Edges of letters lie between the two: the ink is the farthest.
    let ink = counts.keys().max_by(|a, b| contrast(**a, ground).total_cmp(&contrast(**b, ground)));
    (ground, *ink.unwrap())
}

#[test]
fn every_text_stands_out_and_load_and_count_more() {
    // WCAG 2.2: 4.5 for text (1.4.3), 7 for what has to be read at once (1.4.6).
    let window = window();
    let (mut texts, mut figures) = (0, 0);
    // Colours are the same on every screen: the one with the most room, and the one with the least.
    for screen in [STATIONS[3], STATIONS[5]] {
        put_on(&window, screen);
        for language in Language::ALL {
            for sample in all() {
                let face = sample.face(language);
                let picture = picture(&window, &face, &sample);
                let large = match &face.body {
                    Body::Stations { panels } => panels.first(),
                    Body::Blank { .. } | Body::Board { .. } => None,
                };
                for area in areas(&window, &picture) {
                    let (ground, ink) = ground_and_ink(&area, &picture);
                    let is = |text: &str| area.label == text;
                    let figure = large.is_some_and(|panel| is(&panel.load.number) || is(&panel.count));
                    let bar = if figure { 7.0 } else { 4.5 };
                    let found = contrast(ink, ground);
                    let place = format!("{} {} {screen:?}", sample.name, language.tag());
                    assert!(found >= bar, "{place}: {found:.2} of {ink:?} on {ground:?}: {}", area.label);
                    texts += 1;
                    figures += usize::from(figure);
                }
            }
        }
    }
    assert!(texts > 4_000 && figures > 150, "{texts} texts, {figures} figures");
}
