//! The faces on a screen that is only memory: nothing runs off it, nothing lies on something else, what must
//! be read from afar is large enough, and fingers do what they mean.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

#[path = "ui/pacer.rs"]
mod pacer;
mod scenes;

use std::cell::{Cell, RefCell};
use std::rc::Rc;
use std::time::{Duration, Instant};

use i_slint_backend_testing::{
    AccessibleRole, ElementHandle, ElementQuery, TestingBackend, TestingBackendOptions, mock_elapsed_time,
};
use scenes::*;
use slint::platform::{PointerEventButton, WindowEvent};
use slint::{ComponentHandle, Global, LogicalPosition, PhysicalSize};
use tokio::sync::mpsc::{Receiver, channel};
use turnabout_kiosk::apply::apply_with;
use turnabout_kiosk::face::Face;
use turnabout_kiosk::link::socket::Tapped;
use turnabout_kiosk::ui::{Kiosk, KioskWindow};
use turnabout_kiosk::window::{Clock, Shown, listen};
use turnabout_protocol::command::{Act, CallKind, Effort};
use turnabout_protocol::ids::{ClientId, StationId};
use turnabout_protocol::text::Language;
use turnabout_protocol::view::{StationView, View};

const SIZES: [(u32, u32); 4] = [(1920, 1080), (1280, 800), (1024, 600), (1080, 1920)];

fn window((width, height): (u32, u32)) -> KioskWindow {
    let options =
        TestingBackendOptions { mock_time: true, threading: false, renderer_name: Some("software".into()) };
    slint::platform::set_platform(Box::new(TestingBackend::new(options))).unwrap();
    let window = KioskWindow::new().unwrap();
    window.show().unwrap();
    window.window().set_size(PhysicalSize::new(width, height));
    window
}

#[derive(Debug)]
struct Area {
    label: String,
    button: bool,
    x: f32,
    y: f32,
    right: f32,
    bottom: f32,
}

impl Area {
    /// Whether the other is part of this button.
    fn holds(&self, other: &Self) -> bool {
        let inside = |start: f32, end: f32, a: f32, b: f32| start >= a - 0.5 && end <= b + 0.5;
        self.button
            && !other.button
            && inside(other.x, other.right, self.x, self.right)
            && inside(other.y, other.bottom, self.y, self.bottom)
    }

    fn overlaps(&self, other: &Self) -> bool {
        // Half a pixel of rounding is not an overlap.
        let apart = |end: f32, start: f32| end <= start + 0.5;
        !(apart(self.right, other.x)
            || apart(other.right, self.x)
            || apart(self.bottom, other.y)
            || apart(other.bottom, self.y))
    }
}

/// Everything that is labelled and has a size.
fn labelled(window: &KioskWindow) -> Vec<Area> {
    ElementQuery::from_root(window)
        .match_predicate(|element| {
            element.accessible_role().is_some() && element.accessible_label().is_some_and(|l| !l.is_empty())
        })
        .find_all()
        .into_iter()
        .map(|element| {
            let (at, size) = (element.absolute_position(), element.size());
            let label = element.accessible_label().unwrap_or_default().to_string();
            let button = element.accessible_role() == Some(AccessibleRole::Button);
            Area { label, button, x: at.x, y: at.y, right: at.x + size.width, bottom: at.y + size.height }
        })
        .filter(|area| area.right > area.x && area.bottom > area.y)
        .collect()
}

