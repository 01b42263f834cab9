//! Puts the face on which a display is set up on the screen.

use slint::Global;

use super::{fill, hands};
use crate::input::Drawn;
use crate::setup::{SetupFace, SetupKey};
use crate::ui::{self, Kiosk, KioskWindow};

/// Draws `face`. What is the same as before is not drawn again.
pub fn apply_setup(window: &KioskWindow, face: &SetupFace) {
    let kiosk = Kiosk::get(window);
    kiosk.set_setup(ui::SetupData {
        title: (&face.title).into(),
        note: (&face.note).into(),
        warns: face.warns,
        typing: face.typed.is_some(),
        typed: face.typed.as_deref().unwrap_or_default().into(),
    });
    fill(&kiosk.get_setup_keys(), face.keys.iter().map(key).collect(), |m| kiosk.set_setup_keys(m));
    fill(&kiosk.get_setup_row(), face.row.iter().map(key).collect(), |m| kiosk.set_setup_row(m));
    kiosk.set_shows(ui::Shows::Setup);
}

/// Draws what keys have marked of it.
pub fn mark_setup(window: &KioskWindow, drawn: &Drawn) {
    let kiosk = Kiosk::get(window);
    kiosk.set_wiping(false);
    hands::mark(&kiosk, drawn);
}

fn key(key: &SetupKey) -> ui::ChoiceData {
    ui::ChoiceData {
        name: (&key.name).into(),
        label: (&key.label).into(),
        value: (&key.value).into(),
        enabled: key.enabled,
        chosen: key.chosen,
        primary: key.primary,
    }
}
