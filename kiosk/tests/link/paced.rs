//! A display wakes at the beginning of every part of a repetition, and floor time puts the pacer where it is.

use turnabout_kiosk::face::{Beat, Going};
use turnabout_protocol::units::FloorMs;

use crate::scenes::*;
use crate::*;

fn beat(face: &Face) -> Option<Beat> {
    let Body::Stations { panels } = &face.body else { panic!("a station's face") };
    panels[0].pacer.as_ref().map(|pacer| pacer.beat)
}

#[test]
fn it_wakes_as_every_part_of_a_repetition_begins() {
    for rate in [1, 10] {
        for part in [press_at("3-1-2-0", 0), row_at("1-0-X-2", 0), sided_at("2-0-2-1", 0)] {
            let (mut desk, mut parts) = (Desk::running(rate, NOW, view(vec![part])), 0);
            let mut drawn = beat(&desk.show().0);
            assert_eq!(drawn.map(|beat| beat.starts), Some(NOW));
            while let Some(before) = drawn {
                let (_, until) = desk.show();
                desk.real = until;
                let now = desk.link.now(desk.real).unwrap();
                drawn = beat(&desk.face());
                if drawn == Some(before) {
                    assert!(now < before.ends, "rate {rate}: asleep when {before:?} was over");
                    continue;
                }
                // A millisecond of real time is as fine as it gets.
                assert!(now.since(before.ends).0 < i64::from(rate), "rate {rate}: {before:?} until {now:?}");
                assert!(drawn.is_none_or(|beat| beat.starts == before.ends), "{before:?}, {drawn:?}");
                parts += 1;
            }
            assert!(parts >= 30, "{parts}");
        }
    }
}

#[test]
fn a_link_says_how_floor_time_goes_by() {
    assert_eq!(Desk::new().link.going(0), None, "nothing is known yet");
    let mut by_hand = Desk::up();
    assert_eq!(by_hand.link.going(by_hand.real), Some(Going { now: NOW, rate: 0 }));
    let mut fast = Desk::running(10, NOW, view(vec![press_at("3-1-2-0", 0)]));
    let later = fast.real + 7;
    assert_eq!(fast.link.going(later), Some(Going { now: FloorMs(NOW.0 + 70), rate: 10 }));
}