fn check_layout(size: (u32, u32)) {
    let window = window(size);
    #[expect(clippy::cast_precision_loss, reason = "a screen is a few thousand pixels")]
    let (width, height) = (size.0 as f32, size.1 as f32);
    for language in Language::ALL {
        for sample in all() {
            apply_with(&window, &sample.face(language), STILL, &sample.hands);
            Kiosk::get(&window).set_asking(sample.asking);
            window.window().take_snapshot().unwrap();
            let areas = labelled(&window);
            let scene = format!("{} {} {size:?}", sample.name, language.tag());
            assert!(!areas.is_empty(), "{scene} is empty");
            for (n, area) in areas.iter().enumerate() {
                let on = area.x >= -0.5
                    && area.y >= -0.5
                    && area.right <= width + 0.5
                    && area.bottom <= height + 0.5;
                assert!(on, "{scene}: {area:?} runs off");
                for other in &areas[n + 1..] {
                    let (below, above) = (&area.label, &other.label);
                    let apart = !area.overlaps(other) || area.holds(other) || other.holds(area);
                    assert!(apart, "{scene}: {above} {other:?} lies on {below} {area:?}");
                }
            }
        }
    }
}

#[test]
fn nothing_runs_off_or_overlaps_on_a_large_screen() {
    check_layout(SIZES[0]);
}

#[test]
fn nothing_runs_off_or_overlaps_on_a_small_screen() {
    check_layout(SIZES[1]);
}

#[test]
fn nothing_runs_off_or_overlaps_on_a_wide_screen() {
    check_layout(SIZES[2]);
}

#[test]
fn nothing_runs_off_or_overlaps_on_an_upright_screen() {
    check_layout(SIZES[3]);
}

struct Hand {
    window: KioskWindow,
    shown: Rc<RefCell<Shown>>,
    taps: Receiver<Tapped>,
    now: Rc<Cell<Instant>>,
}

impl Hand {
    fn new(face: Face) -> Self {
        let window = window(SIZES[0]);
        let now = Rc::new(Cell::new(Instant::now()));
        let clock = Rc::clone(&now);
        let shown = Rc::new(RefCell::new(Shown::timed(Clock::by(move || clock.get()))));
        let (sender, taps) = channel(8);
        listen(&window, &shown, sender, now.get());
        shown.borrow_mut().draw(&window, face, STILL);
        window.window().take_snapshot().unwrap();
        Self { window, shown, taps, now }
    }

    /// Time goes by, as far as hands are concerned.
    fn pass(&self, millis: u64) {
        self.now.set(self.now.get() + Duration::from_millis(millis));
    }

    fn middle(&self, label: &str) -> LogicalPosition {
        let element = ElementHandle::find_by_accessible_label(&self.window, label).next().unwrap();
        let (at, size) = (element.absolute_position(), element.size());
        LogicalPosition::new(at.x + size.width / 2.0, at.y + size.height / 2.0)
    }

    fn down(&self, label: &str) {
        let (position, button) = (self.middle(label), PointerEventButton::Left);
        self.window.window().dispatch_event(WindowEvent::PointerPressed { position, button });
    }

    fn up(&self, label: &str) {
        let (position, button) = (self.middle(label), PointerEventButton::Left);
        self.window.window().dispatch_event(WindowEvent::PointerReleased { position, button });
    }

    /// A tap as people tap, long after whatever was before.
    fn click(&self, label: &str) {
        self.pass(500);
        self.down(label);
        self.pass(100);
        self.up(label);
        self.window.window().take_snapshot().unwrap();
    }

    fn sent(&mut self) -> Option<Act> {
        self.taps.try_recv().ok().map(|(_, act)| act)
    }
}

#[test]
fn go_is_sent_when_the_finger_leaves_and_is_exactly_the_faces() {
    let mut hand =
        Hand::new(Sample::new("", view(vec![bench_1(coming(rest(-1), -1, -1, &[]))])).face(Language::En));
    hand.pass(500);
    hand.down("Go");
    assert_eq!(hand.sent(), None, "a touch alone does nothing");
    hand.pass(100);
    assert_eq!(hand.sent(), None, "nor does a long one while it lasts");
    hand.up("Go");
    assert_eq!(hand.sent(), Some(Act::Go { turn: turn_id(1, 2, 0) }));
    assert_eq!(hand.sent(), None);
}

