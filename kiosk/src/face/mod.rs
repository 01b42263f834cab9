//! What one display shows, decided purely: no window, no clock, no socket.
//!
//! [`face`] turns the last view, the state of the link and the present floor time into a [`Face`], in which
//! every text is ready and every button carries the exact command it sends. The window and the headless
//! kiosk draw and press the same face.

mod asks;
mod board;
mod buttons;
mod called;
mod chrome;
mod closing;
mod day;
mod digits;
mod leaving;
mod lines;
mod load;
mod need;
mod news;
mod orders;
mod own;
mod pacer;
mod pad;
mod panel;
mod phase;
mod pin;
mod plates;
mod proposal;
mod ribbon;
mod sheet;
mod sleeve;
mod tap;
mod told;
mod undo;
mod vacant;
mod visit;
mod visiting;
mod words;

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};
use turnabout_protocol::command::Act;
use turnabout_protocol::frame::Fault;
use turnabout_protocol::ids::{StationId, TurnId};
use turnabout_protocol::refusal::Outcome;
use turnabout_protocol::text::{Language, message};
use turnabout_protocol::units::FloorMs;
use turnabout_protocol::view::View;

pub use asks::Ask;
pub use board::{BoardFace, BoardLine, PAGE_MS};
pub use buttons::Button;
pub use chrome::HelpPanel;
pub use digits::{DigitsFace, LEAST_DIGITS, MOST_DIGITS, Pin};
pub use lines::{Row, Said, Tone, rows};
pub use load::Load;
pub use need::NextNeed;
pub use news::NewsLine;
pub use own::Own;
pub use pacer::{Beat, Going, LEAST_REP, Level, Motion, Move, Pacer, Side, beat};
pub use pad::{Key, Pad, PadFace, Step};
pub use panel::Panel;
pub use phase::{Cue, Phase, PhaseKind, Tally, of_station, of_turn};
pub use ribbon::{AHEAD, BEHIND, Block, BlockIs, Pattern, Ribbon, SPAN, STEP, Window, pieces};
pub use sheet::{NeedLine, Sheet, SheetFace};
pub use sleeve::{Disc, Does, Paint};
pub use tap::Tap;
pub use undo::LastTap;
pub use visit::{
    ASK_MS, BUSY_MS, IDLE_MS, LONGEST_WAIT_MS, Let, SLIPS, STAY_MS, Seen as SeenVisit, Unlet, Visit, WAIT_MS,
};
pub use visiting::VisitFace;
pub use words::apart;

/// What the display was told last.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Known {
    /// The content.
    pub view: View,
    /// Floor time at which it was so.
    pub as_of: FloorMs,
}

/// How the link to the server stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LinkState {
    /// Nothing has been heard yet.
    Connecting,
    /// The server speaks.
    Up,
    /// The server was heard, and is not any more.
    Lost {
        /// Floor time at which it was last heard.
        since: FloorMs,
    },
    /// The server does not know this display, or does not any more.
    NotLetIn,
    /// The server does not want this display.
    Refused {
        /// Why.
        fault: Fault,
    },
}

impl LinkState {
    /// Whether a command can be sent now.
    #[must_use]
    pub const fn is_up(&self) -> bool {
        matches!(self, Self::Up)
    }
}

/// What became of a tap, shown for a few seconds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Notice {
    /// The server answered.
    Answered {
        /// What was asked.
        act: Act,
        /// The answer.
        outcome: Outcome,
    },
    /// It was not sent, or nobody knows whether it arrived, and it is not tried again.
    NotSent {
        /// What was asked.
        act: Act,
    },
    /// The server could not read something of ours.
    Fault {
        /// Why.
        fault: Fault,
    },
}

/// All that a face is made of.
#[derive(Clone, Copy, Debug)]
pub struct Scene<'a> {
    /// The last view; nothing before the first.
    pub known: Option<&'a Known>,
    /// The link.
    pub link: &'a LinkState,
    /// Floor time; nothing before the first clock sample.
    pub now: Option<FloorMs>,
    /// Real milliseconds since the display started, for what turns over whatever the floor's clock does.
    pub real: u64,
    /// The language of the texts.
    pub language: Language,
    /// The station that somebody chose to see large.
    pub focus: Option<StationId>,
    /// Commands without an answer.
    pub pending: &'a [Act],
    /// Whether one of them waits for longer than a tap should.
    pub saving: bool,
    /// What became of the last tap.
    pub notice: Option<&'a Notice>,
    /// That tap, where it may be taken back.
    pub last: Option<&'a LastTap>,
    /// What somebody is saying of the plates at a station and has not sent yet.
    pub pad: Option<&'a Pad>,
    /// The sets whose pacer somebody has turned off here.
    pub unpaced: &'a BTreeSet<TurnId>,
    /// A coach who has come for the own run sheet.
    pub visit: &'a Visit,
}

