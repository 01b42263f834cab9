//! How far the letters of a label go, in pixels.

use slint::{Rgba8Pixel, SharedPixelBuffer};

use crate::screens::Area;

/// Every ink of a face is brighter than that on every ground but its own dark one.
const BRIGHT: u32 = 200;

fn bright(pixel: &Rgba8Pixel) -> bool {
    u32::from(pixel.r) + u32::from(pixel.g) + u32::from(pixel.b) > BRIGHT
}

/// From the first of them to the last.
fn span(places: &[usize], area: &Area) -> u32 {
    let (Some(first), Some(last)) = (places.iter().min(), places.iter().max()) else {
        panic!("nothing is drawn of {area:?}")
    };
    u32::try_from(last - first + 1).unwrap()
}

/// The rows of pixels from the highest that has ink to the lowest.
pub(crate) fn height(area: &Area, picture: &SharedPixelBuffer<Rgba8Pixel>) -> u32 {
    let inked = area.rows(picture).enumerate().filter(|(_, row)| row.iter().any(bright));
    span(&inked.map(|(n, _)| n).collect::<Vec<_>>(), area)
}

/// How much of its box a label fills from its first column of ink to its last.
pub(crate) fn filled(area: &Area, picture: &SharedPixelBuffer<Rgba8Pixel>) -> f64 {
    let inked = area.rows(picture).flat_map(|row| row.iter().enumerate().filter(|(_, pixel)| bright(pixel)));
    let columns: Vec<usize> = inked.map(|(n, _)| n).collect();
    f64::from(span(&columns, area)) / f64::from(area.right - area.x)
}

/// A line that is cut fills its box to the last letter that goes in; one that fits leaves a margin.
pub(crate) const MARGIN: f64 = 0.99;
