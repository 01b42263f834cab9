//! The words that say from how far a screen reads. How far that is follows from the screen, where letters are sized.

use turnabout_protocol::text::{Language, message};

use crate::ui::Kiosk;

/// Where the metres stand in the message.
const METRES: &str = "{at}";

/// Puts in the words before and after the metres, and the decimal mark between.
pub(super) fn apply(kiosk: &Kiosk<'_>, language: Language) {
    let words = message(language, "label.reads_from");
    let (before, after) = words.split_once(METRES).unwrap_or((words, ""));
    kiosk.set_reads_before(before.into());
    kiosk.set_reads_after(after.into());
    kiosk.set_decimal_mark(match language {
        Language::En => ".".into(),
        Language::De => ",".into(),
    });
}
