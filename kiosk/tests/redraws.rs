//! What a display draws again from one second to the next: no more than what changed. That is most of what a display costs,
//! and one text that depends on too much makes all of it be drawn again.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod scenes;

use std::rc::Rc;

use scenes::*;
use slint::platform::software_renderer::{MinimalSoftwareWindow, PremultipliedRgbaColor, RepaintBufferType};
use slint::platform::{Platform, PlatformError, WindowAdapter};
use slint::{ComponentHandle, Global, PhysicalSize};
use turnabout_kiosk::apply::apply_with;
use turnabout_kiosk::ui::{Kiosk, KioskWindow};
use turnabout_protocol::text::Language;

const WIDTH: u32 = 1920;
const HEIGHT: u32 = 1080;

struct Memory(Rc<MinimalSoftwareWindow>);

impl Platform for Memory {
    fn create_window_adapter(&self) -> Result<Rc<dyn WindowAdapter>, PlatformError> {
        Ok(Rc::clone(&self.0) as Rc<dyn WindowAdapter>)
    }
}

/// A screen that keeps what it shows, as that of a kiosk does.
struct Screen {
    memory: Rc<MinimalSoftwareWindow>,
    window: KioskWindow,
    pixels: Vec<PremultipliedRgbaColor>,
}

impl Screen {
    fn begin() -> Self {
        let memory = MinimalSoftwareWindow::new(RepaintBufferType::ReusedBuffer);
        slint::platform::set_platform(Box::new(Memory(Rc::clone(&memory)))).unwrap();
        let window = KioskWindow::new().unwrap();
        window.show().unwrap();
        memory.set_size(PhysicalSize::new(WIDTH, HEIGHT));
        Kiosk::get(&window).set_diagonal(24.0);
        let pixels = vec![PremultipliedRgbaColor::default(); (WIDTH * HEIGHT) as usize];
        Self { memory, window, pixels }
    }

    /// Draws a scene as it is so many seconds from now; which share of the screen is drawn for that.
    fn draw(&mut self, sample: &Sample, secs: i64) -> f64 {
        apply_with(&self.window, &sample.face_at(at(secs), Language::En), None, &sample.hands);
        Kiosk::get(&self.window).set_asking(sample.asking);
        slint::platform::update_timers_and_animations();
        let mut drawn = 0.0;
        while self.memory.draw_if_needed(|renderer| {
            let region = renderer.render(&mut self.pixels, WIDTH as usize);
            let area = |size: PhysicalSize| f64::from(size.width) * f64::from(size.height);
            drawn += region.iter().map(|(_, size)| area(size)).sum::<f64>();
        }) {
            slint::platform::update_timers_and_animations();
        }
        drawn / f64::from(WIDTH * HEIGHT)
    }
}

/// The least and the most that is drawn of a scene from one of its first seconds to the next, once it stands.
fn drawn_again(screen: &mut Screen, sample: &Sample) -> (f64, f64) {
    let first = screen.draw(sample, 0);
    assert!(first > 0.0, "{}: another scene draws nothing", sample.name);
    let (mut least, mut most) = (f64::MAX, 0.0_f64);
    for secs in 1..4 {
        let drawn = screen.draw(sample, secs);
        (least, most) = (least.min(drawn), most.max(drawn));
    }
    (least, most)
}

#[test]
fn what_stands_still_is_not_drawn_again() {
    let mut screen = Screen::begin();
    let still = ["free", "needs-load", "held", "wipe-down", "stopped-rack", "other-use", "out-of-service"];
    for sample in all().into_iter().filter(|sample| still.contains(&sample.name)) {
        assert_eq!(drawn_again(&mut screen, &sample), (0.0, 0.0), "{}", sample.name);
    }
}

#[test]
fn of_a_countdown_what_counts_is_drawn_again_and_little_else() {
    let mut screen = Screen::begin();
    // The box of the count is a seventh of the screen, the button of GO a twentieth and a line as much. The strips of a wall
    // move every other second.
    for (name, share) in [
        ("rest", 0.2),
        ("coming", 0.15),
        ("ready", 0.15),
        ("paused", 0.15),
        ("assumed", 0.22),
        ("still-there", 0.25),
        ("told-away", 0.3),
        ("two", 0.3),
        ("help", 0.15),
        ("board-full", 0.35),
    ] {
        let samples = all();
        let sample = samples.iter().find(|sample| sample.name == name).unwrap();
        let (least, most) = drawn_again(&mut screen, sample);
        assert!(least > 0.01 && most <= share, "{name}: {least:.3} to {most:.3} of the screen");
    }
}
