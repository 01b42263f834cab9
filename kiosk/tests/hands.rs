//! Hands at a window that is only memory: real pointer and key events, and a clock that the test moves.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod scenes;

use std::cell::{Cell, RefCell};
use std::rc::Rc;
use std::time::{Duration, Instant};

use i_slint_backend_testing::{ElementHandle, TestingBackend, TestingBackendOptions, mock_elapsed_time};
use scenes::*;
use slint::platform::{Key, PointerEventButton, WindowEvent};
use slint::{ComponentHandle, Global, LogicalPosition, PhysicalSize, SharedString};
use tokio::sync::mpsc::{Receiver, channel};
use turnabout_kiosk::face::Face;
use turnabout_kiosk::input::{HELD_MS, WIPE_MS};
use turnabout_kiosk::link::socket::Tapped;
use turnabout_kiosk::ui::{Kiosk, KioskWindow};
use turnabout_kiosk::window::{Clock, Shown, listen};
use turnabout_protocol::command::{Act, CallKind, Effort};
use turnabout_protocol::ids::StationId;
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{Need, StationPart};

const HELP: Act = Act::Call { station: StationId(1), call: CallKind::HelpNow };

struct Station {
    window: KioskWindow,
    shown: Rc<RefCell<Shown>>,
    taps: Receiver<Tapped>,
    now: Rc<Cell<Instant>>,
}

impl Station {
    fn at(part: StationPart) -> Self {
        let options = TestingBackendOptions {
            mock_time: true,
            threading: false,
            renderer_name: Some("software".into()),
        };
        slint::platform::set_platform(Box::new(TestingBackend::new(options))).unwrap();
        let window = KioskWindow::new().unwrap();
        window.show().unwrap();
        window.window().set_size(PhysicalSize::new(1920, 1080));
        let now = Rc::new(Cell::new(Instant::now()));
        let clock = Rc::clone(&now);
        let shown = Rc::new(RefCell::new(Shown::timed(Clock::by(move || clock.get()))));
        let (sender, taps) = channel(8);
        listen(&window, &shown, sender, now.get());
        let station = Self { window, shown, taps, now };
        station.shows(part);
        station
    }

    /// The server says so, and it has been seen.
    fn shows(&self, part: StationPart) {
        self.draw(Sample::new("", view(vec![part])).face(Language::En));
        self.pass(500);
    }

    fn draw(&self, face: Face) {
        self.shown.borrow_mut().draw(&self.window, face, STILL);
        self.window.window().take_snapshot().unwrap();
    }

    fn pass(&self, millis: u64) {
        self.now.set(self.now.get() + Duration::from_millis(millis));
        mock_elapsed_time(Duration::from_millis(millis));
    }

    fn down(&self, key: impl Into<SharedString>) {
        self.window.window().dispatch_event(WindowEvent::KeyPressed { text: key.into() });
    }

    fn up(&self, key: impl Into<SharedString>) {
        self.window.window().dispatch_event(WindowEvent::KeyReleased { text: key.into() });
    }

    /// A key is pressed and let go, and what that leads to is drawn.
    fn key(&self, key: impl Into<SharedString>) {
        let key = key.into();
        self.down(key.clone());
        self.pass(80);
        self.up(key);
        self.window.window().take_snapshot().unwrap();
        self.pass(500);
    }

    fn place(&self, label: &str) -> LogicalPosition {
        let element = ElementHandle::find_by_accessible_label(&self.window, label).next().unwrap();
        let (at, size) = (element.absolute_position(), element.size());
        LogicalPosition::new(at.x + size.width / 2.0, at.y + size.height / 2.0)
    }

    fn touch(&self, label: &str, lasts: u64) {
        let (position, button) = (self.place(label), PointerEventButton::Left);
        self.window.window().dispatch_event(WindowEvent::PointerPressed { position, button });
        self.pass(lasts);
        self.window.window().dispatch_event(WindowEvent::PointerReleased { position, button });
        self.window.window().take_snapshot().unwrap();
    }

