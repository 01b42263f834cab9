//! The level of the pacer as time goes by: even, in time, and never set back.

use std::time::Duration;

use i_slint_backend_testing::mock_elapsed_time;
use slint::{ComponentHandle, Global};
use turnabout_kiosk::face::Going;
use turnabout_kiosk::ui::Pace;
use turnabout_protocol::text::Language;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::StationPart;

use crate::Hand;
use crate::scenes::*;

/// A display of a set, on which time goes by.
struct Display {
    hand: Hand,
    sample: Sample,
}

impl Display {
    fn new(part: StationPart) -> Self {
        let sample = Sample::new("", view(vec![part]));
        let hand =
            Hand::new(Sample::new("", view(vec![row_1(coming(rest(9), 9, 9, &[]))])).face(Language::En));
        Self { hand, sample }
    }

    /// Draws what is so so many milliseconds from now, where floor time goes by at this rate.
    fn draw(&mut self, ms: i64, rate: u32) -> f32 {
        let now = FloorMs(NOW.0 + ms);
        let face = self.sample.face_at(now, Language::En);
        self.hand.shown.borrow_mut().draw(&self.hand.window, face, Some(Going { now, rate }));
        self.level()
    }

    /// Real time goes by.
    fn wait(&self, ms: u64) -> f32 {
        mock_elapsed_time(Duration::from_millis(ms));
        self.level()
    }

    fn level(&self) -> f32 {
        Pace::get(&self.hand.window).get_level()
    }
}

fn is(found: f32, expected: f32) {
    assert!((found - expected).abs() < 0.002, "{found}, not {expected}");
}

#[test]
fn the_level_begins_where_the_tempo_is_and_moves_evenly() {
    // A press of 3-1-2-0: a second and a half of lowering are over.
    let mut display = Display::new(press_at("3-1-2-0", 0));
    is(display.draw(1_500, 1), 0.5);
    is(display.wait(750), 0.25);
    is(display.wait(750), 0.0);
    is(display.wait(500), 0.0);
    // The pause, and half of the effort.
    is(display.draw(3_500, 1), 0.0);
    is(display.wait(500), 0.0);
    is(display.draw(4_000, 1), 0.0);
    is(display.wait(1_000), 0.5);
    // On a floor that runs twice as fast.
    is(display.draw(6_000, 2), 1.0);
    is(display.wait(750), 0.5);
}

/// Thirty seconds of effort, while floor time is put right by so much each second.
fn put_right(off: i64) {
    let mut display = Display::new(row_at("1-0-30-0", 0));
    let mut last = display.draw(0, 1);
    let mut floor = 0;
    while floor < 29_000 {
        for _ in 0..10 {
            let level = display.wait(100);
            assert!(level >= last, "{last} then {level}");
            last = level;
        }
        floor += 1_000 + off;
        // It goes on from where it is drawn.
        is(display.draw(floor, 1), last);
    }
    is(display.wait(u64::try_from(30_000 - floor).unwrap()), 1.0);
    is(display.draw(30_000, 1), 1.0);
    is(display.wait(500), 0.5);
}

// Floor time is put right by at most 50 ms in a second.

#[test]
fn the_level_is_never_set_back_and_arrives_in_time_where_the_display_was_ahead() {
    put_right(-45);
}

#[test]
fn the_level_never_jumps_and_arrives_in_time_where_the_display_was_behind() {
    put_right(45);
}

#[test]
fn a_clock_that_a_test_drives_is_taken_at_once() {
    let mut display = Display::new(press_at("3-1-2-0", 0));
    is(display.draw(1_500, 0), 0.5);
    is(display.wait(5_000), 0.5);
    is(display.draw(2_250, 0), 0.25);
    is(display.draw(750, 0), 0.75);
}

#[test]
fn nothing_moves_in_a_pause_and_where_it_is_off() {
    let mut display = Display::new(press_at("3-1-2-0", 0));
    let frames = |display: &Display| {
        // What has moved asks for the next frame; once nothing does it stays so.
        display.wait(16);
        display.hand.window.window().take_snapshot().unwrap();
        display.hand.window.window().has_active_animations()
    };
    display.draw(1_000, 1);
    assert!(frames(&display), "lowering");
    display.draw(3_000, 1);
    assert!(!frames(&display), "a pause");
    display.draw(4_000, 1);
    assert!(frames(&display), "pressing");
    display.hand.click("Pace off");
    assert_eq!(display.hand.sent(), None, "it sends nothing");
    display.sample.unpaced = display.hand.shown.borrow().own().unpaced().clone();
    display.draw(4_500, 1);
    assert!(!frames(&display), "off");
    assert!(!Pace::get(&display.hand.window).get_shown());
    display.hand.click("Pace on");
    display.sample.unpaced = display.hand.shown.borrow().own().unpaced().clone();
    is(display.draw(5_000, 1), 0.5);
    assert!(frames(&display), "on again");
    // The set is over, and nobody has said so yet.
    display.draw(60_000, 1);
    assert!(!frames(&display), "over");
}

#[test]
fn a_floor_that_runs_too_fast_is_paced_by_words_alone() {
    let mut display = Display::new(press_at("3-1-2-0", 0));
    for (ms, rate, shown) in [(500, 6, true), (1_500, 7, false)] {
        display.draw(ms, rate);
        let pace = Pace::get(&display.hand.window);
        assert_eq!((pace.get_shown(), pace.get_level_shown()), (true, shown), "{rate} times as fast");
    }
}
