//! A display that is being set up can be read and touched on every screen, also where its size is set wrong.

use i_slint_backend_testing::{AccessibleRole, ElementQuery};
use slint::{ComponentHandle, Rgba8Pixel, SharedPixelBuffer};
use turnabout_kiosk::apply::apply_setup;
use turnabout_kiosk::setup::SetupFace;
use turnabout_kiosk::ui::KioskWindow;
use turnabout_protocol::text::Language;

use crate::contrast::{contrast, ground_and_ink};
use crate::ink;
use crate::scenes::setups;
use crate::screens::{Area, STATIONS, Screen, areas, put_on, window};

/// Every page in every language.
fn pages() -> impl Iterator<Item = (&'static str, SetupFace)> {
    let all = Language::ALL.into_iter().flat_map(setups);
    all.map(|(name, setup)| (name, setup.face()))
}

fn picture(window: &KioskWindow, face: &SetupFace) -> SharedPixelBuffer<Rgba8Pixel> {
    apply_setup(window, face);
    window.window().take_snapshot().unwrap()
}

/// Where the keys are, in pixels: x, y, width and height.
fn keys(window: &KioskWindow) -> Vec<(String, [f32; 4])> {
    let keys = ElementQuery::from_root(window)
        .match_predicate(|element| element.accessible_role() == Some(AccessibleRole::Button))
        .find_all();
    let place = |key: &i_slint_backend_testing::ElementHandle| {
        let (at, size) = (key.absolute_position(), key.size());
        (key.accessible_label().unwrap_or_default().to_string(), [at.x, at.y, size.width, size.height])
    };
    keys.iter().map(place).collect()
}

/// Keys lie on the screen and apart from each other.
fn apart(keys: &[(String, [f32; 4])], (width, height): (f32, f32), place: &str) {
    for (n, (label, [x, y, w, h])) in keys.iter().enumerate() {
        let on = *x >= -0.5 && *y >= -0.5 && x + w <= width + 0.5 && y + h <= height + 0.5;
        assert!(on, "{place}: {label} runs off");
        for (other, [ox, oy, ow, oh]) in &keys[n + 1..] {
            let apart = x + w <= ox + 0.5 || ox + ow <= x + 0.5 || y + h <= oy + 0.5 || oy + oh <= y + 0.5;
            assert!(apart, "{place}: {other} lies on {label}");
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "a screen is a few thousand pixels")]
fn size(screen: Screen) -> (f32, f32) {
    (screen.width as f32, screen.height as f32)
}

#[test]
fn every_key_is_large_enough_for_a_finger_and_lies_apart() {
    // Colle and Hiszem 2004: 20 mm.
    let window = window();
    let mut count = 0;
    for screen in STATIONS {
        put_on(&window, screen);
        for (name, face) in pages() {
            picture(&window, &face);
            let place = format!("{name} {screen:?}");
            let keys = keys(&window);
            assert_eq!(keys.len(), face.keys.len() + face.row.len(), "{place}");
            apart(&keys, size(screen), &place);
            for (label, [_, _, width, height]) in keys {
                let millimetres = f64::from(width.min(height)) * screen.pitch();
                assert!(millimetres >= 20.0, "{place}: {label} is {millimetres:.1} mm");
                count += 1;
            }
        }
    }
    assert!(count > 2_000, "{count} keys");
}

#[test]
fn everything_is_read_from_where_it_is_touched_and_nothing_is_cut() {
    // 16 minutes of arc are the least (ISO 9241-303), from an arm's length: 0.6 m.
    let window = window();
    let mut count = 0;
    for screen in STATIONS {
        put_on(&window, screen);
        for (name, face) in pages() {
            let picture = picture(&window, &face);
            let place = format!("{name} {screen:?}");
            let shown: Vec<Area> = areas(&window, &picture);
            let title = shown.iter().find(|area| area.label == face.title);
            assert!(title.is_some(), "{place}: no title");
            let written =
                face.keys.iter().chain(&face.row).filter(|key| key.enabled && !key.chosen && !key.primary);
            let texts = written.flat_map(|key| [&key.label, &key.value]).chain([&face.title, &face.note]);
            // Signs and small letters are lower than capitals: what has a capital or a digit is measured.
            let tall = |text: &&String| text.chars().any(|c| c.is_uppercase() || c.is_numeric());
            for text in texts.filter(tall) {
                // A key is called like what is written on it: the smaller of the two is the text.
                let areas = shown.iter().filter(|area| area.label == *text);
                let Some(area) = areas.min_by_key(|area| (area.right - area.x) * (area.bottom - area.y))
                else {
                    panic!("{place}: {text} is not shown")
                };
                let height = f64::from(ink::height(area, &picture));
                let least = screen.pixels(16.0, 0.6);
                assert!(height >= least, "{place}: {text} is {height} px high, {least:.1} needed");
                let filled = ink::filled(area, &picture);
                assert!(filled <= ink::MARGIN, "{place}: {filled:.3} of its box: {text}");
                count += 1;
            }
        }
    }
    assert!(count > 1_500, "{count} texts");
}

#[test]
fn a_screen_whose_size_is_set_wrong_can_still_be_set_up() {
    let window = window();
    for screen in STATIONS {
        for inches in [5.0, 7.0, 65.0, 120.0] {
            put_on(&window, Screen { inches, ..screen });
            for (name, face) in pages() {
                picture(&window, &face);
                let place = format!("{name} {screen:?} set to {inches}");
                let keys = keys(&window);
                apart(&keys, size(screen), &place);
                for (label, [_, _, width, height]) in keys {
                    assert!(width >= 30.0 && height >= 30.0, "{place}: {label} is {width} x {height} px");
                }
            }
        }
    }
}

#[test]
fn everything_stands_out_from_its_ground() {
    // WCAG 2.2, success criterion 1.4.3: 4.5 for text.
    let window = window();
    put_on(&window, STATIONS[5]);
    let mut count = 0;
    for (name, face) in pages() {
        let picture = picture(&window, &face);
        for area in areas(&window, &picture) {
            let (ground, ink) = ground_and_ink(&area, &picture);
            let found = contrast(ink, ground);
            assert!(found >= 4.5, "{name}: {found:.2} of {ink:?} on {ground:?}: {}", area.label);
            count += 1;
        }
    }
    assert!(count > 500, "{count} texts");
}
