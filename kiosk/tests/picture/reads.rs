//! A screen that is too small to be read from as far as it should be says from how far it reads.

use turnabout_kiosk::ui::KioskWindow;
use turnabout_protocol::text::Language;
use turnabout_protocol::view::View;

use crate::ink;
use crate::scenes::*;
use crate::screens::{STATIONS, Screen, area, areas, picture, put_on, window};

fn said(window: &KioskWindow, screen: Screen, content: View, language: Language) -> (Option<String>, f64) {
    put_on(window, screen);
    let sample = Sample::new("", content);
    let picture = picture(window, &sample.face(language), &sample);
    let title = areas(window, &picture).into_iter().map(|area| area.label);
    let said = title.filter_map(|label| label.strip_prefix("Bench 1  ·  ").map(str::to_owned));
    let digits = if language == Language::De { "42,5" } else { "42.5" };
    let height = f64::from(ink::height(&area(window, &picture, digits).unwrap(), &picture));
    (said.into_iter().next(), height * screen.pitch())
}

#[test]
fn from_how_far_follows_from_the_height_of_the_digits() {
    // H = 2 D tan(A/2), so D = H / (2 tan(A/2)): of 22' on a screen below 15 inches and of 38' on a larger one.
    let screen = |width, height, inches| Screen { width, height, inches };
    let window = window();
    let (mut bench, row) = (bench_1(coming(rest(9), 9, 9, &[])), row_1(coming(rest(90), 90, 90, &[])));
    // No tail of a letter hangs into the digits.
    bench.turn.as_mut().unwrap().client = "HANA".into();
    for (screen, should) in [
        (screen(1024, 600, 5.0), 2.0),
        (screen(800, 480, 5.0), 2.0),
        (screen(1024, 768, 15.0), 4.0),
        (screen(800, 1280, 8.0), 2.0),
    ] {
        let minutes: f64 = if screen.is_far() { 38.0 } else { 22.0 };
        for content in [view(vec![bench.clone()]), view(vec![bench.clone(), row.clone()])] {
            let (said, height) = said(&window, screen, content, Language::En);
            let metres = height / 1_000.0 / (2.0 * (minutes / 120.0).to_radians().tan());
            if metres > should + 0.1 {
                assert_eq!(said, None, "{screen:?} reads from {metres:.2} m");
                continue;
            }
            let said = said.unwrap_or_else(|| panic!("{screen:?} reads from {metres:.2} m and says nothing"));
            let number = said.trim_start_matches("Reads from ").trim_end_matches(" m");
            let told: f64 = number.parse().unwrap_or_else(|_| panic!("{said}"));
            // Letters end at whole pixels, and a tenth is rounded down: it never promises more.
            assert!(
                (0.0..0.2).contains(&(metres - told)),
                "{screen:?}: {said}, and {metres:.2} m by its digits"
            );
        }
    }
    let (said, _) =
        said(&window, screen(1024, 600, 5.0), view(vec![bench_1(coming(rest(9), 9, 9, &[]))]), Language::De);
    assert!(said.is_some_and(|said| said.starts_with("Lesbar aus 1,") && said.ends_with(" m")));
}

#[test]
fn a_screen_that_is_large_enough_says_nothing_of_it() {
    let window = window();
    for screen in STATIONS {
        for content in [
            view(vec![bench_1(coming(rest(9), 9, 9, &[]))]),
            view(vec![bench_1(coming(rest(9), 9, 9, &[])), row_1(coming(rest(90), 90, 90, &[]))]),
        ] {
            assert_eq!(said(&window, screen, content, Language::En).0, None, "{screen:?}");
        }
    }
}
