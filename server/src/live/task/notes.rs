//! The texts of notes: on their way to the disk beside their entries, and known for views.

use turnabout_protocol::command::{Act, NoteAbout};
use turnabout_protocol::ids::{ClientId, NoteId};

use super::OPEN_ENTRIES;
use crate::floor::config::Notes;
use crate::floor::event::Event;
use crate::floor::state::MOST_NOTES;
use crate::journal::NoteChange;

/// Texts kept: of the notes in view, and of those that the open batch and the one on its way may hold.
const MOST_TEXTS: usize = MOST_NOTES + 2 * OPEN_ENTRIES;

/// The texts of notes. They are never part of an entry, an answer or a log line.
#[derive(Default)]
pub(super) struct Texts {
    known: Notes,
    /// Those that go with the open batch.
    open: Vec<NoteChange>,
}

impl Texts {
    pub(super) fn new(known: Notes) -> Self {
        Self { known, open: Vec::new() }
    }

    /// The texts there are.
    pub(super) const fn known(&self) -> &Notes {
        &self.known
    }

    /// Keeps a text whose note was taken in, for the batch of its entry.
    pub(super) fn keep(&mut self, change: NoteChange) {
        if let NoteChange::Keep { note, text, .. } = &change {
            self.known.insert(*note, text.clone());
            while self.known.len() > MOST_TEXTS {
                self.known.pop_first();
            }
        }
        self.open.push(change);
    }

    /// What goes with the open batch.
    pub(super) fn hand_over(&mut self) -> Vec<NoteChange> {
        std::mem::take(&mut self.open)
    }

    /// Notes after this one were never written.
    pub(super) fn forget_after(&mut self, last: NoteId) {
        self.known.retain(|note, _| *note <= last);
        self.open.clear();
    }
}

/// The text that a tap brings, where its events keep it.
pub(super) fn text_of(act: &Act, events: &[Event]) -> Option<NoteChange> {
    let Act::Note { text, .. } = act else { return None };
    let kept = |event: &Event| {
        if let Event::NoteKept { note, about } = event { Some((*note, client_of(*about))) } else { None }
    };
    let (note, client) = events.iter().find_map(kept)?;
    Some(NoteChange::Keep { note, client, text: text.trim().to_owned() })
}

const fn client_of(about: NoteAbout) -> Option<ClientId> {
    match about {
        NoteAbout::Client { client, .. } => Some(client),
        NoteAbout::Set { turn } => Some(turn.client),
        NoteAbout::Incident { .. } | NoteAbout::Group { .. } | NoteAbout::Station { .. } => None,
    }
}
