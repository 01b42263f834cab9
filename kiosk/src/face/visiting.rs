//! What is drawn of a coach who has come for the own run sheet, and when it gives way.
//!
//! It takes the place of the large station, which meanwhile stands in the strip like the others; GO and what else is
//! expected there stay in the row, and so does the call for help. From GO on until a set is done, and while something is
//! stopped, that is not enough: a count-in is read from under a bar and fills the place, and a small screen has no room
//! for both. So it closes then, and is not opened.

use serde::{Deserialize, Serialize};
use turnabout_protocol::text::message;

use super::digits::{self, DigitsFace};
use super::phase::PhaseKind;
use super::sheet::{self, SheetFace};
use super::visit::Seen;
use super::{Body, Face, Key, Scene};

/// A coach at this display, in words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "shows", rename_all = "snake_case")]
pub enum VisitFace {
    /// A PIN is typed, or was sent.
    Digits {
        /// The pad.
        digits: DigitsFace,
    },
    /// The run sheet.
    Sheet {
        /// It.
        sheet: SheetFace,
    },
}

impl VisitFace {
    /// The keys that take the place of the large station.
    #[must_use]
    pub fn keys(&self) -> &[Key] {
        match self {
            Self::Digits { digits } => &digits.digits,
            Self::Sheet { .. } => &[],
        }
    }

    /// The keys in the row of the buttons.
    #[must_use]
    pub fn row(&self) -> &[Key] {
        match self {
            Self::Digits { digits } => &digits.row,
            Self::Sheet { sheet } => &sheet.row,
        }
    }
}

impl Face {
    /// Whether a coach may have the place of the large station: nothing is hidden that has to be seen there.
    #[must_use]
    pub fn has_room_for_a_visit(&self) -> bool {
        self.link.is_empty() && self.help.is_none() && has_room(&self.body)
    }
}

fn has_room(body: &Body) -> bool {
    match body {
        Body::Blank { .. } => false,
        Body::Board { .. } => true,
        Body::Stations { panels } => {
            let anywhere = [PhaseKind::GetSet, PhaseKind::CountIn, PhaseKind::Stopped];
            let large = [PhaseKind::Working, PhaseKind::Assumed];
            !panels.iter().any(|panel| anywhere.contains(&panel.phase))
                && !panels.first().is_some_and(|panel| large.contains(&panel.phase))
        }
    }
}

/// What is drawn of it on a face, and what is said beside.
pub(super) fn visit(scene: &Scene<'_>, face: &Face) -> (Option<VisitFace>, String) {
    let seen = scene.visit.seen(scene.real);
    let nothing = (None, String::new());
    match (seen, scene.now) {
        (Seen::Busy, _) => (None, message(scene.language, "label.gate_busy").to_owned()),
        _ if !face.has_room_for_a_visit() => nothing,
        (Seen::Open { sheet, left }, Some(now)) => {
            (Some(VisitFace::Sheet { sheet: sheet::sheet(scene, sheet, left, now) }), String::new())
        }
        (Seen::Nowhere | Seen::Open { .. } | Seen::Typing { .. } | Seen::Asking, _) => {
            let digits = digits::digits(scene, &seen);
            (digits.map(|digits| VisitFace::Digits { digits }), String::new())
        }
    }
}