#[test]
fn a_finger_that_slides_off_changes_its_mind() {
    let mut hand =
        Hand::new(Sample::new("", view(vec![bench_1(coming(rest(-1), -1, -1, &[]))])).face(Language::En));
    hand.pass(500);
    hand.down("Go");
    hand.pass(100);
    hand.up("Not yet");
    assert_eq!(hand.sent(), None);
}

#[test]
fn a_disabled_button_sends_nothing() {
    let mut hand =
        Hand::new(Sample::new("", view(vec![bench_1(coming(rest(9), 9, 9, &[]))])).face(Language::En));
    hand.click("Go");
    assert_eq!(hand.sent(), None);
}

#[test]
fn done_opens_three_answers_and_the_answer_is_the_tap() {
    let mut hand = Hand::new(Sample::new("", view(vec![bench_1(under_way(-50))])).face(Language::En));
    hand.click("Done");
    assert_eq!(hand.sent(), None, "DONE asks first");
    hand.click("Heavy");
    let done = Act::Done { turn: turn_id(1, 2, 0), reps: None, effort: Some(Effort::Heavy), ending: None };
    assert_eq!(hand.sent(), Some(done));
    hand.click("Done");
    hand.click("Back");
    assert!(!Kiosk::get(&hand.window).get_asking());
    assert_eq!(hand.sent(), None);
}

#[test]
fn the_last_tap_is_taken_back_and_a_partner_named_by_one_touch() {
    let face = |name: &str| {
        let sample = offers().into_iter().find(|sample| sample.name == name).unwrap();
        sample.face(Language::En)
    };
    let mut hand = Hand::new(face("undo-done"));
    for name in ["undo-done", "undo-effort", "undo-two", "undo-help", "undo-asking"] {
        let face = face(name);
        let undo = face.undo.clone().unwrap();
        hand.shown.borrow_mut().draw(&hand.window, face, STILL);
        hand.click(&undo.label);
        assert_eq!(hand.sent(), Some(undo.act), "{name}");
    }
    hand.shown.borrow_mut().draw(&hand.window, face("partners-spot"), STILL);
    for (label, client) in [("Bram spots", 2), ("Chidi spots", 3), ("Wanja spots", 4)] {
        hand.click(label);
        assert_eq!(hand.sent(), Some(Act::SpotBy { turn: turn_id(1, 2, 0), client: ClientId(client) }));
    }
}

#[test]
fn a_call_for_help_says_as_well_that_something_is_stopped() {
    let face = |name: &str| {
        let sample = several_stations().into_iter().find(|sample| sample.name == name).unwrap();
        sample.face(Language::En)
    };
    let hand = Hand::new(face("help"));
    let says =
        |hand: &Hand| ElementHandle::find_by_accessible_label(&hand.window, "Bench 1: RACK THE BAR").count();
    assert_eq!(says(&hand), 0);
    for name in ["help-stopped", "help-stopped-four"] {
        hand.shown.borrow_mut().draw(&hand.window, face(name), STILL);
        assert_eq!(says(&hand), 1, "{name}");
        assert!(ElementHandle::find_by_accessible_label(&hand.window, "HELP NOW").count() > 0, "{name}");
    }
}

#[test]
fn plates_are_put_right_by_touch_and_calls_stay_in_reach() {
    let draw = |hand: &Hand| {
        let pad = hand.shown.borrow().pad().cloned();
        let face = Sample { pad, ..Sample::new("", view(vec![bench_with_plates()])) }.face(Language::En);
        hand.shown.borrow_mut().draw(&hand.window, face, STILL);
        hand.window.window().take_snapshot().unwrap();
    };
    let mut hand = Hand::new(Sample::new("", view(vec![bench_with_plates()])).face(Language::En));
    for label in ["Not as shown", "Empty bar", "20", "5"] {
        hand.click(label);
        assert_eq!(hand.sent(), None, "{label} sends nothing");
        draw(&hand);
    }
    hand.click("Coach, please");
    assert_eq!(hand.sent(), Some(Act::Call { station: StationId(1), call: CallKind::CoachPlease }));
    hand.click("So it is");
    let side = vec![plate("20"), plate("5")];
    assert_eq!(hand.sent(), Some(Act::PlatesOn { station: StationId(1), side, bar: 0 }));
    draw(&hand);
    assert!(!Kiosk::get(&hand.window).get_pad_shown());
}

