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
    /// What goes with the open batch.
    open: Vec<NoteChange>,
    /// Notes whose text is erased once this entry is durable. Until then views are made from a state that still has
    /// it, and where the entry never becomes durable the text was never erased.
    erasing: Vec<(u64, NoteId)>,
}

impl Texts {
    pub(super) fn new(known: Notes) -> Self {
        Self { known, open: Vec::new(), erasing: Vec::new() }
    }

    /// The texts there are.
    pub(super) const fn known(&self) -> &Notes {
        &self.known
    }

    /// Takes a change whose entry, the one of this sequence, was taken in: it goes with the batch of its entry.
    pub(super) fn change(&mut self, sequence: u64, change: NoteChange) {
        match &change {
            NoteChange::Keep { note, text, .. } => {
                self.known.insert(*note, text.clone());
                while self.known.len() > MOST_TEXTS {
                    self.known.pop_first();
                }
            }
            NoteChange::Erase { note } => self.erasing.push((sequence, *note)),
            // Nobody taps that: it is asked of a journal that no floor runs on.
            NoteChange::EraseOf { .. } => {}
        }
        self.open.push(change);
    }

    /// What goes with the open batch.
    pub(super) fn hand_over(&mut self) -> Vec<NoteChange> {
        std::mem::take(&mut self.open)
    }

    /// Entries up to this one are durable: what they erase is forgotten.
    pub(super) fn settle(&mut self, durable: u64) {
        let Self { known, erasing, .. } = self;
        erasing.retain(|(sequence, note)| {
            let erased = *sequence <= durable;
            if erased {
                known.remove(note);
            }
            !erased
        });
    }

    /// Entries after the one of this sequence, and notes after this one, were never written.
    pub(super) fn forget_after(&mut self, sequence: u64, last: NoteId) {
        self.settle(sequence);
        self.known.retain(|note, _| *note <= last);
        self.open.clear();
        self.erasing.clear();
    }
}

/// What becomes of the texts by what a tap leads to: one is kept, with what the tap says, or one is erased.
pub(super) fn change_of(act: &Act, events: &[Event]) -> Option<NoteChange> {
    events.iter().find_map(|event| {
        if let Event::NoteErased { note } = event {
            return Some(NoteChange::Erase { note: *note });
        }
        let (Event::NoteKept { note, about }, Act::Note { text, .. }) = (event, act) else { return None };
        Some(NoteChange::Keep { note: *note, client: client_of(*about), text: text.trim().to_owned() })
    })
}

const fn client_of(about: NoteAbout) -> Option<ClientId> {
    match about {
        NoteAbout::Client { client, .. } => Some(client),
        NoteAbout::Set { turn } => Some(turn.client),
        NoteAbout::Incident { .. } | NoteAbout::Group { .. } | NoteAbout::Station { .. } => None,
    }
}
