//! What somebody did at a display that it keeps to itself: none of it is sent.

use std::collections::BTreeSet;

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::TurnId;

use super::{Body, Face, Pad, Step, Visit};

/// What is being said of plates, whose pacer is off, and which coach has come.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Own {
    pad: Option<Pad>,
    unpaced: BTreeSet<TurnId>,
    visit: Visit,
}

impl Own {
    /// Takes a key that was pressed at a real time in milliseconds; says what is to be sent.
    pub fn press(&mut self, step: &Step, real: u64) -> Vec<Act> {
        if let Step::Pace { turn, on } = step {
            if *on {
                self.unpaced.remove(turn);
            } else {
                self.unpaced.insert(*turn);
            }
            return Vec::new();
        }
        if step.is_of_a_visit() {
            self.visit.press(step, real);
            return Vec::new();
        }
        let (pad, acts) = Pad::after(self.pad.take(), step, real);
        self.pad = pad;
        acts
    }

    /// Forgets what a face does not show any more: plates that are not being spoken of, and sets that are over.
    pub fn drawn(&mut self, face: &Face) {
        if face.pad.is_none() {
            self.close_pad();
        }
        // That it is no time for it is said for a moment more.
        if face.visit.is_none() && face.aside.is_empty() {
            self.visit.close();
        }
        let panels = match &face.body {
            Body::Stations { panels } => panels.as_slice(),
            Body::Blank { .. } | Body::Board { .. } => &[],
        };
        let paced = |turn: TurnId| {
            let keys = panels.iter().filter_map(|panel| panel.pace_key.as_ref());
            keys.map(|key| &key.step).any(|step| matches!(step, Step::Pace { turn: of, .. } if *of == turn))
        };
        self.unpaced.retain(|turn| paced(*turn));
    }

    /// Nobody speaks of plates any more.
    pub fn close_pad(&mut self) {
        self.pad = None;
    }

    /// What somebody is saying of plates.
    #[must_use]
    pub const fn pad(&self) -> Option<&Pad> {
        self.pad.as_ref()
    }

    /// A coach who has come for the own run sheet.
    #[must_use]
    pub const fn visit(&self) -> &Visit {
        &self.visit
    }

    /// The same, for what becomes of it.
    pub const fn visit_mut(&mut self) -> &mut Visit {
        &mut self.visit
    }

    /// The sets whose pacer is off.
    #[must_use]
    pub const fn unpaced(&self) -> &BTreeSet<TurnId> {
        &self.unpaced
    }
}
