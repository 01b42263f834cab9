//! What is said of a set, in as many letters a row as the screen has room for.

use slint::{ComponentHandle, Global};

use crate::face::{self, Row, Said, Tone};
use crate::ui::{self, KioskWindow, Theme};

/// How wide a letter is, of its size: what a line of English or German takes on average, and a little more.
const LETTER: f32 = 0.53;

/// How many letters go into a row of the large station, at the size in which it is written.
#[must_use]
pub fn letters(window: &KioskWindow) -> usize {
    let (theme, size) = (Theme::get(window), window.window().size());
    #[expect(clippy::cast_precision_loss, reason = "a screen is a few thousand pixels")]
    let room = size.width as f32 - 2.0 * theme.get_edge();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few dozen letters")]
    let letters = (room / (theme.get_second() * LETTER)) as usize;
    letters
}

/// The rows for the window.
pub(super) fn rows(lines: &[Said], letters: usize) -> Vec<ui::RowData> {
    face::rows(lines, letters).into_iter().map(data).collect()
}

/// A row for the window.
pub(super) fn data(row: Row) -> ui::RowData {
    let tone = match row.tone {
        Tone::Do => ui::Tone::Do,
        Tone::Set => ui::Tone::Set,
        Tone::Phase => ui::Tone::Phase,
        Tone::Know => ui::Tone::Know,
        Tone::Later => ui::Tone::Later,
    };
    let ends = i32::try_from(row.ends).unwrap_or(i32::MAX);
    ui::RowData { text: row.text.into(), tone, ends }
}
