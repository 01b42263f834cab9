//! What a coach's page asks once instead of watching it: too long for a view, or of use to one reader for a moment.

use serde::Serialize;
use turnabout_protocol::ids::{ClientId, GroupId, Key, NoteId};
use turnabout_protocol::view::{BriefingSheet, NoteSheet, NotesPart, SessionSheet, SetsPart, SummarySheet};

use crate::floor::state::State;
use crate::floor::views::summary::Whose;
use crate::floor::views::{Context, briefing, notes, session, sets, summary};

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
    /// What the clients of a group have done this evening, to be printed for them or for the coach.
    Summary(GroupId, Whose),
    /// What is left of a group's session, to be printed.
    Session(GroupId),
    /// What there is to say to a group before its first set.
    Briefing(GroupId),
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
    /// The evening of a group.
    Summary(SummarySheet),
    /// Its session.
    Session(SessionSheet),
    /// Its briefing.
    Briefing(BriefingSheet),
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
        Asked::Summary(group, whose) => {
            summary::sheet(state, context, coach, group, whose).map(Told::Summary)
        }
        Asked::Session(group) => session::sheet(state, context, group).map(Told::Session),
        Asked::Briefing(group) => briefing::sheet(state, context, group).map(Told::Briefing),
    }
}
