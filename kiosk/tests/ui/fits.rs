//! Sentences of any length fit their line.

use i_slint_backend_testing::ElementHandle;
use slint::{ComponentHandle, PhysicalSize};
use turnabout_kiosk::apply::apply;
use turnabout_kiosk::face::Body;
use turnabout_kiosk::ui::KioskWindow;
use turnabout_protocol::next::Change;
use turnabout_protocol::text::Language;
use turnabout_protocol::work::Work;

use crate::scenes::*;
use crate::{SIZES, window};

/// The columns from the left edge of a label's box to its last bright pixel, as a share of the box.
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
    #[expect(clippy::cast_precision_loss, reason = "a screen is a few thousand pixels")]
    let share = (last + 1 - x) as f32 / size.width;
    share
}

#[test]
fn whatever_is_proposed_is_never_cut() {
    // A line that is cut fills its box to the last letter that goes in; one that fits leaves a margin.
    const MARGIN: f32 = 0.99;
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
