//! Notes. Their text never enters the journal's entries: it is kept beside them, where it can be erased.

use turnabout_protocol::command::NoteAbout;
use turnabout_protocol::ids::NoteId;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;

use super::{Verdict, target};
use crate::floor::event::Event;
use crate::floor::state::{NoteNow, State};

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
        NoteAbout::Set { turn } => {
            // What a coach sees is written down while it is seen.
            let goes_on = state.under_way().any(|set| set.turn == turn);
            if !goes_on && state.record(turn).is_none() {
                return Err(Refusal::UnknownTurn);
            }
        }
    }
    let note = NoteId(state.last_note + 1);
    Ok(Verdict::Accepted(vec![Event::NoteKept { note, about }]))
}

/// Erases a text. Who may not read it may not erase it either.
pub(super) fn erase(state: &State, by: Actor, id: NoteId) -> Result<Verdict, Refusal> {
    let note = state.notes.get(&id).ok_or(Refusal::UnknownNote)?;
    if let Actor::Coach { coach } = by
        && !note.concerns(state, coach)
    {
        return Err(not_yours(state, note));
    }
    match note.erased {
        Some(stamp) => Ok(Verdict::Already(stamp)),
        None => Ok(Verdict::Accepted(vec![Event::NoteErased { note: id }])),
    }
}

/// A note about a group that is gone is nobody's any more.
fn not_yours(state: &State, note: &NoteNow) -> Refusal {
    let group = note.group().and_then(|group| state.groups.get(&group));
    group.map_or(Refusal::UnknownNote, |group| Refusal::CoachedBy { coach: group.coach })
}
