//! The row of buttons of the large station: what is in it and in which order, and how it is told off in pages where a
//! screen is too narrow for all of them at the size of a finger.

use crate::face::{Ask, Body, Button, Face, Key, Panel, Tap, VisitFace};

/// What stands in the row.
#[derive(Clone, Copy, Debug)]
pub enum Control<'f> {
    /// Opens the answers to DONE.
    Opener(&'f Ask),
    /// Sends something.
    Button(&'f Button),
    /// Sends something, and is not what is expected of whoever types here.
    Beside(&'f Button),
    /// Changes what is being said.
    Key(&'f Key),
}

/// The row in its order.
#[derive(Clone, Debug)]
pub struct Row<'f> {
    /// What the station offers, the most likely first, or the keys of what is being said; each with its page, from 0.
    pub others: Vec<(Control<'f>, usize)>,
    /// Calls: on every page, and last.
    pub calls: Vec<&'f Button>,
}

/// The row of a face, told off in pages where it has room for fewer places than it needs. Whatever is expected is on the
/// first page then. A board has one only while a coach is there.
#[must_use]
pub fn row(face: &Face, room: usize) -> Row<'_> {
    let large = match &face.body {
        Body::Stations { panels } => panels.first(),
        Body::Blank { .. } | Body::Board { .. } => None,
    };
    let calls = large.map(calls).unwrap_or_default();
    let mut others = match (&face.visit, large) {
        (Some(visit), _) => visiting(visit, large),
        (None, Some(large)) => others(large, face),
        (None, None) => Vec::new(),
    };
    let needs: usize = others.iter().map(Control::places).sum();
    if needs + calls.len() > room {
        others.sort_by_key(|control| !control.is_expected());
    }
    let places: Vec<usize> = others.iter().map(Control::places).collect();
    let pages = pages(&places, calls.len(), room);
    Row { others: others.into_iter().zip(pages).collect(), calls }
}

const fn is_call(button: &Button) -> bool {
    matches!(button.tap, Tap::CoachPlease | Tap::HelpNow)
}

/// The calls of a station.
#[must_use]
pub fn calls(large: &Panel) -> Vec<&Button> {
    large.buttons.iter().filter(|button| is_call(button)).collect()
}

/// The keys of a coach who has come, and of the station GO and what else is expected there: nobody who is about to lift
/// has to wait. Whoever types a PIN with four keys must not say GO by a key too many, so nothing of the station is
/// expected then.
fn visiting<'f>(visit: &'f VisitFace, large: Option<&'f Panel>) -> Vec<Control<'f>> {
    let types = matches!(visit, VisitFace::Digits { .. });
    let keys = visit.row().iter().map(Control::Key);
    let buttons = large.into_iter().flat_map(|large| &large.buttons);
    let theirs = buttons.filter(|button| !is_call(button) && (button.primary || button.tap == Tap::Go));
    keys.chain(theirs.map(|b| if types { Control::Beside(b) } else { Control::Button(b) })).collect()
}

fn others<'f>(large: &'f Panel, face: &'f Face) -> Vec<Control<'f>> {
    let buttons = large.buttons.iter().filter(|button| !is_call(button));
    if let Some(open) = &face.pad {
        // More time is always there.
        let not_yet = buttons.filter(|button| button.tap == Tap::NotYet).map(Control::Button);
        return open.row.iter().map(Control::Key).chain(not_yet).collect();
    }
    let opener = large.done.iter().map(Control::Opener);
    let keys = large.not_as_shown.iter().chain(&large.pace_key).map(Control::Key);
    opener.chain(buttons.map(Control::Button)).chain(keys).collect()
}

impl Control<'_> {
    fn is_expected(&self) -> bool {
        match self {
            Control::Opener(_) => true,
            Control::Button(button) => button.primary,
            Control::Beside(_) => false,
            Control::Key(key) => key.primary,
        }
    }

    /// How many places of a finger's width it takes: what is expected has a sentence on it and takes two.
    fn places(&self) -> usize {
        if self.is_expected() { 2 } else { 1 }
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
