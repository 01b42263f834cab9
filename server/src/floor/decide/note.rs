//! Notes. Their text never enters the journal's entries: it is kept beside them, where it can be erased.

use turnabout_protocol::command::NoteAbout;
use turnabout_protocol::ids::NoteId;
use turnabout_protocol::refusal::Refusal;

use super::{Verdict, target};
use crate::floor::event::Event;
use crate::floor::state::State;

/// Characters of one note: a paragraph.
pub(super) const MOST_TEXT: u16 = 500;

pub(super) fn keep(state: &State, about: NoteAbout, text: &str) -> Result<Verdict, Refusal> {
    let length = text.trim().chars().count();
    if length == 0 || length > usize::from(MOST_TEXT) {
        return Err(Refusal::TextLength { most: MOST_TEXT });
    }
    match about {
        NoteAbout::Incident { station, .. } | NoteAbout::Station { station } => {
            state.stations.get(&station).map(|_| ()).ok_or(Refusal::UnknownStation)?;
        }
        NoteAbout::Group { group } => target::group(state, group).map(|_| ())?,
        NoteAbout::Client { group, client } => {
            target::group(state, group)?.clients.get(&client).map(|_| ()).ok_or(Refusal::UnknownClient)?;
        }
        NoteAbout::Set { turn } => state.record(turn).map(|_| ()).ok_or(Refusal::UnknownTurn)?,
    }
    let note = NoteId(state.last_note + 1);
    Ok(Verdict::Accepted(vec![Event::NoteKept { note, about }]))
}
