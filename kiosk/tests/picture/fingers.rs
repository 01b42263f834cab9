//! Whatever can be touched is as large as a finger on every screen, and is what hands can press.

use i_slint_backend_testing::{AccessibleRole, ElementHandle, ElementQuery};
use slint::Global;
use turnabout_kiosk::apply::room;
use turnabout_kiosk::input::{Choice, Page, Seen, choices};
use turnabout_kiosk::ui::{Kiosk, KioskWindow};
use turnabout_protocol::text::Language;

use crate::scenes::{Sample, all};
use crate::screens::{STATIONS, Screen, picture, put_on, window};

/// Keys of 20 mm are touched as fast and as surely as larger ones by people who stand: Colle and Hiszem 2004,
/// Ergonomics 47(13):1406-1423.
const FINGER: f64 = 20.0;

fn buttons(window: &KioskWindow) -> Vec<ElementHandle> {
    let all = ElementQuery::from_root(window)
        .match_predicate(|element| element.accessible_role() == Some(AccessibleRole::Button))
        .find_all();
    all.into_iter().filter(|button| button.size().width > 0.0 && button.size().height > 0.0).collect()
}

fn check(window: &KioskWindow, screen: Screen, sample: &Sample, language: Language) -> usize {
    let face = sample.face(language);
    picture(window, &face, sample);
    let place = format!("{} {} {screen:?}", sample.name, language.tag());
    let buttons = buttons(window);
    for button in &buttons {
        let (size, label) = (button.size(), button.accessible_label().unwrap_or_default());
        let millimetres = f64::from(size.width.min(size.height)) * screen.pitch();
        assert!(millimetres >= FINGER, "{place}: {label} is {millimetres:.1} mm, {size:?}");
    }
    let kiosk = Kiosk::get(window);
    let seen = Seen {
        asking: kiosk.get_asking(),
        quiet: kiosk.get_notice().is_empty() && kiosk.get_saving().is_empty(),
        room: room(window),
        wiping: sample.hands.wiping.is_some(),
    };
    // As many as there are, and as many that can be pressed.
    let list = choices(&face, seen);
    // A wide row has no second page to turn to.
    let many = list.iter().any(|choice| choice.page == Page::Of(sample.hands.page));
    let page = if many { sample.hands.page } else { 0 };
    let drawn: Vec<&Choice> =
        list.iter().filter(|c| c.page == Page::Every || c.page == Page::Of(page)).collect();
    let live = |button: &&ElementHandle| button.accessible_enabled() != Some(false);
    let counts = (buttons.len(), buttons.iter().filter(live).count());
    let wanted = (drawn.len(), drawn.iter().filter(|choice| choice.enabled).count());
    let labels: Vec<_> = buttons.iter().map(|b| b.accessible_label().unwrap_or_default()).collect();
    assert_eq!(counts, wanted, "{place}: {labels:?} of {drawn:?}");
    buttons.len()
}

#[test]
fn every_button_of_every_face_is_as_large_as_a_finger_and_is_what_hands_press() {
    let window = window();
    let mut count = 0;
    for screen in STATIONS {
        put_on(&window, screen);
        for language in Language::ALL {
            for sample in all() {
                count += check(&window, screen, &sample, language);
            }
        }
    }
    assert!(count > 5_000, "{count} buttons");
}
