//! What can be pressed on what is drawn, in an order in which keys go through it. Fingers and keys share the list, so
//! that nothing is within reach of the one and not of the other.

use turnabout_protocol::command::Act;
use turnabout_protocol::ids::StationId;

use super::row::{Control, calls, row};
use crate::face::{Body, Button, Face, Key, Panel, Step, Tap, VisitFace};
use crate::setup::{self, SetupFace, SetupKey};

/// What a press does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Does {
    /// Sends this.
    Send(Act),
    /// Changes what the display keeps to itself.
    Step(Step),
    /// Opens the answers to DONE, of this set.
    Ask(String),
    /// Closes them.
    Unask,
    /// Makes a station of the strip the large one.
    Choose(StationId),
    /// Turns to the next page of the row.
    More,
    /// Begins to wipe the screen.
    Wipe,
    /// Presses the key of that name of a display that is being set up, which does this.
    SetUp(String, setup::Step),
}

/// Where a choice is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Page {
    /// On every page.
    Every,
    /// On this page of the row, from 0.
    Of(usize),
}

/// One thing that can be pressed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// Its name on the face: no two have the same.
    pub name: String,
    /// What it does.
    pub does: Does,
    /// Whether it can be pressed now.
    pub enabled: bool,
    /// It is what is expected next.
    pub expected: bool,
    /// Where it is drawn.
    pub page: Page,
}

impl Choice {
    fn new(name: impl Into<String>, does: Does) -> Self {
        Self { name: name.into(), does, enabled: true, expected: false, page: Page::Every }
    }

    fn button(button: &Button) -> Self {
        let plain = Self::new(button.tap.name(), Does::Send(button.act.clone()));
        Self { enabled: button.enabled, expected: button.primary, ..plain }
    }

    fn key(key: &Key) -> Self {
        let plain = Self::new(&key.name, Does::Step(key.step.clone()));
        Self { enabled: key.enabled, expected: key.primary, ..plain }
    }

    /// Of three answers that are all large, the one in the middle is expected: as planned.
    fn answer(button: &Button) -> Self {
        Self { expected: button.tap == Tap::DoneRight, ..Self::button(button) }
    }

    fn control(control: Control<'_>) -> Self {
        match control {
            Control::Opener(ask) => {
                let plain = Self::new(Self::ASK, Does::Ask(ask.turn.clone()));
                Self { enabled: ask.enabled, expected: true, ..plain }
            }
            Control::Button(button) => Self::button(button),
            Control::Beside(button) => Self { expected: false, ..Self::button(button) },
            Control::Key(key) => Self::key(key),
        }
    }

    /// The name of what opens the answers to DONE.
    pub const ASK: &'static str = "ask";
    /// The name of what closes them.
    pub const UNASK: &'static str = "ask-back";
    /// The name of what turns to the next page of the row.
    pub const MORE: &'static str = "more";
    /// The name of what begins to wipe the screen.
    pub const WIPE: &'static str = "wipe";

    /// The name of a station of the strip, by its key.
    #[must_use]
    pub fn station(key: &str) -> String {
        format!("station/{key}")
    }

    /// It calls for help.
    #[must_use]
    pub fn is_help(&self) -> bool {
        self.name == Tap::HelpNow.name()
    }

    /// Keys go to it: they turn pages by going on.
    #[must_use]
    pub fn is_for_keys(&self) -> bool {
        self.enabled && self.does != Does::More
    }
}

/// What is so of a face beside what it says itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Seen {
    /// The answers to DONE are open.
    pub asking: bool,
    /// No notice takes the place of what is asked of the round before.
    pub quiet: bool,
    /// How many buttons the row has room for, beside the one to wipe.
    pub room: usize,
    /// The screen is being wiped.
    pub wiping: bool,
}

/// What can be pressed on a face. A face that says nothing yet has nothing, and the board has what a coach needs who has
/// come for a run sheet.
#[must_use]
pub fn choices(face: &Face, seen: Seen) -> Vec<Choice> {
    let visits = || face.visit.iter().flat_map(VisitFace::keys).map(Choice::key);
    let Body::Stations { panels } = &face.body else {
        let mut list: Vec<Choice> = visits().collect();
        in_pages(face, seen.room, &mut list);
        return list;
    };
    let [large, others @ ..] = panels.as_slice() else { return Vec::new() };
    let help = face.help.is_some();
    let mut list = if face.visit.is_some() {
        let mut list: Vec<Choice> = visits().collect();
        in_pages(face, seen.room, &mut list);
        list
    } else if seen.asking && large.done.is_some() {
        asked(large)
    } else {
        let plates = face.pad.iter().filter(|_| !help).flat_map(|pad| &pad.plates).map(Choice::key);
        let mut list: Vec<Choice> = plates.collect();
        in_pages(face, seen.room, &mut list);
        if seen.quiet && !help && face.pad.is_none() {
            list.extend(large.efforts.iter().flat_map(|ask| &ask.answers).map(Choice::button));
        }
        list
    };
    list.extend(calls(large).into_iter().map(Choice::button));
    // Help and whoever has come cover the large station, which then stands in the strip like the others.
    let strip = if help || face.visit.is_some() { panels.as_slice() } else { others };
    list.extend(strip.iter().map(|panel| Choice::new(Choice::station(&panel.key), Does::Choose(panel.id))));
    list.extend(face.undo.as_ref().map(Choice::button));
    list.push(Choice { enabled: !seen.wiping, ..Choice::new(Choice::WIPE, Does::Wipe) });
    list
}

fn asked(large: &Panel) -> Vec<Choice> {
    let answers = large.done.iter().flat_map(|ask| &ask.answers).map(Choice::answer);
    answers.chain([Choice::new(Choice::UNASK, Does::Unask)]).collect()
}

/// The row, told off in pages where it is too narrow.
fn in_pages(face: &Face, room: usize, list: &mut Vec<Choice>) {
    let others = row(face, room).others;
    let many = others.last().is_some_and(|(_, last)| *last > 0);
    list.extend(others.into_iter().map(|(control, page)| {
        let page = if many { Page::Of(page) } else { Page::Every };
        Choice { page, ..Choice::control(control) }
    }));
    list.extend(many.then(|| Choice::new(Choice::MORE, Does::More)));
}

/// What can be pressed while a display is set up.
#[must_use]
pub fn setup_choices(face: &SetupFace) -> Vec<Choice> {
    let choice = |key: &SetupKey| {
        let plain = Choice::new(&key.name, Does::SetUp(key.name.clone(), key.step.clone()));
        Choice { enabled: key.enabled, expected: key.primary, ..plain }
    };
    face.keys.iter().chain(&face.row).map(choice).collect()
}
