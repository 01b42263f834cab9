//! Which touch counts.

use proptest::prelude::*;
use turnabout_kiosk::face::Body;
use turnabout_kiosk::input::{
    APART_MS, Choice, Does, Hands, LONGEST_MS, MOST_PLACES, SETTLED_MS, SHORTEST_MS, WET_MS, choices,
};
use turnabout_protocol::text::Language;

use crate::{WIDE, at_scene, does, face, hands_at, seen};

/// One touch from its beginning to its end.
fn touch(hands: &mut Hands, name: &str, from: u64, lasts: u64) -> Option<Does> {
    hands.down(name, from);
    hands.up(name, true, from + lasts)
}

#[test]
fn a_touch_acts_when_the_finger_leaves_if_it_lasted_as_long_as_a_tap_does() {
    for (lasts, counts) in [
        (0, false),
        (SHORTEST_MS - 1, false),
        (SHORTEST_MS, true),
        (120, true),
        (LONGEST_MS, true),
        (LONGEST_MS + 1, false),
    ] {
        let (mut hands, now) = at_scene("ready");
        let go = does(&hands, "go");
        assert_eq!(touch(&mut hands, "go", now, lasts), counts.then_some(go), "{lasts} ms");
    }
}

#[test]
fn a_finger_that_leaves_elsewhere_has_changed_its_mind() {
    let (mut hands, now) = at_scene("ready");
    hands.down("go", now);
    assert_eq!(hands.up("go", false, now + 100), None);
    hands.down("go", now + 1_000);
    assert_eq!(hands.up("not_yet", true, now + 1_100), None);
    assert_eq!(hands.up("go", true, now + 1_200), None, "a finger comes once and leaves once");
}

#[test]
fn what_came_or_changed_under_the_finger_was_not_meant() {
    let list = |name: &str| choices(&face(name), seen(false, WIDE));
    // DONE opens answers, and what closes them stands where it was.
    let (mut hands, now) = hands_at(list("working"));
    assert_eq!(touch(&mut hands, Choice::ASK, now, 100), Some(does(&hands, Choice::ASK)));
    let asking = choices(&face("working"), seen(true, WIDE));
    hands.draws(asking, now + 100);
    assert_eq!(touch(&mut hands, Choice::UNASK, now + 250, 100), None, "it has been there for 150 ms");
    assert_eq!(touch(&mut hands, Choice::UNASK, now + 100 + SETTLED_MS, 100), Some(Does::Unask));
    // Another set takes the place while the finger is down.
    let (mut hands, now) = hands_at(list("ready"));
    hands.down("go", now);
    let mut other = list("ready");
    let go = other.iter_mut().find(|choice| choice.name == "go").unwrap();
    go.does = Does::Unask;
    hands.draws(other, now + 50);
    assert_eq!(hands.up("go", true, now + 600), None);
    // What only may be pressed now has been seen for long enough, but not by a finger that lies on it.
    let (mut hands, now) = hands_at(list("rest"));
    hands.down("go", now);
    let resting = does(&hands, "go");
    let mut over = list("rest");
    over.iter_mut().find(|choice| choice.name == "go").unwrap().enabled = true;
    hands.draws(over, now + 50);
    assert_eq!(hands.up("go", true, now + 100), None);
    assert_eq!(touch(&mut hands, "go", now + 110, 100), Some(resting));
}

