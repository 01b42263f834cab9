//! What a coach's page asks once instead of watching it: too long for a view, or of use to one reader for a moment.

use serde::Serialize;
use turnabout_protocol::ids::{ClientId, GroupId, Key, NoteId};
use turnabout_protocol::view::{NoteSheet, NotesPart, SetsPart};

use crate::floor::state::State;
use crate::floor::views::{Context, notes, sets};

/// A question, asked as one coach.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// The coach.
    pub coach: Key,
    /// What is asked.
    pub about: Asked,
}

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    /// All notes of the evening that concern the coach.
    Notes,
    /// One of them, to be printed.
    Note(NoteId),
    /// The sets that a client has done this evening.
    Sets(GroupId, ClientId),
}

/// What is answered.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(untagged)]
pub enum Told {
    /// The notes.
    Notes(NotesPart),
    /// The note.
    Note(Box<NoteSheet>),
    /// The sets.
    Sets(SetsPart),
}

/// The answer; nothing where the floor has no such coach, or no such thing for this coach.
pub(super) fn tell(state: &State, context: &Context<'_>, question: &Question) -> Option<Told> {
    let coach = state.floor.coach(&question.coach)?;
    match question.about {
        Asked::Notes => Some(Told::Notes(notes::all(state, context, coach))),
        Asked::Note(note) => {
            notes::sheet(state, context, coach, note).map(|sheet| Told::Note(Box::new(sheet)))
        }
        Asked::Sets(group, client) => sets::sets(state, group, client).map(Told::Sets),
    }
}