    fn sent(&mut self) -> Vec<Act> {
        let mut acts = Vec::new();
        while let Ok((_, act)) = self.taps.try_recv() {
            acts.push(act);
        }
        acts
    }

    fn is_there(&self, label: &str) -> bool {
        ElementHandle::find_by_accessible_label(&self.window, label).next().is_some()
    }

    fn marked(&self) -> String {
        Kiosk::get(&self.window).get_marked().to_string()
    }
}

/// The load of the set to come is on the bar, and nobody has said so yet.
fn to_confirm() -> StationPart {
    bench_1(coming(rest(-4), -4, -4, &[Need::ConfirmLoad]))
}

#[test]
fn a_whole_set_is_done_by_four_keys() {
    let turn = turn_id(1, 2, 0);
    let mut station = Station::at(to_confirm());
    station.key(Key::Return);
    assert_eq!(station.sent(), [Act::ConfirmLoad { turn }]);
    station.shows(bench_1(coming(rest(-5), -5, -5, &[])));
    station.key(" ");
    assert_eq!(station.sent(), [Act::Go { turn }]);
    station.shows(bench_1(under_way(-41)));
    // A foot switch sends what turns a page.
    station.key(Key::PageDown);
    assert_eq!(station.sent(), [], "DONE asks first");
    assert_eq!(station.marked(), "done_right");
    station.key("+");
    assert_eq!(station.marked(), "done_heavy");
    station.key(Key::Return);
    let done = Act::Done { turn, reps: None, effort: Some(Effort::Heavy), ending: None };
    assert_eq!(station.sent(), [done]);
    assert!(!Kiosk::get(&station.window).get_asking());
}

#[test]
fn help_is_one_key_whatever_is_open_and_while_the_screen_is_wiped() {
    let mut station = Station::at(bench_with_plates());
    station.touch("Wipe screen", 100);
    station.key("h");
    assert_eq!(station.sent(), [HELP], "while it is wiped");
    station.pass(WIPE_MS);
    station.touch("Not as shown", 100);
    station.key(Key::F1);
    assert_eq!(station.sent(), [HELP], "while plates are spoken of");
    station.shows(bench_1(under_way(-41)));
    station.key(Key::Return);
    station.key("H");
    assert_eq!(station.sent(), [HELP], "while the answers are open");
}

#[test]
fn a_key_that_is_held_presses_once_and_no_other_key_does_anything() {
    let mut station = Station::at(bench_1(coming(rest(-5), -5, -5, &[])));
    station.down(Key::Return);
    for _ in 0..20 {
        station.pass(50);
        station.window.window().dispatch_event(WindowEvent::KeyPressRepeated { text: Key::Return.into() });
    }
    station.up(Key::Return);
    assert_eq!(station.sent().len(), 1);
    for other in [Key::Escape, Key::Tab, Key::Backspace, Key::F5, Key::Home] {
        station.key(other);
    }
    station.key("x");
    assert_eq!(station.sent(), []);
    // And none of them took the keys away.
    station.key(Key::Return);
    assert_eq!(station.sent().len(), 1);
}

#[test]
fn each_key_is_one_of_the_four_by_all_of_its_names() {
    let station = Station::at(bench_1(coming(rest(-5), -5, -5, &[])));
    let by = |names: Vec<SharedString>| {
        let mut marks = Vec::new();
        for name in names {
            station.key(name);
            marks.push(station.marked());
            station.pass(11_000);
        }
        marks
    };
    let plus = by(vec!["+".into(), "=".into(), Key::RightArrow.into(), Key::DownArrow.into()]);
    let minus = by(vec!["-".into(), Key::LeftArrow.into(), Key::UpArrow.into(), Key::PageUp.into()]);
    assert_eq!((plus, minus), (vec!["lighter".to_owned(); 4], vec!["wipe".to_owned(); 4]));
}

