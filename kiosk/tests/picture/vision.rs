//! All phases are told apart by people who do not see red, or green: by the marks that the faces draw.
//!
//! A hue is never the only cue, so hues may come together for them. What must not is the shape of a mark, as small as it
//! is from far away.

use i_slint_backend_testing::ElementQuery;
use slint::{Rgba8Pixel, SharedPixelBuffer};
use turnabout_kiosk::face::{Body, PhaseKind};
use turnabout_kiosk::ui::KioskWindow;
use turnabout_protocol::text::{Language, message};

use crate::contrast::{Colour, contrast};
use crate::scenes::all;
use crate::screens::{Area, STATIONS, picture, put_on, window};

/// How somebody sees.
#[derive(Clone, Copy, Debug)]
enum Vision {
    /// As most do.
    Usual,
    /// Without the cones for long waves: red.
    Protan,
    /// Without those for middle waves: green.
    Deutan,
}

impl Vision {
    const ALL: [Self; 3] = [Self::Usual, Self::Protan, Self::Deutan];

    /// What of linear red, green and blue is seen in place of them: severity 1.0 of Machado, Oliveira and Fernandes (2009),
    /// A physiologically-based model for simulation of color vision deficiency, IEEE TVCG 15(6):1291-1298, table 1.
    const fn matrix(self) -> [[f64; 3]; 3] {
        match self {
            Self::Usual => [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
            Self::Protan => [
                [0.152_286, 1.052_583, -0.204_868],
                [0.114_503, 0.786_281, 0.099_216],
                [-0.003_882, -0.048_116, 1.051_998],
            ],
            Self::Deutan => [
                [0.367_322, 0.860_646, -0.227_968],
                [0.280_085, 0.672_501, 0.047_413],
                [-0.011_820, 0.042_940, 0.968_881],
            ],
        }
    }

    /// A colour as it is seen, by the curve of sRGB (IEC 61966-2-1).
    fn seen(self, colour: Colour) -> Colour {
        let linear = colour.map(|part| {
            let part = f64::from(part) / 255.0;
            if part <= 0.04045 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
        });
        self.matrix().map(|row| {
            let part: f64 = row.iter().zip(linear).map(|(share, part)| share * part).sum();
            let part = part.clamp(0.0, 1.0);
            let part = if part <= 0.003_130_8 { part * 12.92 } else { 1.055 * part.powf(1.0 / 2.4) - 0.055 };
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 255")]
            {
                (part * 255.0).round() as u8
            }
        })
    }
}

#[test]
fn colours_are_seen_as_another_library_has_them() {
    // colorspacious 1.1.2 of PyPI, cspace_convert from sRGB1+CVD of severity 100 to sRGB1, clipped and rounded.
    for (colour, protan, deutan) in [
        ([0xf4, 0xf1, 0xea], [243, 241, 234], [244, 242, 234]),
        ([0xe6, 0x9f, 0x00], [185, 162, 0], [202, 180, 17]),
        ([0x56, 0xb4, 0xe9], [155, 179, 236], [135, 164, 232]),
        ([0x00, 0x9e, 0x73], [154, 146, 113], [138, 134, 118]),
        ([0xd5, 0x5e, 0x00], [129, 113, 0], [158, 140, 0]),
        ([0xcc, 0x79, 0xa7], [128, 139, 169], [148, 152, 165]),
        ([255, 0, 0], [109, 95, 0], [163, 144, 0]),
        ([0, 255, 0], [255, 229, 0], [239, 214, 58]),
    ] {
        assert_eq!(Vision::Protan.seen(colour), protan, "{colour:?}");
        assert_eq!(Vision::Deutan.seen(colour), deutan, "{colour:?}");
        assert_eq!(Vision::Usual.seen(colour), colour);
    }
}

/// Cells of a mark from side to side, as it is seen at a tenth of its size.
const CELLS: u32 = 12;

/// How much of each cell stands out.
type Shape = Vec<f64>;

/// What of a mark stands out for somebody who sees so: at least three times as bright as its ground, or as dark, as
/// WCAG 2.2 asks of what is no text (1.4.11).
fn shape(mark: &Area, picture: &SharedPixelBuffer<Rgba8Pixel>, vision: Vision) -> Shape {
    let colour = |x: u32, y: u32| {
        let pixel = picture.as_slice()[(y * picture.width() + x) as usize];
        vision.seen([pixel.r, pixel.g, pixel.b])
    };
    // Every mark leaves a margin of its square free.
    let ground = colour(mark.x, mark.y);
    let edge = |from: u32, to: u32, n: u32| from + (to - from) * n / CELLS;
    let cell = |n: u32| {
        let (column, row) = (n % CELLS, n / CELLS);
        let mut places = (0_u32, 0_u32);
        for y in edge(mark.y, mark.bottom, row)..edge(mark.y, mark.bottom, row + 1) {
            for x in edge(mark.x, mark.right, column)..edge(mark.x, mark.right, column + 1) {
                places.1 += 1;
                places.0 += u32::from(contrast(colour(x, y), ground) >= 3.0);
            }
        }
        f64::from(places.0) / f64::from(places.1)
    };
    (0..CELLS * CELLS).map(cell).collect()
}

/// How much of the square is otherwise.
fn apart(one: &Shape, other: &Shape) -> f64 {
    one.iter().zip(other).map(|(one, other)| (one - other).abs()).sum::<f64>() / f64::from(CELLS * CELLS)
}

/// How many phases a station has. That somebody is gone is said on the board alone.
const PHASES: usize = 18;

/// The largest mark on the first face of each phase, as people see it.
fn marks(window: &KioskWindow) -> Vec<(PhaseKind, [Shape; 3])> {
    let mut marks: Vec<(PhaseKind, [Shape; 3])> = Vec::new();
    for sample in all() {
        let face = sample.face(Language::En);
        let Body::Stations { panels } = &face.body else { continue };
        let kind = panels[0].phase;
        if face.help.is_some()
            || face.pad.is_some()
            || face.visit.is_some()
            || marks.iter().any(|(known, _)| *known == kind)
        {
            continue;
        }
        let picture = picture(window, &face, &sample);
        let drawn = ElementQuery::from_root(window).match_inherits("Mark").find_all();
        let drawn = drawn.iter().map(|mark| Area::of(mark, &picture));
        let mark = drawn.max_by_key(|mark| mark.right.saturating_sub(mark.x)).unwrap();
        marks.push((kind, Vision::ALL.map(|vision| shape(&mark, &picture, vision))));
    }
    marks
}

#[test]
fn phases_are_told_apart_without_their_hues() {
    let window = window();
    // The screen on which marks have the fewest pixels.
    put_on(&window, STATIONS[5]);
    let marks = marks(&window);
    assert_eq!(marks.len(), PHASES, "{:?}", marks.iter().map(|(kind, _)| kind).collect::<Vec<_>>());
    for (n, (kind, shapes)) in marks.iter().enumerate() {
        for (vision, shape) in Vision::ALL.iter().zip(shapes) {
            let out = shape.iter().sum::<f64>() / f64::from(CELLS * CELLS);
            assert!((0.1..0.9).contains(&out), "{kind:?} {vision:?}: {out:.2} of the square stands out");
        }
        for (other, others) in &marks[n + 1..] {
            for (vision, (one, two)) in Vision::ALL.iter().zip(shapes.iter().zip(others)) {
                let apart = apart(one, two);
                assert!(apart >= 0.1, "{kind:?} and {other:?} {vision:?}: {apart:.3} apart");
            }
            // The word says it as well; of the two ends of one way it is the same.
            let way = [PhaseKind::Changeover, PhaseKind::Leaving];
            let same = message(Language::En, kind.word()) == message(Language::En, other.word());
            assert!(!same || way.contains(kind) && way.contains(other), "{kind:?} and {other:?}");
        }
    }
}
