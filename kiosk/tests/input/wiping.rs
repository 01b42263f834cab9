//! While the screen is wiped, nothing that touches it does anything, and keys do.

use proptest::prelude::*;
use turnabout_kiosk::input::{Choice, FourKey, HELD_MS, Says, WIPE_MS};
use turnabout_protocol::text::Language;

use crate::{at_scene, does};

proptest! {
    #[test]
    fn no_touch_acts_for_twenty_seconds_and_every_key_does(
        touches in proptest::collection::vec((0..5usize, 0..800u64, 1..800u64), 1..40),
    ) {
        let (mut hands, begun) = at_scene("ready");
        hands.down(Choice::WIPE, begun);
        prop_assert_eq!(hands.up(Choice::WIPE, true, begun + 100), None);
        let over = begun + 100 + WIPE_MS;
        let mut now = begun + 100;
        for (place, after, lasts) in touches {
            let name = ["go", "lighter", "help_now", "wipe", "@3/3"][place];
            let (from, to) = (now + after, now + after + lasts);
            if to >= over {
                break;
            }
            now = to;
            hands.down(name, from);
            prop_assert_eq!(hands.up(name, true, to), None);
            prop_assert!(!hands.drawn(to).wet, "a cloth is no rain");
        }
        let (go, help) = (does(&hands, "go"), does(&hands, "help_now"));
        prop_assert_eq!(hands.key_down(FourKey::Go, false, over - 1), Some(go.clone()));
        prop_assert_eq!(hands.key_down(FourKey::Help, false, over - 1), Some(help));
        // A finger that came while it was wiped does nothing afterwards either.
        hands.down("go", over - 1);
        prop_assert_eq!(hands.up("go", true, over + 200), None);
        hands.down("go", over + 300);
        prop_assert_eq!(hands.up("go", true, over + 400), Some(go));
    }
}

#[test]
fn whoever_stays_on_help_calls_for_it_and_a_cloth_does_not() {
    let (mut hands, begun) = at_scene("ready");
    hands.down(Choice::WIPE, begun);
    assert_eq!(hands.up(Choice::WIPE, true, begun + 100), None);
    let help = does(&hands, "help_now");
    let mut held = |name: &str, inside, from: u64, lasts| {
        hands.down(name, from);
        hands.up(name, inside, from + lasts)
    };
    assert_eq!(held("help_now", true, begun + 1_000, HELD_MS - 1), None);
    assert_eq!(held("help_now", false, begun + 3_000, HELD_MS), None, "it went on over the screen");
    assert_eq!(held("go", true, begun + 5_000, HELD_MS), None);
    assert_eq!(held("help_now", true, begun + 7_000, HELD_MS), Some(help));
}

#[test]
fn its_seconds_are_counted_down_and_it_ends_by_itself() {
    let (mut hands, begun) = at_scene("ready");
    hands.down(Choice::WIPE, begun);
    assert_eq!(hands.up(Choice::WIPE, true, begun + 100), None);
    let mut now = begun + 100;
    let mut said = Vec::new();
    while let Some(secs) = hands.drawn(now).wiping {
        said.push(secs);
        // The display sleeps until then.
        now = hands.changes(now).unwrap();
    }
    assert_eq!(said, (1..=20).rev().collect::<Vec<_>>());
    assert_eq!(now, begun + 100 + WIPE_MS);
    assert_eq!(hands.changes(now), None);
}

#[test]
fn it_is_said_in_every_language() {
    let (mut hands, begun) = at_scene("ready");
    let of =
        |hands: &turnabout_kiosk::input::Hands, language| Says::of(&hands.drawn(begun + 8_100), language);
    assert_eq!(of(&hands, Language::En).line, "");
    hands.down(Choice::WIPE, begun);
    hands.up(Choice::WIPE, true, begun + 100);
    let (en, de) = (of(&hands, Language::En), of(&hands, Language::De));
    assert_eq!((en.wipe.as_str(), de.wipe.as_str()), ("Wipe: 12", "Wischen: 12"));
    assert_eq!(en.line, "Wipe now: touch is off for 12 s. Hold “Help now” to call");
    assert_eq!(de.line, "Jetzt wischen: 12 s keine Berührung. „Hilfe jetzt“ halten");
}