/// All that is drawn, in words. An empty text is not drawn.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Face {
    /// The language of every text.
    pub language: Language,
    /// The main content.
    pub body: Body,
    /// That the link is lost, and how old what is shown is.
    pub link: String,
    /// That a tap is not on disk yet.
    pub saving: String,
    /// What became of the last tap.
    pub notice: String,
    /// Takes back the last tap, as long as that can be done.
    pub undo: Option<Button>,
    /// Help is needed somewhere: drawn over everything else.
    pub help: Option<HelpPanel>,
    /// What is said of the plates of the large station, in its place. Where there is none, nothing is being said.
    pub pad: Option<PadFace>,
    /// A coach who has come for the own run sheet, in the place of the large station or of the board.
    pub visit: Option<VisitFace>,
    /// Why there is nothing of that now, for a moment.
    pub aside: String,
}

/// The main content of a face.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "shows", rename_all = "snake_case")]
#[expect(clippy::large_enum_variant, reason = "there is one face at a time, and few are made a second")]
pub enum Body {
    /// Nothing is known yet.
    Blank {
        /// Why.
        text: String,
    },
    /// One to four stations, the large one first.
    Stations {
        /// A panel each.
        panels: Vec<Panel>,
    },
    /// Every group.
    Board {
        /// The board.
        board: BoardFace,
    },
}

/// Decides what is shown.
#[must_use]
pub fn face(scene: &Scene<'_>) -> Face {
    let body = match (scene.known, scene.now) {
        (Some(known), Some(now)) => match &known.view {
            View::Station(view) => Body::Stations { panels: panel::panels(scene, view, now) },
            View::Board(view) => Body::Board { board: board::board(scene, view, now) },
            // A kiosk never asks for a coach's page; a server that sends one is answered with nothing.
            View::Coach(_) => Body::Blank { text: message(scene.language, "fault.unknown_topic").into() },
        },
        (None, _) | (_, None) => Body::Blank { text: chrome::waiting(scene) },
    };
    let mut face = Face {
        language: scene.language,
        body,
        link: chrome::link_line(scene),
        saving: if scene.saving { message(scene.language, "label.saving").into() } else { String::new() },
        notice: chrome::notice_line(scene),
        undo: undo::undo(scene),
        help: chrome::help(scene),
        pad: match scene.known.map(|known| &known.view) {
            Some(View::Station(view)) => pad::pad(scene, view),
            Some(View::Board(_) | View::Coach(_)) | None => None,
        },
        visit: None,
        aside: String::new(),
    };
    (face.visit, face.aside) = visiting::visit(scene, &face);
    if face.visit.is_some() {
        face.pad = None;
    }
    face
}

impl Face {
    /// The button behind a tap: at the named station, or else at the first panel where it is enabled. Taking
    /// back belongs to the display and to no station.
    #[must_use]
    pub fn button(&self, tap: Tap, station: Option<&str>) -> Option<&Button> {
        if tap == Tap::Undo {
            return self.undo.as_ref().filter(|undo| undo.enabled);
        }
        let Body::Stations { panels } = &self.body else {
            return None;
        };
        panels
            .iter()
            .filter(|panel| station.is_none_or(|key| panel.key == key))
            .flat_map(Panel::all_buttons)
            .find(|button| button.tap == tap && button.enabled)
    }

    /// The key of that name that can be pressed: on the open pad, or else what opens it or turns the pacer off or on at
    /// the named station, or at the first where that can be done.
    #[must_use]
    pub fn key(&self, name: &str, station: Option<&str>) -> Option<&Key> {
        let live = |key: &&Key| key.name == name && key.enabled;
        if let Some(visit) = &self.visit {
            return visit.keys().iter().chain(visit.row()).find(live);
        }
        if let Some(pad) = &self.pad {
            return pad.plates.iter().chain(&pad.row).find(live);
        }
        let Body::Stations { panels } = &self.body else {
            return None;
        };
        let here = panels.iter().filter(|panel| station.is_none_or(|key| panel.key == key));
        here.flat_map(|panel| panel.not_as_shown.iter().chain(&panel.pace_key)).find(live)
    }
}
