//! When a display wakes: at the instants at which what it shows changes, and hardly ever else.

use std::rc::Rc;
use std::time::Instant;

use tokio::net::TcpStream;
use tokio::sync::Notify;
use tokio::sync::mpsc::{channel, unbounded_channel};
use tokio_tungstenite::WebSocketStream;
use turnabout_kiosk::link::limits::{INBOX, LOOK_MS, NOTICE_MS};
use turnabout_kiosk::link::socket::{NotOpen, Outside, run_in};
use turnabout_protocol::frame::ToDisplay;
use turnabout_protocol::frame::limits::TIME_EVERY_MS;
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::StationState;

use crate::scenes::*;
use crate::*;

/// A floor time in the middle of a second of this display's own clock.
const ODD: FloorMs = FloorMs(NOW.0 + 337);

impl Desk {
    fn count(&mut self) -> String {
        match self.face().body {
            Body::Stations { panels } => panels[0].count.clone(),
            other => panic!("{other:?}"),
        }
    }
}

#[test]
fn a_digit_turns_on_the_second_of_the_floor() {
    for (rate, real_second) in [(1, 1_000), (10, 100)] {
        let mut desk = Desk::running(rate, ODD, view(vec![bench_1(coming(rest(30), 30, 30, &[]))]));
        assert_eq!(desk.count(), "0:30");
        // 663 floor milliseconds until 29.000 are left; rounded up at the fast floor.
        let mut at = desk.real + u64::from(663_u32.div_ceil(rate));
        for left in (20..30).rev() {
            let (_, until) = desk.show();
            assert_eq!(until, at, "rate {rate}, {left} left");
            desk.real = until - 1;
            assert_eq!(desk.count(), format!("0:{:02}", left + 1));
            desk.real = until;
            assert_eq!(desk.count(), format!("0:{left:02}"));
            at += real_second;
        }
    }
}

#[test]
fn every_scene_stands_exactly_as_long_as_is_said() {
    let mut turned = 0;
    for rate in [1, 10] {
        for sample in all() {
            let Some(view) = sample.view else { continue };
            let mut desk = Desk::running(rate, ODD, view);
            // The second time round it knows where in a second something changes.
            for round in 0..3 {
                let (face, until) = desk.show();
                let (from, name) = (desk.real, sample.name);
                assert!(until > from && until <= from + LOOK_MS, "{name}: {from} to {until}");
                while desk.real + 1 < until {
                    desk.real += 1;
                    assert_eq!(
                        desk.face(),
                        face,
                        "{name} at rate {rate}, round {round}: {}",
                        desk.real - from
                    );
                }
                desk.real = until;
                let changed = desk.face() != face;
                assert!(changed || until == from + LOOK_MS, "{name} at rate {rate}: nothing at {until}");
                turned += u32::from(changed);
            }
        }
    }
    assert!(turned > 100, "{turned} changes");
}

/// What wakes a display in so long, if the server answers questions about the time and says nothing else.
fn wakes(desk: &mut Desk, ms: u64) -> u32 {
    let (end, mut wakes) = (desk.real + ms, 0);
    loop {
        let (_, until) = desk.show();
        let next = until.min(desk.link.due());
        assert!(next > desk.real, "it must sleep at {}", desk.real);
        if next > end {
            return wakes;
        }
        wakes += 1;
        let asked = questions(&desk.tick_after(next - desk.real));
        for t1 in asked {
            let now = desk.link.now(desk.real).unwrap();
            desk.frame(ToDisplay::Time { t1, t2: now, t3: now });
        }
    }
}

#[test]
fn a_display_wakes_once_a_second_where_ten_times_were_the_rule() {
    let free = {
        let mut part = bench_1(coming(rest(30), 30, 30, &[]));
        (part.turn, part.state) = (None, StationState::Free);
        view(vec![part])
    };
    let counting = view(vec![bench_1(coming(rest(90), 90, 90, &[]))]);
    for (what, view) in [("free", free), ("counting", counting)] {
        let mut desk = Desk::running(1, ODD, view);
        // The burst of questions.
        wakes(&mut desk, 2_000);
        let in_a_minute = wakes(&mut desk, 60_000);
        let questions = u32::try_from(60_000 / TIME_EVERY_MS).unwrap();
        assert!(in_a_minute <= 60 + questions + 2, "{what}: {in_a_minute}");
    }
}

#[test]
fn a_clock_that_a_test_drives_turns_nothing_by_itself() {
    let mut desk = Desk::up();
    desk.frame(ToDisplay::Clock { now: ODD });
    let (face, until) = desk.show();
    assert_eq!(until, desk.real + LOOK_MS);
    desk.real += 100_000;
    assert_eq!(desk.face(), face);
}

#[test]
fn what_became_of_a_tap_goes_when_its_time_is_over() {
    let mut desk = Desk::up();
    desk.close();
    desk.tap(go());
    let said = desk.face().notice;
    assert!(!said.is_empty());
    let began = desk.real;
    while desk.face().notice == said {
        let (_, until) = desk.show();
        desk.real = until;
    }
    assert_eq!(desk.real - began, NOTICE_MS);
}

/// No network: what opens a connection never ends.
struct Nowhere;

impl Outside for Nowhere {
    type Stream = TcpStream;

    fn open(&self) -> impl Future<Output = Result<WebSocketStream<TcpStream>, NotOpen>> + 'static {
        std::future::pending()
    }

    fn chance(&mut self) -> Uuid {
        Uuid::nil()
    }
}

#[test]
fn it_shows_when_it_said_and_at_once_when_a_key_was_pressed() {
    let again = Rc::new(Notify::new());
    let (_taps, inbox) = channel(INBOX);
    let (say, mut shown) = unbounded_channel();
    // Twice it has something to show soon, then nothing for a long time.
    let show = |_: &mut Link, real: u64| {
        say.send(real).unwrap();
        if real < 40 { real + 20 } else { real + 100 * LOOK_MS }
    };
    let link = run_in(Nowhere, Desk::new().link, Instant::now(), inbox, Rc::clone(&again), show);
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    runtime.block_on(async {
        let presses = async {
            let mut last = shown.recv().await.unwrap();
            while last < 40 {
                let next = shown.recv().await.unwrap();
                assert!(next >= last + 20, "{next} after {last}");
                last = next;
            }
            again.notify_one();
            let next = shown.recv().await.unwrap();
            // A try to connect is given up after a second, which would show something, too.
            assert!(next < LOOK_MS, "{next}");
        };
        tokio::select! {
            () = link => panic!("it runs on"),
            () = presses => {}
        }
    });
}
