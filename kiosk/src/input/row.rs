//! The row of buttons of the large station: what is in it and in which order, and how it is told off in pages where a
//! screen is too narrow for all of them at the size of a finger.

use crate::face::{Ask, Button, Key, PadFace, Panel, Tap};

/// What stands in the row.
#[derive(Clone, Copy, Debug)]
pub enum Control<'f> {
    /// Opens the answers to DONE.
    Opener(&'f Ask),
    /// Sends something.
    Button(&'f Button),
    /// Changes what is being said.
    Key(&'f Key),
}

/// The row in its order.
#[derive(Clone, Debug)]
pub struct Row<'f> {
    /// What the station offers, the most likely first, or the keys of what is being said.
    pub others: Vec<Control<'f>>,
    /// Calls: always there, and last.
    pub calls: Vec<&'f Button>,
}

/// The row of a station, where `open` is what is being said of its plates.
#[must_use]
pub fn row<'f>(large: &'f Panel, open: Option<&'f PadFace>) -> Row<'f> {
    let is_call = |button: &&Button| matches!(button.tap, Tap::CoachPlease | Tap::HelpNow);
    let calls = large.buttons.iter().filter(is_call).collect();
    let others = large.buttons.iter().filter(|button| !is_call(button));
    let others = match open {
        Some(open) => {
            // More time is always there.
            let not_yet = others.filter(|button| button.tap == Tap::NotYet).map(Control::Button);
            open.row.iter().map(Control::Key).chain(not_yet).collect()
        }
        None => {
            let opener = large.done.iter().map(Control::Opener);
            let keys = large.not_as_shown.iter().chain(&large.pace_key).map(Control::Key);
            opener.chain(others.map(Control::Button)).chain(keys).collect()
        }
    };
    Row { others, calls }
}

/// How many of `others` stand on a page of a row that has room for `room` buttons, `calls` of which are calls. Where
/// not all of them go in, each page has a button that turns to the next; at least one other is on each.
#[must_use]
pub fn pages(others: usize, calls: usize, room: usize) -> usize {
    if others + calls <= room { others.max(1) } else { room.saturating_sub(calls + 1).max(1) }
}
