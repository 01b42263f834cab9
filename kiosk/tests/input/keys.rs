//! The mark of the four keys.

use turnabout_kiosk::input::{
    APART_MS, Choice, Does, FourKey, Hands, MARK_MS, SETTLED_MS, choices, setup_choices,
};
use turnabout_kiosk::setup::Step;
use turnabout_protocol::text::Language;

use crate::scenes::setups;
use crate::{WIDE, at_scene, does, face, hands_at, seen};

fn tap(hands: &mut Hands, key: FourKey, now: u64) -> Option<Does> {
    let does = hands.key_down(key, false, now);
    hands.key_up(key);
    does
}

#[test]
fn go_presses_what_is_expected_where_nothing_was_moved() {
    for (scene, name) in [
        ("ready", "go"),
        ("needs-load", "confirm_load"),
        ("working", "ask"),
        ("asking", "done_right"),
        ("pad", "say"),
    ] {
        let (mut hands, now) = at_scene(scene);
        assert_eq!(hands.drawn(now).marked, "", "{scene}: no key was used yet");
        let expected = does(&hands, name);
        assert_eq!(tap(&mut hands, FourKey::Go, now), Some(expected), "{scene}");
        assert_eq!(hands.drawn(now).marked, name, "{scene}: whoever uses keys sees where they are");
    }
}

#[test]
fn go_does_nothing_where_nothing_is_expected_yet() {
    let (mut hands, now) = at_scene("coming");
    assert_eq!(tap(&mut hands, FourKey::Go, now), None);
    assert_eq!(hands.drawn(now).marked, "");
    tap(&mut hands, FourKey::Plus, now);
    let first = hands.choices().iter().find(|choice| choice.is_for_keys()).unwrap().name.clone();
    assert_eq!(hands.drawn(now).marked, first);
    tap(&mut hands, FourKey::Minus, now);
    assert_eq!(hands.drawn(now).marked, Choice::WIPE, "around the end");
}

#[test]
fn one_key_calls_for_help_wherever_the_mark_is() {
    for scene in ["ready", "working", "asking", "pad", "coming", "help-four", "stopped-rack"] {
        let (mut hands, now) = at_scene(scene);
        let help = does(&hands, "help_now");
        tap(&mut hands, FourKey::Minus, now);
        assert_eq!(tap(&mut hands, FourKey::Help, now), Some(help.clone()), "{scene}");
        // A release that got lost keeps nobody from calling.
        assert_eq!(hands.key_down(FourKey::Help, false, now + 1), Some(help.clone()), "{scene}");
        assert_eq!(hands.key_down(FourKey::Help, false, now + 2), Some(help), "{scene}");
        assert_eq!(hands.key_down(FourKey::Help, true, now + 3), None, "{scene}: it is held");
    }
}

#[test]
fn a_key_that_is_held_does_not_repeat_and_one_that_is_hit_twice_counts_once() {
    let (mut hands, now) = at_scene("ready");
    let go = does(&hands, "go");
    assert_eq!(hands.key_down(FourKey::Go, false, now), Some(go.clone()));
    for later in [1, 500, 5_000] {
        assert_eq!(hands.key_down(FourKey::Go, true, now + later), None);
        assert_eq!(hands.key_down(FourKey::Go, false, now + later), None, "it did not come up");
    }
    hands.key_up(FourKey::Go);
    assert_eq!(tap(&mut hands, FourKey::Go, now + 6_000), Some(go.clone()));
    assert_eq!(tap(&mut hands, FourKey::Go, now + 6_000 + APART_MS - 1), None);
    assert_eq!(tap(&mut hands, FourKey::Go, now + 6_000 + APART_MS), Some(go));
}

#[test]
fn what_has_only_just_come_is_not_pressed_by_a_key_either() {
    let (mut hands, now) = at_scene("needs-load");
    tap(&mut hands, FourKey::Go, now);
    hands.draws(choices(&face("ready"), seen(false, WIDE)), now + APART_MS);
    assert_eq!(tap(&mut hands, FourKey::Go, now + APART_MS + SETTLED_MS - 1), None);
    let go = does(&hands, "go");
    assert_eq!(tap(&mut hands, FourKey::Go, now + APART_MS + SETTLED_MS), Some(go));
}

#[test]
fn the_mark_goes_back_after_a_while_and_when_there_is_something_else_to_choose_from() {
    let (mut hands, now) = at_scene("ready");
    tap(&mut hands, FourKey::Plus, now);
    let moved = hands.drawn(now).marked;
    assert_ne!(moved, "go");
    assert_eq!((hands.drawn(now + MARK_MS - 1).marked, hands.changes(now)), (moved, Some(now + MARK_MS)));
    assert_eq!(hands.drawn(now + MARK_MS).marked, "");
    let go = does(&hands, "go");
    assert_eq!(tap(&mut hands, FourKey::Go, now + MARK_MS), Some(go));
    // Something else to choose from: whoever comes next does not press what somebody else had in mind.
    let (mut hands, now) = at_scene("ready");
    tap(&mut hands, FourKey::Plus, now);
    hands.draws(choices(&face("working"), seen(false, WIDE)), now + 100);
    assert_eq!(hands.drawn(now + 100).marked, "ask");
}

#[test]
fn the_mark_stays_on_a_plate_while_it_is_put_on_again_and_again() {
    let (mut hands, now) = at_scene("pad");
    let plate = loop {
        tap(&mut hands, FourKey::Plus, now);
        let marked = hands.drawn(now).marked;
        if marked.starts_with("plate-") {
            break marked;
        }
    };
    let wanted = does(&hands, &plate);
    assert_eq!(tap(&mut hands, FourKey::Go, now), Some(wanted.clone()));
    hands.draws(choices(&face("pad"), seen(false, WIDE)), now + 10);
    assert_eq!(tap(&mut hands, FourKey::Go, now + APART_MS), Some(wanted));
}

#[test]
fn both_keys_that_move_the_mark_are_held_only_while_they_are() {
    let (mut hands, now) = at_scene("ready");
    hands.key_down(FourKey::Minus, false, now);
    assert!(!hands.both());
    hands.key_down(FourKey::Plus, false, now);
    assert!(hands.both());
    hands.key_up(FourKey::Minus);
    assert!(!hands.both());
}

#[test]
fn letters_are_typed_by_keys_and_the_mark_waits_for_whoever_looks_for_the_next() {
    let page = |name: &str| {
        let (_, setup) = setups(Language::En).into_iter().find(|(other, _)| *other == name).unwrap();
        setup_choices(&setup.face())
    };
    let (mut hands, mut now) = hands_at(page("setup-server"));
    let nine = |choice: &&Choice| matches!(choice.does, Does::SetUp(_, Step::Type('9')));
    let nine = hands.choices().iter().find(nine).unwrap().name.clone();
    while hands.drawn(now).marked != nine {
        tap(&mut hands, FourKey::Plus, now);
        now += 10;
    }
    for wait in [1_000, 60_000] {
        now += wait;
        let typed = tap(&mut hands, FourKey::Go, now);
        assert!(matches!(typed, Some(Does::SetUp(_, Step::Type('9')))), "{typed:?}");
        hands.draws(page("setup-server"), now);
    }
    // Another page has another key in that place.
    hands.draws(page("setup-language"), now);
    now += 1_000;
    assert_eq!(tap(&mut hands, FourKey::Go, now), None, "nothing is expected there");
}
