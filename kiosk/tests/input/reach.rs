//! Everything that can be pressed on any face is reached by four keys, and go presses exactly that.

use std::collections::BTreeSet;

use turnabout_kiosk::input::{Choice, FourKey, Hands, SETTLED_MS, choices, setup_choices};
use turnabout_protocol::text::Language;

use crate::scenes::{all, setups};
use crate::{hands_at, seen};

/// A key is pressed and let go.
fn tap(hands: &mut Hands, key: FourKey, now: u64) -> Option<turnabout_kiosk::input::Does> {
    let does = hands.key_down(key, false, now);
    hands.key_up(key);
    does
}

/// Goes all the way round in one direction; at each stop another pair of hands presses what is marked.
fn all_the_way(list: &[Choice], key: FourKey, place: &str) {
    let (mut hands, mut now) = hands_at(list.to_vec());
    let wanted: BTreeSet<&str> = list.iter().filter(|c| c.is_for_keys()).map(|c| c.name.as_str()).collect();
    let mut reached = BTreeSet::new();
    for _ in 0..wanted.len() {
        assert_eq!(tap(&mut hands, key, now), None, "{place}: moving the mark does nothing else");
        hands.draws(list.to_vec(), now);
        now += SETTLED_MS;
        let marked = hands.drawn(now).marked;
        let choice = list.iter().find(|choice| choice.name == marked).unwrap();
        let mut other = hands.clone();
        let done = tap(&mut other, FourKey::Go, now);
        // What concerns the display's hands alone is done by them.
        let expected = (marked != Choice::WIPE).then(|| choice.does.clone());
        assert_eq!(done, expected, "{place}: {marked}");
        assert!(marked != Choice::WIPE || other.is_wiping(now), "{place}");
        reached.insert(choice.name.as_str());
    }
    assert_eq!(reached, wanted, "{place}: once round is everything");
    let first = hands.drawn(now).marked;
    for _ in 0..wanted.len() {
        tap(&mut hands, key, now);
    }
    assert_eq!(hands.drawn(now).marked, first, "{place}: and round again");
}

#[test]
fn every_button_of_every_face_is_reached_in_both_directions() {
    let mut count = 0;
    for sample in all() {
        for (asking, room) in [(false, 20), (false, 6), (true, 20)] {
            let list = choices(&sample.face(Language::En), seen(asking, room));
            count += list.len();
            for key in [FourKey::Plus, FourKey::Minus] {
                all_the_way(&list, key, &format!("{} {asking} {room} {key:?}", sample.name));
            }
        }
    }
    for (name, setup) in setups(Language::En) {
        for key in [FourKey::Plus, FourKey::Minus] {
            all_the_way(&setup_choices(&setup.face()), key, name);
        }
    }
    assert!(count > 1_000, "{count} choices");
}

#[test]
fn no_two_things_on_a_face_have_the_same_name() {
    for sample in all() {
        for asking in [false, true] {
            let list = choices(&sample.face(Language::De), seen(asking, 6));
            let names: BTreeSet<&str> = list.iter().map(|choice| choice.name.as_str()).collect();
            assert_eq!(names.len(), list.len(), "{}: {list:?}", sample.name);
        }
    }
}

#[test]
fn at_most_one_thing_is_expected_and_it_is_one_that_the_set_needs() {
    let mut expected = BTreeSet::new();
    for sample in all() {
        for asking in [false, true] {
            let list = choices(&sample.face(Language::En), seen(asking, 20));
            let there: Vec<&str> =
                list.iter().filter(|c| c.expected && c.is_for_keys()).map(|c| c.name.as_str()).collect();
            assert!(there.len() <= 1, "{}: {there:?}", sample.name);
            expected.extend(there.first().map(|name| (*name).to_owned()));
        }
    }
    let known = ["ask", "confirm_load", "done_right", "free", "go", "say", "show"].map(str::to_owned);
    assert_eq!(expected, BTreeSet::from(known));
}
