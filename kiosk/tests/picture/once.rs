//! Never more than one name, one pair of numbers and one action large at a time.
//!
//! Large is what is as high as a name. A number is a load, a count, a clock or a telephone number; the two of a pair are how
//! heavy and how long. An action is an enabled button that is expected; the three answers of an open question are one. What
//! a pacer has a client do is the one word that is large, and the button that ends the set is smaller.

use i_slint_backend_testing::{AccessibleRole, ElementHandle, ElementQuery};
use slint::{Global, Model};
use turnabout_kiosk::face::Body;
use turnabout_kiosk::ui::{ButtonData, Kiosk, KioskWindow, Pace, Theme};
use turnabout_protocol::text::Language;

use crate::scenes::all;
use crate::screens::{STATIONS, picture, put_on, window};

/// Everybody who is in a scene.
const PEOPLE: [&str; 25] = [
    "Ayla", "Bram", "Chidi", "Dara", "Edda", "Farid", "Greta", "Hana", "Ilse", "Jonah", "Kaito", "Lupe",
    "Marit", "Nadim", "Orla", "Pavo", "Quinn", "Runa", "Sefa", "Tove", "Umar", "Vesna", "Wanja", "Yara",
    "Zeno",
];

fn is_name(label: &str) -> bool {
    label.split(|letter: char| !letter.is_alphabetic()).any(|word| PEOPLE.contains(&word))
}

fn is_number(label: &str) -> bool {
    label.contains(|letter: char| letter.is_ascii_digit())
        && !label.contains(|letter: char| letter.is_alphabetic())
}

/// What is said in letters as high as those of a name.
fn large(window: &KioskWindow) -> Vec<String> {
    let high = Theme::get(window).get_name();
    let texts = ElementQuery::from_root(window)
        .match_predicate(|element| {
            element.accessible_role() == Some(AccessibleRole::Text)
                && element.accessible_label().is_some_and(|label| !label.is_empty())
        })
        .find_all();
    let shown = texts.iter().filter(|text| text.size().width > 0.0 && text.size().height >= high);
    shown.filter_map(ElementHandle::accessible_label).map(Into::into).collect()
}

/// How many actions are expected at once.
fn actions(window: &KioskWindow, asking: bool) -> usize {
    let expected = |data: &ButtonData| data.primary && data.enabled;
    let kiosk = Kiosk::get(window);
    let efforts = kiosk.get_effort_answers().iter().filter(&expected).count();
    efforts + if asking { 1 } else { kiosk.get_buttons().iter().filter(&expected).count() }
}

#[test]
fn one_name_one_pair_of_numbers_and_one_action_are_large() {
    let window = window();
    let (mut names, mut numbers, mut pressed, mut paced) = (0, 0, 0, 0);
    for screen in STATIONS {
        put_on(&window, screen);
        for language in Language::ALL {
            for sample in all() {
                let face = sample.face(language);
                let Body::Stations { panels } = &face.body else { continue };
                picture(&window, &face, &sample);
                let place = format!("{} {} {screen:?}", sample.name, language.tag());
                let large = large(&window);
                let of = |is: fn(&str) -> bool| large.iter().filter(|label| is(label)).count();
                assert!(of(is_name) <= 1 && of(is_number) <= 2, "{place}: {large:?}");
                let words = large.iter().filter(|label| !is_name(label) && !is_number(label)).count();
                let shown = Pace::get(&window).get_shown();
                let said = panels[0].pacer.as_ref().filter(|pacer| shown && large.contains(&pacer.word));
                assert!(said.is_none() || words == 1, "{place}: {large:?}");
                paced += usize::from(said.is_some());
                let actions = actions(&window, sample.asking);
                assert!(actions <= 1, "{place}: {actions} actions");
                (names, numbers, pressed) = (names + of(is_name), numbers + of(is_number), pressed + actions);
            }
        }
    }
    assert!(names > 1_000 && numbers > 1_500 && pressed > 500, "{names} {numbers} {pressed}");
    assert!(paced > 100, "{paced}");
}
