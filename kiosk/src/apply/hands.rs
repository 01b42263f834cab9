//! What hands do, on the screen: the mark of the keys, that the screen is being wiped, and how many buttons a row holds.

use slint::{ComponentHandle, Global};
use turnabout_protocol::text::Language;

use super::plain;
use crate::face::Face;
use crate::input::{Choice, Drawn, Says};
use crate::ui::{self, Kiosk, KioskWindow, Theme};

/// How many buttons of the size of a finger the row of the large station has room for, beside the one to wipe.
#[must_use]
pub fn room(window: &KioskWindow) -> usize {
    let (theme, width) = (Theme::get(window), window.window().size().width);
    #[expect(clippy::cast_precision_loss, reason = "a screen is a few thousand pixels")]
    let wide = width as f32 / window.window().scale_factor() - 2.0 * theme.get_edge() - theme.get_wipe();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few dozen buttons")]
    let room = (wide / (theme.get_least() + theme.get_gap())).max(0.0) as usize;
    room
}

/// Draws what hands do on a face, or else what else is said aside.
pub(super) fn hands(kiosk: &Kiosk<'_>, drawn: &Drawn, face: &Face) {
    let Says { wipe, line, .. } = Says::of(drawn, face.language);
    let wiping = drawn.wiping.is_some();
    kiosk.set_wipe(ui::ButtonData { enabled: !wiping, ..plain(Choice::WIPE, &wipe) });
    kiosk.set_wiping(wiping);
    kiosk.set_hands_say(if line.is_empty() { (&face.aside).into() } else { line.into() });
    mark(kiosk, drawn);
}

/// Draws what keys have marked.
pub(super) fn mark(kiosk: &Kiosk<'_>, drawn: &Drawn) {
    kiosk.set_marked((&drawn.marked).into());
}

/// The button that turns to the next page of the row.
pub(super) fn more(language: Language) -> ui::ButtonData {
    let more = Says::of(&Drawn::default(), language).more;
    ui::ButtonData { enabled: true, ..plain(Choice::MORE, &more) }
}
