//! Puts the pacer of the large station on the screen.

use slint::Global;

use crate::face::{Going, Panel};
use crate::ui::{KioskWindow, Pace};

/// Shows where the tempo is, and has its level move as floor time goes by.
pub(super) fn pace(window: &KioskWindow, panel: &Panel, going: Option<Going>) {
    let pace = Pace::get(window);
    let pacer = panel.pacer.as_ref();
    pace.set_shown(pacer.is_some());
    pace.set_word(pacer.map_or_else(Default::default, |pacer| (&pacer.word).into()));
    pace.set_breath(pacer.map_or_else(Default::default, |pacer| (&pacer.breath).into()));
    let beat = pacer.map(|pacer| pacer.beat).zip(going);
    let Some((beat, going, motion)) = beat.and_then(|(beat, going)| Some((beat, going, beat.motion(going)?)))
    else {
        pace.set_level_shown(false);
        pace.set_part(Default::default());
        // What is not shown asks for no frames.
        pace.invoke_go(false, 0.0, 0.0, 0);
        return;
    };
    let part = format!("{} {}", panel.key, beat.starts.0);
    // Within a part it goes on from where it is; by hand it is where the hand says.
    let goes_on = going.rate > 0 && pace.get_part() == part;
    pace.invoke_go(goes_on, motion.at, motion.to, motion.left.0);
    pace.set_part(part.into());
    pace.set_level_shown(true);
}
