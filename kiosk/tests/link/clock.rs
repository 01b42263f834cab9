//! What is asked about floor time, and what is made of the answers.

use turnabout_kiosk::link::limits::RETRY_MOST_MS;
use turnabout_protocol::frame::ToDisplay;
use turnabout_protocol::frame::limits::{TIME_BURST, TIME_EVERY_MS};
use turnabout_protocol::units::FloorMs;
use uuid::Uuid;

use crate::scenes::*;
use crate::*;

#[test]
fn time_is_asked_for_in_a_burst_and_then_every_two_seconds() {
    let mut desk = Desk::new();
    desk.rate = 10;
    let mut asked = questions(&desk.connect());
    let mut count = 0;
    while let [t1] = asked.as_slice() {
        count += 1;
        desk.real += 3;
        // Thirty floor milliseconds there and back, fifteen of them one way.
        let there = FloorMs(t1 + 500_015);
        asked = questions(&desk.frame(ToDisplay::Time { t1: *t1, t2: there, t3: there }));
    }
    assert_eq!(count, TIME_BURST);
    let own = i64::try_from(desk.real).unwrap() * 10;
    assert_eq!(desk.link.now(desk.real), Some(FloorMs(own + 500_000)));
    let before = TIME_EVERY_MS - 3 - 1;
    assert_eq!(questions(&desk.tick_after(before)), [0; 0]);
    assert_eq!(questions(&desk.tick_after(1)).len(), 1);
    assert_eq!(
        questions(&desk.tick_after(TIME_EVERY_MS)).len(),
        1,
        "an answer that never comes is asked again"
    );
}

#[test]
fn a_clock_driven_by_hand_is_followed_at_once_and_asks_nothing() {
    let mut desk = Desk::up();
    assert_eq!(desk.link.now(desk.real), Some(NOW));
    assert_eq!(questions(&desk.tick_after(60_000 - RETRY_MOST_MS)), [0; 0]);
    let frames = desk.link.frames_by_hand();
    desk.frame(ToDisplay::Clock { now: at(90) });
    assert_eq!(desk.link.now(desk.real), Some(at(90)));
    assert_eq!(desk.link.frames_by_hand(), frames + 1);
    desk.view(9, 0, named("Bram"));
    assert_eq!(desk.link.now(desk.real), Some(at(90)), "an older view does not turn time back");
}

#[test]
fn floor_time_goes_on_through_a_restart_of_the_server() {
    let mut desk = Desk::new();
    desk.rate = 1;
    let asked = questions(&desk.connect());
    desk.frame(ToDisplay::Time { t1: asked[0], t2: NOW, t3: NOW });
    desk.close();
    desk.real += 60_000;
    desk.epoch = Uuid::from_u128(8);
    desk.connect();
    let gone = i64::try_from(60_000 + RETRY_MOST_MS).unwrap();
    assert_eq!(desk.link.now(desk.real), Some(FloorMs(NOW.0 + gone)), "before the first new sample");
}
