//! A coach at a window that is only memory: real touches and keys, a clock that the test moves, and a gate that the test
//! answers for.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod scenes;

use std::cell::{Cell, RefCell};
use std::rc::Rc;
use std::sync::Arc;
use std::time::{Duration, Instant};

use i_slint_backend_testing::{ElementHandle, TestingBackend, TestingBackendOptions, mock_elapsed_time};
use scenes::*;
use slint::platform::{Key, PointerEventButton, WindowEvent};
use slint::{ComponentHandle, Global, LogicalPosition, PhysicalSize, SharedString};
use tokio::sync::mpsc::{Receiver, channel};
use tokio::sync::watch;
use turnabout_kiosk::face::Pin;
use turnabout_kiosk::gate::{Answer, Gate, NoGate};
use turnabout_kiosk::link::socket::{Tapped, millis};
use turnabout_kiosk::ui::{Kiosk, KioskWindow};
use turnabout_kiosk::window::{Clock, Shown, listen};
use turnabout_protocol::command::{Act, CallKind};
use turnabout_protocol::ids::StationId;
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{StationPart, View};

const ASKS: &str = "Coach: type your PIN to see who needs you.";
const WRONG: &str = "That PIN is no coach's. Type it again.";

/// A gate that takes down what it is asked; the test answers.
#[derive(Debug, Default)]
struct Stub {
    asked: RefCell<Vec<Vec<u8>>>,
    answers: RefCell<Option<watch::Sender<Answer>>>,
}

impl Gate for Stub {
    fn is_offered(&self) -> bool {
        true
    }

    fn ask(&self, pin: Pin) -> watch::Receiver<Answer> {
        let (answers, receiver) = watch::channel(Answer::Waiting);
        self.asked.borrow_mut().push(pin.into_digits());
        *self.answers.borrow_mut() = Some(answers);
        receiver
    }
}

impl Stub {
    fn answer(&self, answer: Answer) {
        self.answers.borrow().as_ref().unwrap().send(answer).unwrap();
    }

    fn is_listened_to(&self) -> bool {
        self.answers.borrow().as_ref().is_some_and(|answers| !answers.is_closed())
    }
}

struct Station {
    window: KioskWindow,
    shown: Rc<RefCell<Shown>>,
    taps: Receiver<Tapped>,
    began: Instant,
    now: Rc<Cell<Instant>>,
    view: View,
}

impl Station {
    fn at(gate: Rc<dyn Gate>, view: View) -> Self {
        let options = TestingBackendOptions {
            mock_time: true,
            threading: false,
            renderer_name: Some("software".into()),
        };
        slint::platform::set_platform(Box::new(TestingBackend::new(options))).unwrap();
        let window = KioskWindow::new().unwrap();
        window.show().unwrap();
        window.window().set_size(PhysicalSize::new(1920, 1080));
        let began = Instant::now();
        let now = Rc::new(Cell::new(began));
        let clock = Rc::clone(&now);
        let shown = Shown::timed(Clock::by(move || clock.get())).at(gate);
        let shown = Rc::new(RefCell::new(shown));
        let (sender, taps) = channel(8);
        listen(&window, &shown, sender, began);
        let station = Self { window, shown, taps, began, now, view };
        station.pass(0);
        station.pass(500);
        station
    }

    /// A station at which somebody rests.
    fn resting(gate: Rc<dyn Gate>) -> Self {
        Self::at(gate, of(bench_1(coming(rest(34), 34, 34, &[]))))
    }

    /// Time goes by, and what there is then is drawn.
    fn pass(&self, millis_more: u64) {
        self.now.set(self.now.get() + Duration::from_millis(millis_more));
        mock_elapsed_time(Duration::from_millis(millis_more));
        self.draw();
    }

    fn draw(&self) {
        let mut shown = self.shown.borrow_mut();
        shown.hear();
        let sample = Sample::new("", self.view.clone());
        let real = millis(self.began, self.now.get());
        let face = sample.face_with(NOW, real, Language::En, shown.own().visit());
        shown.draw(&self.window, face, STILL);
        drop(shown);
        self.window.window().take_snapshot().unwrap();
    }