#[test]
fn what_is_marked_is_framed_only_while_keys_are_used() {
    let station = Station::at(bench_1(coming(rest(-5), -5, -5, &[])));
    let plain = station.window.window().take_snapshot().unwrap();
    assert_eq!(station.marked(), "");
    station.key("+");
    let framed = station.window.window().take_snapshot().unwrap();
    assert!(plain.as_bytes() != framed.as_bytes());
    station.pass(10_000);
    station.draw(Sample::new("", view(vec![bench_1(coming(rest(-5), -5, -5, &[]))])).face(Language::En));
    let after = station.window.window().take_snapshot().unwrap();
    assert!(plain.as_bytes() == after.as_bytes());
}

#[test]
fn no_touch_does_anything_while_the_screen_is_wiped_and_everybody_sees_that() {
    let mut station = Station::at(bench_1(coming(rest(-5), -5, -5, &[])));
    station.touch("Wipe screen", 100);
    assert!(station.is_there("Wipe: 20"));
    assert!(station.is_there("Wipe now: touch is off for 20 s. Hold “Help now” to call"));
    for label in ["Go", "Not yet", "Help now"] {
        station.pass(500);
        station.touch(label, 100);
    }
    assert_eq!(station.sent(), []);
    // Whoever calls for help stays on it, and is heard.
    station.touch("Help now", HELD_MS);
    assert_eq!(station.sent(), [HELP]);
    station.pass(WIPE_MS);
    station.draw(Sample::new("", view(vec![bench_1(coming(rest(-5), -5, -5, &[]))])).face(Language::En));
    assert!(station.is_there("Wipe screen"));
    station.touch("Go", 100);
    assert_eq!(station.sent().len(), 1);
}

#[test]
fn ghosts_lying_towels_and_double_taps_send_nothing() {
    let mut station = Station::at(bench_1(coming(rest(-5), -5, -5, &[])));
    station.touch("Not yet", 20);
    station.touch("Not yet", 3_100);
    assert_eq!(station.sent(), []);
    station.touch("Not yet", 100);
    station.pass(150);
    station.touch("Not yet", 100);
    assert_eq!(station.sent().len(), 1, "the second of a double tap");
    station.touch("Help now", 10);
    assert_eq!(station.sent(), [HELP]);
}

#[test]
fn a_wet_screen_is_told_and_only_help_and_wiping_are_left() {
    let mut station = Station::at(bench_1(coming(rest(-5), -5, -5, &[])));
    let window = station.window.window();
    for (n, button) in [PointerEventButton::Left; 6].into_iter().enumerate() {
        #[expect(clippy::cast_precision_loss, reason = "six places")]
        let position = LogicalPosition::new(300.0 + 200.0 * n as f32, 500.0);
        window.dispatch_event(WindowEvent::PointerPressed { position, button });
        window.dispatch_event(WindowEvent::PointerReleased { position, button });
    }
    window.take_snapshot().unwrap();
    assert!(station.is_there("The screen seems wet. “Wipe screen” is at the lower left."));
    station.touch("Go", 100);
    assert_eq!(station.sent(), []);
    station.touch("Wipe screen", 100);
    assert!(station.is_there("Wipe: 20"));
}

#[test]
fn both_keys_that_move_the_mark_held_for_five_seconds_set_the_display_up() {
    let station = Station::at(bench_1(coming(rest(-5), -5, -5, &[])));
    let wanted = Rc::new(Cell::new(0));
    let count = Rc::clone(&wanted);
    Kiosk::get(&station.window).on_setup_wanted(move || count.set(count.get() + 1));
    station.down("-");
    station.pass(6_000);
    assert_eq!(wanted.get(), 0, "one key alone is a foot that rests");
    station.down("+");
    station.pass(4_900);
    assert_eq!(wanted.get(), 0);
    station.pass(200);
    assert_eq!(wanted.get(), 1);
    station.up("+");
    station.up("-");
}
