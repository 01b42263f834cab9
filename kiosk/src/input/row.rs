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

impl Control<'_> {
    /// How many places of a finger's width it takes: what is expected has a sentence on it and takes two.
    #[must_use]
    pub fn places(&self) -> usize {
        let expected = match self {
            Control::Opener(_) => true,
            Control::Button(button) => button.primary,
            Control::Key(key) => key.primary,
        };
        if expected { 2 } else { 1 }
    }
}

impl Row<'_> {
    /// The page of each of the others, in a row that has room for so many places.
    #[must_use]
    pub fn pages(&self, room: usize) -> Vec<usize> {
        let places: Vec<usize> = self.others.iter().map(Control::places).collect();
        pages(&places, self.calls.len(), room)
    }
}

/// The page of each that takes so many places of a row with room for `room`, `calls` of which are those of calls. Where
/// not all go in, each page has a button that turns to the next; at least one other is on each.
#[must_use]
pub fn pages(places: &[usize], calls: usize, room: usize) -> Vec<usize> {
    let most = if places.iter().sum::<usize>() + calls <= room {
        usize::MAX
    } else {
        room.saturating_sub(calls + 1)
    };
    let (mut page, mut taken) = (0, 0);
    let place = |needs: &usize| {
        if taken > 0 && taken + needs > most {
            (page, taken) = (page + 1, 0);
        }
        taken += needs;
        page
    };
    places.iter().map(place).collect()
}