    fn shows(&mut self, part: StationPart) {
        self.view = of(part);
        self.pass(500);
    }

    fn down(&self, key: impl Into<SharedString>) {
        self.window.window().dispatch_event(WindowEvent::KeyPressed { text: key.into() });
    }

    fn up(&self, key: impl Into<SharedString>) {
        self.window.window().dispatch_event(WindowEvent::KeyReleased { text: key.into() });
    }

    fn key(&self, key: impl Into<SharedString>) {
        let key = key.into();
        self.down(key.clone());
        self.pass(80);
        self.up(key);
        self.pass(450);
    }

    /// Moves the mark there and takes it.
    fn take(&self, name: &str) {
        for _ in 0..40 {
            if Kiosk::get(&self.window).get_marked() == name {
                self.key(Key::Return);
                return;
            }
            self.key("+");
        }
        panic!("{name} is never marked");
    }

    fn press_at(&self, position: LogicalPosition, lasts: u64) {
        let button = PointerEventButton::Left;
        self.window.window().dispatch_event(WindowEvent::PointerPressed { position, button });
        self.pass(lasts);
        self.window.window().dispatch_event(WindowEvent::PointerReleased { position, button });
        self.pass(500);
    }

    /// Holds the upper right corner.
    fn hold_corner(&self, lasts: u64) {
        self.press_at(LogicalPosition::new(1_900.0, 20.0), lasts);
    }

    fn touch(&self, label: &str) {
        let found = ElementHandle::find_by_accessible_label(&self.window, label).next();
        let element = found.unwrap_or_else(|| panic!("no {label}"));
        let (at, size) = (element.absolute_position(), element.size());
        self.press_at(LogicalPosition::new(at.x + size.width / 2.0, at.y + size.height / 2.0), 100);
    }

    fn type_pin(&self, pin: &str) {
        pin.chars().for_each(|digit| self.touch(&digit.to_string()));
        self.touch("Show");
    }

    fn is_there(&self, label: &str) -> bool {
        ElementHandle::find_by_accessible_label(&self.window, label).next().is_some()
    }

    fn sent(&mut self) -> Vec<Act> {
        let mut acts = Vec::new();
        while let Ok((_, act)) = self.taps.try_recv() {
            acts.push(act);
        }
        acts
    }
}

fn of(part: StationPart) -> View {
    view(vec![part])
}

fn edda() -> Answer {
    Answer::Coach(Arc::new(page_of_edda(four_rows(), vec![please(None)])))
}

#[test]
fn a_held_corner_four_digits_and_the_sheet_which_is_gone_after_a_minute() {
    let gate = Rc::new(Stub::default());
    let mut station = Station::resting(Rc::clone(&gate) as Rc<dyn Gate>);
    station.hold_corner(2_900);
    assert!(!station.is_there(ASKS), "nobody does it by chance");
    station.hold_corner(3_100);
    assert!(station.is_there(ASKS) && station.is_there("· · · ·"));
    station.type_pin("4477");
    assert_eq!(*gate.asked.borrow(), [[4, 4, 7, 7]]);
    assert!(station.is_there("Asking who needs you"));
    gate.answer(Answer::Wrong);
    station.pass(10);
    assert!(station.is_there(WRONG) && !gate.is_listened_to());
    station.pass(500);
    station.type_pin("90817263");
    assert_eq!(gate.asked.borrow().len(), 2);
    gate.answer(edda());
    station.pass(0);
    for text in ["Edda", "closes in 1:00", "waiting 0:42", "Coach, please", "Help now", "Wipe screen"] {
        assert!(station.is_there(text), "{text}");
    }
    // The station's own count is in the strip.
    assert!(station.is_there("0:34"));
    // It is kept up.
    let rows = vec![run_row(
        "Vesna",
        5,
        turnabout_protocol::view::CoachTask::Spot,
        9,
        turnabout_protocol::promise::StartReason::Rest,
    )];
    gate.answer(Answer::Coach(Arc::new(page_of_edda(rows, Vec::new()))));
    station.pass(59_000);
    assert!(station.is_there("Vesna") && station.is_there("in 0:09") && station.is_there("closes in 0:01"));
    assert!(gate.is_listened_to());
    station.pass(1_000);
    assert!(!station.is_there("Vesna") && !gate.is_listened_to());
    assert_eq!(station.sent(), [], "nothing of it goes to the floor");
    assert!(!format!("{:?}", station.shown.borrow()).contains("Pin(["));
}

