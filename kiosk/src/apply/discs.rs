//! Where the discs of a picture of one end of a bar stand, in sizes of their letters.

use crate::face::{Disc, Does, Paint};
use crate::ui;

/// Between the plates that are to be on and those that come off, in sizes of their letters.
const APART: f32 = 1.2;
/// Between two plates.
const GAP: f32 = 0.12;

/// The discs from the inside out, each in its place, and how far they go.
pub(super) fn discs(sleeve: &[Disc]) -> (Vec<ui::DiscData>, f32) {
    let mut x = 0.0;
    let mut before = None;
    let mut discs = Vec::new();
    for disc in sleeve {
        let sign = match disc.does {
            Does::Stays => "",
            Does::Comes => "+",
            Does::Goes => "−",
        };
        let number = format!("{sign}{}", disc.number);
        // Figures are six tenths of their size wide, and a decimal mark half as much.
        let narrow = |letter| if matches!(letter, '.' | ',') { 0.3 } else { 0.6 };
        let width = number.chars().map(narrow).sum::<f32>() + 0.5;
        if disc.does == Does::Goes && before.is_some_and(|before| before != Does::Goes) {
            x += APART;
        }
        before = Some(disc.does);
        let (does, paint) = (does(disc.does), paint(disc.paint));
        discs.push(ui::DiscData {
            number: number.into(),
            x,
            width,
            height: f32::from(disc.height) / 1000.0,
            paint,
            does,
        });
        x += width + GAP;
    }
    (discs, x)
}

const fn does(does: Does) -> ui::Does {
    match does {
        Does::Stays => ui::Does::Stays,
        Does::Comes => ui::Does::Comes,
        Does::Goes => ui::Does::Goes,
    }
}

const fn paint(paint: Paint) -> ui::Paint {
    match paint {
        Paint::Red => ui::Paint::Red,
        Paint::Blue => ui::Paint::Blue,
        Paint::Yellow => ui::Paint::Yellow,
        Paint::Green => ui::Paint::Green,
        Paint::White => ui::Paint::White,
        Paint::Plain => ui::Paint::Plain,
    }
}
