//! What hands mean at a display: which touch counts, what four keys reach, and when nothing does anything.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

#[path = "input/keys.rs"]
mod keys;
#[path = "input/pages.rs"]
mod pages;
#[path = "input/reach.rs"]
mod reach;
mod scenes;
#[path = "input/touches.rs"]
mod touches;
#[path = "input/wiping.rs"]
mod wiping;

use turnabout_kiosk::face::Face;
use turnabout_kiosk::input::{Choice, Does, Hands, SETTLED_MS, Seen, choices};
use turnabout_protocol::text::Language;

use scenes::Sample;

/// A row that holds everything.
const WIDE: usize = 20;

const fn seen(asking: bool, room: usize) -> Seen {
    Seen { asking, quiet: true, room, wiping: false }
}

/// A sample of that name.
fn sample(name: &str) -> Sample {
    scenes::all().into_iter().find(|sample| sample.name == name).unwrap_or_else(|| panic!("no scene {name}"))
}

fn face(name: &str) -> Face {
    sample(name).face(Language::En)
}

/// Hands at a face that has been drawn for so long that everything on it can be meant; and when that is.
fn hands_at(list: Vec<Choice>) -> (Hands, u64) {
    let mut hands = Hands::default();
    hands.draws(list, 0);
    (hands, SETTLED_MS)
}

/// Hands at the face of a scene.
fn at_scene(name: &str) -> (Hands, u64) {
    let sample = sample(name);
    hands_at(choices(&sample.face(Language::En), seen(sample.asking, WIDE)))
}

/// What something on the face does.
fn does(hands: &Hands, name: &str) -> Does {
    let choice = hands.choices().iter().find(|choice| choice.name == name);
    choice.unwrap_or_else(|| panic!("no {name} among {:?}", hands.choices())).does.clone()
}
