//! The screens a kiosk may have, and what is on them.

use i_slint_backend_testing::{ElementHandle, ElementQuery, TestingBackend, TestingBackendOptions};
use slint::{ComponentHandle, Global, PhysicalSize, Rgba8Pixel, SharedPixelBuffer};
use turnabout_kiosk::apply::apply_with;
use turnabout_kiosk::face::Face;
use turnabout_kiosk::ui::{Kiosk, KioskWindow};

use crate::scenes::{STILL, Sample};

/// A screen: its pixels, and from corner to corner in inches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Screen {
    pub(crate) width: u32,
    pub(crate) height: u32,
    pub(crate) inches: f64,
}

const fn screen(width: u32, height: u32, inches: f64) -> Screen {
    Screen { width, height, inches }
}

/// Every screen that has to do for a station.
pub(crate) const STATIONS: [Screen; 6] = [
    screen(1920, 1080, 24.0),
    screen(1920, 1080, 15.6),
    screen(1080, 1920, 24.0),
    screen(1080, 1920, 15.6),
    screen(1280, 800, 10.1),
    screen(1024, 600, 10.1),
];

impl Screen {
    /// Millimetres a pixel.
    pub(crate) fn pitch(self) -> f64 {
        self.inches * 25.4 / f64::from(self.width).hypot(f64::from(self.height))
    }

    /// So many pixels are seen under this angle from so far: H = 2 D tan(A/2).
    pub(crate) fn pixels(self, minutes: f64, metres: f64) -> f64 {
        2.0 * metres * 1000.0 * (minutes / 60.0 / 2.0).to_radians().tan() / self.pitch()
    }

    /// Whether it is read across the room, and not from two metres.
    pub(crate) fn is_far(self) -> bool {
        self.inches >= 15.0
    }
}

#[test]
fn pixels_under_an_angle_are_those_of_the_tables() {
    // H = 2 D tan(A/2), as tabulated for ISO 9241-303: 22' at 3 m are 19.20 mm, 69.4 px on a 24-inch screen of
    // 1920 x 1080 (0.2767 mm a pixel) and 106.7 px on one of 15.6 inches.
    let [large, small, ..] = STATIONS;
    assert!((large.pitch() - 0.2767).abs() < 0.0001, "{}", large.pitch());
    assert!((large.pixels(22.0, 3.0) - 69.4).abs() < 0.1, "{}", large.pixels(22.0, 3.0));
    assert!((small.pixels(22.0, 3.0) - 106.7).abs() < 0.1, "{}", small.pixels(22.0, 3.0));
}

/// A window that is only memory.
pub(crate) fn window() -> KioskWindow {
    let options =
        TestingBackendOptions { mock_time: true, threading: false, renderer_name: Some("software".into()) };
    slint::platform::set_platform(Box::new(TestingBackend::new(options))).unwrap();
    let window = KioskWindow::new().unwrap();
    window.show().unwrap();
    window
}

/// Makes the window one of this screen.
pub(crate) fn put_on(window: &KioskWindow, screen: Screen) {
    window.window().set_size(PhysicalSize::new(screen.width, screen.height));
    #[expect(clippy::cast_possible_truncation, reason = "a few inches")]
    Kiosk::get(window).set_diagonal(screen.inches as f32);
    // The sizes of letters follow when it is drawn.
    window.window().take_snapshot().unwrap();
}

/// A picture of a face, with the answers open where the scene has them open.
pub(crate) fn picture(window: &KioskWindow, face: &Face, sample: &Sample) -> SharedPixelBuffer<Rgba8Pixel> {
    apply_with(window, face, STILL, &sample.hands);
    Kiosk::get(window).set_asking(sample.asking);
    window.window().take_snapshot().unwrap()
}

/// A part of a picture.
#[derive(Clone, Debug)]
pub(crate) struct Area {
    pub(crate) label: String,
    pub(crate) x: u32,
    pub(crate) y: u32,
    pub(crate) right: u32,
    pub(crate) bottom: u32,
}

impl Area {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "positions on a screen")]
    pub(crate) fn of(element: &ElementHandle, picture: &SharedPixelBuffer<Rgba8Pixel>) -> Self {
        let (at, size) = (element.absolute_position(), element.size());
        Self {
            label: element.accessible_label().unwrap_or_default().to_string(),
            x: at.x.max(0.0) as u32,
            y: at.y.max(0.0) as u32,
            right: ((at.x + size.width).max(0.0) as u32).min(picture.width()),
            bottom: ((at.y + size.height).max(0.0) as u32).min(picture.height()),
        }
    }

    /// Its rows of pixels.
    pub(crate) fn rows<'p>(
        &self,
        picture: &'p SharedPixelBuffer<Rgba8Pixel>,
    ) -> impl Iterator<Item = &'p [Rgba8Pixel]> {
        let (x, right, width) = (self.x as usize, self.right as usize, picture.width() as usize);
        (self.y as usize..self.bottom as usize)
            .map(move |row| &picture.as_slice()[row * width + x..row * width + right])
    }
}

/// Everything on a picture that says something.
pub(crate) fn areas(window: &KioskWindow, picture: &SharedPixelBuffer<Rgba8Pixel>) -> Vec<Area> {
    let elements = ElementQuery::from_root(window)
        .match_predicate(|element| {
            element.accessible_role().is_some() && element.accessible_label().is_some_and(|l| !l.is_empty())
        })
        .find_all();
    let areas = elements.iter().map(|element| Area::of(element, picture));
    areas.filter(|area| area.right > area.x && area.bottom > area.y).collect()
}

/// What says this.
pub(crate) fn area(
    window: &KioskWindow,
    picture: &SharedPixelBuffer<Rgba8Pixel>,
    label: &str,
) -> Option<Area> {
    areas(window, picture).into_iter().find(|area| area.label == label)
}