#[test]
fn the_same_by_four_keys() {
    let gate = Rc::new(Stub::default());
    let mut station = Station::resting(Rc::clone(&gate) as Rc<dyn Gate>);
    station.down("-");
    station.down("+");
    station.pass(1_900);
    assert!(!station.is_there(ASKS));
    station.pass(200);
    station.up("-");
    station.up("+");
    station.pass(500);
    assert!(station.is_there(ASKS));
    for digit in [2, 5, 0, 3] {
        station.take(&format!("digit-{digit}"));
    }
    station.take("show");
    assert_eq!(*gate.asked.borrow(), [[2, 5, 0, 3]]);
    gate.answer(edda());
    station.pass(500);
    station.take("stay");
    let stays = Kiosk::get(&station.window).get_sheet().stays;
    assert!(stays.starts_with("closes in 1:5"), "{stays}");
    station.take("close");
    assert!(!station.is_there("Edda") && !gate.is_listened_to());
    assert_eq!(station.sent(), []);
}

/// A station whose sheet is open.
fn open() -> (Rc<Stub>, Station) {
    let gate = Rc::new(Stub::default());
    let station = Station::resting(Rc::clone(&gate) as Rc<dyn Gate>);
    station.hold_corner(3_100);
    station.type_pin("1234");
    gate.answer(edda());
    station.pass(500);
    assert!(station.is_there("Edda"));
    (gate, station)
}

#[test]
fn help_closes_it_and_is_called_at_once() {
    let (gate, mut station) = open();
    station.key("h");
    assert_eq!(station.sent(), [Act::Call { station: StationId(1), call: CallKind::HelpNow }]);
    assert!(!station.is_there("closes in 0:59") && !gate.is_listened_to());
}

#[test]
fn go_is_there_beside_it_and_closes_it() {
    let (gate, mut station) = open();
    station.shows(bench_1(coming(rest(-4), -4, -4, &[])));
    assert!(station.is_there("Edda"));
    station.touch("Go");
    assert_eq!(station.sent(), [Act::Go { turn: turn_id(1, 2, 0) }]);
    assert!(!station.is_there("Edda") && !gate.is_listened_to());
}

#[test]
fn from_go_on_the_station_has_its_place() {
    let (gate, mut station) = open();
    station.shows(bench_1(under_way(8)));
    assert!(!station.is_there("closes in 0:57") && !gate.is_listened_to(), "somebody else may have said GO");
    // And whoever wants in then is told why not.
    station.hold_corner(3_100);
    assert!(station.is_there("A set is under way here: wait, or go to another display."));
    station.pass(5_000);
    assert!(!station.is_there("A set is under way here: wait, or go to another display."));
}

#[test]
fn a_board_shows_it_as_well() {
    let gate = Rc::new(Stub::default());
    let station = Station::at(Rc::clone(&gate) as Rc<dyn Gate>, View::Board(spot_board()));
    station.hold_corner(3_100);
    station.type_pin("1234");
    gate.answer(edda());
    station.pass(500);
    assert!(station.is_there("Edda") && station.is_there("waiting 0:42"));
    station.touch("Close");
    assert!(!station.is_there("Edda"));
}

#[test]
fn without_a_gate_nothing_of_it_can_be_seen_or_reached() {
    let mut station = Station::resting(Rc::new(NoGate));
    let before = station.window.window().take_snapshot().unwrap();
    station.hold_corner(10_000);
    assert!(!Kiosk::get(&station.window).get_visits_offered());
    station.down("-");
    station.down("+");
    station.pass(3_000);
    station.up("-");
    station.up("+");
    Kiosk::get(&station.window).invoke_visit_wanted();
    // The mark of the keys is gone by then.
    station.pass(11_000);
    assert!(!station.is_there(ASKS));
    assert!(station.window.window().take_snapshot().unwrap().as_bytes() == before.as_bytes());
    assert_eq!(station.sent(), []);
}