#[test]
fn whoever_looks_at_another_station_has_left_the_plates_as_they_were() {
    let sample = Sample::new("", view(vec![bench_with_plates(), row_1(under_way(-5))]));
    let mut hand = Hand::new(sample.face(Language::En));
    hand.click("Not as shown");
    assert!(hand.shown.borrow().pad().is_some());
    hand.click("Row 1");
    assert_eq!(hand.sent(), None);
    assert!(hand.shown.borrow().pad().is_none());
}

#[test]
fn open_answers_close_when_another_set_takes_the_place() {
    let mut hand = Hand::new(Sample::new("", view(vec![bench_1(under_way(-50))])).face(Language::En));
    hand.click("Done");
    assert!(Kiosk::get(&hand.window).get_asking());
    let mut other = bench_1(under_way(-50));
    other.turn.as_mut().unwrap().turn = turn_id(2, 2, 0);
    let face = Sample::new("", view(vec![other])).face(Language::En);
    hand.shown.borrow_mut().draw(&hand.window, face, STILL);
    assert!(!Kiosk::get(&hand.window).get_asking());
    assert_eq!(hand.sent(), None);
}

#[test]
fn a_question_that_nobody_answers_does_not_hold_the_screen_for_ever() {
    let (mut shown, now) = (Shown::default(), Instant::now());
    assert!(shown.hold(true, now));
    assert!(shown.hold(true, now + Duration::from_secs(19)));
    assert!(!shown.hold(true, now + Duration::from_secs(20)));
    assert!(shown.hold(false, now + Duration::from_secs(21)));
    assert!(shown.hold(true, now + Duration::from_secs(22)), "the next one has its own time");
}

#[test]
fn a_station_of_the_strip_becomes_large_when_chosen_and_none_moves_under_a_finger() {
    let sample = Sample::new("", view(vec![bench_1(under_way(-13)), row_1(coming(rest(15), 15, 15, &[]))]));
    let hand = Hand::new(sample.face(Language::En));
    let focus = |held| hand.shown.borrow().focus(held, Instant::now());
    assert_eq!(focus(false), None);
    let Some(View::Station(StationView { stations, .. })) = &sample.view else { panic!("a station's view") };
    assert_eq!(focus(true), Some(stations[1].station), "the row is large, and stays so under a finger");
    hand.click("Bench 1");
    assert_eq!(focus(false), Some(stations[0].station));
}

#[test]
fn only_a_long_touch_of_the_corner_sets_the_display_up() {
    let hand = Hand::new(Sample::new("", view(vec![bench_1(under_way(-13))])).face(Language::En));
    let wanted = Rc::new(RefCell::new(0));
    let count = Rc::clone(&wanted);
    Kiosk::get(&hand.window).on_setup_wanted(move || *count.borrow_mut() += 1);
    let (position, button) = (LogicalPosition::new(20.0, 20.0), PointerEventButton::Left);
    let window = hand.window.window();
    let touch = |millis| {
        window.dispatch_event(WindowEvent::PointerPressed { position, button });
        mock_elapsed_time(Duration::from_millis(millis));
        window.dispatch_event(WindowEvent::PointerReleased { position, button });
    };
    touch(2_900);
    touch(2_900);
    assert_eq!(*wanted.borrow(), 0);
    touch(3_100);
    assert_eq!(*wanted.borrow(), 1);
    let board = all().into_iter().find(|sample| matches!(sample.view, Some(View::Board(_)))).unwrap();
    hand.shown.borrow_mut().draw(&hand.window, board.face(Language::En), STILL);
    window.take_snapshot().unwrap();
    touch(3_100);
    assert_eq!(*wanted.borrow(), 2);
}