#[test]
fn drops_touch_more_places_than_people_and_only_wiping_and_help_are_left() {
    let (mut hands, now) = at_scene("ready");
    let places = ["@1/1", "@2/7", "@9/3", "@4/4"];
    for (n, place) in (0..).zip(places) {
        hands.down(place, now + n * 10);
    }
    assert_eq!(places.len(), MOST_PLACES);
    assert!(!hands.drawn(now + 40).wet, "two people with two fingers each");
    hands.down("go", now + 50);
    assert!(hands.drawn(now + 50).wet);
    assert_eq!(hands.up("go", true, now + 150), None);
    let help = does(&hands, "help_now");
    assert_eq!(touch(&mut hands, "help_now", now + 200, 1), Some(help));
    let dry = now + 200 + WET_MS;
    assert!(hands.drawn(dry - 1).wet);
    assert_eq!(hands.changes(dry - 1), Some(dry));
    assert!(!hands.drawn(dry).wet);
    let go = does(&hands, "go");
    assert_eq!(touch(&mut hands, "go", dry, 100), Some(go));
    // The same places again and again are somebody who is impatient.
    let (mut hands, now) = at_scene("ready");
    for n in 0..20 {
        hands.down(["go", "not_yet"][n % 2], now + n as u64 * 40);
    }
    assert!(!hands.drawn(now + 800).wet);
}

/// What a hand may do next: on which of the places, how long after the last, and for how long.
fn touches() -> impl Strategy<Value = Vec<(usize, u64, u64)>> {
    let lasts = prop_oneof![0..60u64, 60..700u64, 2_900..3_200u64];
    proptest::collection::vec((0..6usize, 0..900u64, lasts), 1..40)
}

const PLACES: [&str; 6] = ["go", "lighter", "not_yet", "coach_please", "wet/place", "help_now"];

proptest! {
    #[test]
    fn no_two_touches_of_a_double_tap_both_act_and_none_is_too_short_or_long(touches in touches()) {
        let (mut hands, mut now) = at_scene("ready");
        let mut last: Option<(&str, u64)> = None;
        for (place, after, lasts) in touches {
            let name = PLACES[place];
            let from = now + after;
            now = from + lasts;
            if touch(&mut hands, name, from, lasts).is_none() || name == "help_now" {
                continue;
            }
            prop_assert!((SHORTEST_MS..=LONGEST_MS).contains(&lasts));
            if let Some((before, at)) = last {
                prop_assert!(before != name || from - at >= APART_MS, "{name}: {from} after {at}");
            }
            last = Some((name, now));
        }
    }

    #[test]
    fn help_is_called_whatever_was_touched_before(touches in touches(), lasts in 0..20_000u64) {
        let (mut hands, mut now) = at_scene("ready");
        let help = does(&hands, "help_now");
        for (place, after, lasts) in touches {
            touch(&mut hands, PLACES[place], now + after, lasts);
            now += after + lasts;
        }
        // Even where the button has only just come.
        hands.draws(Vec::new(), now);
        hands.draws(choices(&face("ready"), seen(false, WIDE)), now);
        prop_assert_eq!(touch(&mut hands, "help_now", now, lasts), Some(help));
    }

    #[test]
    fn nothing_acts_that_is_not_on_the_face_as_it_was_when_the_finger_came(
        touches in touches(),
        faces in proptest::collection::vec(0..4usize, 40),
    ) {
        let lists: Vec<Vec<Choice>> = ["ready", "rest", "working", "stopped-rack"]
            .map(|name| choices(&face(name), seen(false, WIDE))).into();
        let (mut hands, mut now) = hands_at(lists[0].clone());
        let mut there = &lists[0];
        for ((place, after, lasts), next) in touches.into_iter().zip(faces) {
            let (name, from) = (PLACES[place], now + after);
            let before = there;
            hands.down(name, from);
            there = &lists[next];
            hands.draws(there.clone(), from + lasts / 2);
            now = from + lasts;
            let of = |list: &[Choice]| list.iter().find(|c| c.name == name && c.enabled).map(|c| c.does.clone());
            if let Some(done) = hands.up(name, true, now) {
                prop_assert_eq!(of(there), Some(done.clone()));
                prop_assert!(name == "help_now" || of(before) == Some(done));
            }
        }
    }
}

#[test]
fn help_is_on_every_face_of_a_station() {
    for sample in crate::scenes::all() {
        let face = sample.face(Language::En);
        let list = choices(&face, seen(sample.asking, WIDE));
        let is_wall = matches!(face.body, Body::Board { .. });
        assert!(list.is_empty() || is_wall || list.iter().any(Choice::is_help), "{}", sample.name);
    }
}
