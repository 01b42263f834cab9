//! Notes with their texts, for the coaches whom they concern. The texts come from outside the state, as names do.

use turnabout_protocol::command::NoteAbout;
use turnabout_protocol::ids::{ClientId, CoachId, GroupId, NoteId};
use turnabout_protocol::role::Actor;
use turnabout_protocol::view::{ErasedPart, NotePart, NoteSheet, NoteText, NotesPart, SheetNote};

use super::{Context, part};
use crate::floor::state::{NoteNow, Stamp, State};

/// Notes that a view carries; all others are asked for over HTTP.
const MOST_NOTES: usize = 10;
/// Characters of a text that a view carries. Ten texts of six bytes a character, the most that JSON takes for
/// one, are 12 kB, a twentieth of a frame.
pub const MOST_CHARS: usize = 200;

/// The latest notes that concern a coach, and how many there are before these.
pub(super) fn latest(state: &State, context: &Context<'_>, me: CoachId) -> (Vec<NotePart>, u8) {
    let notes = concerning(state, me).take(MOST_NOTES);
    let notes = notes.map(|(id, note)| shown(context, id, note, Some(MOST_CHARS))).collect();
    let older = concerning(state, me).skip(MOST_NOTES).count();
    (notes, u8::try_from(older).unwrap_or(u8::MAX))
}

/// Every note of the evening that concerns a coach, whole: no more than the state keeps.
#[must_use]
pub fn all(state: &State, context: &Context<'_>, me: CoachId) -> NotesPart {
    NotesPart { notes: concerning(state, me).map(|(id, note)| shown(context, id, note, None)).collect() }
}

/// One note in words; nothing where there is none that concerns this coach.
#[must_use]
pub fn sheet(state: &State, context: &Context<'_>, me: CoachId, id: NoteId) -> Option<NoteSheet> {
    let note = state.notes.get(&id).filter(|note| note.concerns(state, me))?;
    let station = |id| state.floor.stations.get(&id).map(|station| station.name.clone());
    let name = |client: ClientId| part::client_name(context, client);
    let group = |id: GroupId| {
        let plan = state.programme.groups.get(&id);
        plan.map(|plan| plan.clients.iter().map(|client| name(*client)).collect()).unwrap_or_default()
    };
    let (station, clients, exercise) = match note.about {
        NoteAbout::Incident { station: at, .. } | NoteAbout::Station { station: at } => {
            (station(at), Vec::new(), None)
        }
        NoteAbout::Group { group: id } => (None, group(id), None),
        NoteAbout::Client { client, .. } => (None, vec![name(client)], None),
        NoteAbout::Set { turn } => {
            let record = state.record(turn);
            let exercise = record.map(|record| part::exercise_name(state, record.exercise));
            (record.and_then(|record| station(record.station)), vec![name(turn.client)], exercise)
        }
    };
    Some(NoteSheet {
        floor: state.floor.name.clone(),
        emergency: state.floor.emergency.clone(),
        note: shown(context, id, note, None),
        written: state.clock.rfc3339(note.written.when),
        author: author(state, context, note.written.by),
        station,
        clients,
        exercise,
    })
}

/// What is written about a client, the client's sets and the group, as far as it concerns a coach and has
/// not been erased; the earliest first.
pub(super) fn about(
    state: &State,
    context: &Context<'_>,
    me: CoachId,
    (group, client): (GroupId, ClientId),
) -> Vec<SheetNote> {
    let is_about = |note: &NoteNow| match note.about {
        NoteAbout::Incident { .. } | NoteAbout::Station { .. } => false,
        NoteAbout::Group { group: of } => of == group,
        NoteAbout::Client { group: of, client: who } => (of, who) == (group, client),
        NoteAbout::Set { turn } => (turn.group, turn.client) == (group, client),
    };
    let mut notes: Vec<SheetNote> = concerning(state, me)
        .filter(|(id, note)| is_about(note) && note.erased.is_none() && context.notes.contains_key(id))
        .map(|(id, note)| SheetNote {
            note: shown(context, id, note, None),
            written: state.clock.rfc3339(note.written.when),
        })
        .collect();
    notes.reverse();
    notes
}

fn concerning(state: &State, me: CoachId) -> impl Iterator<Item = (NoteId, &NoteNow)> {
    let latest = state.notes.iter().rev();
    latest.filter(move |(_, note)| note.concerns(state, me)).map(|(id, note)| (*id, note))
}

fn shown(context: &Context<'_>, id: NoteId, note: &NoteNow, most: Option<usize>) -> NotePart {
    let Stamp { by, when } = note.written;
    NotePart { note: id, about: note.about, by, at: when, text: text(context, id, note, most) }
}

/// A text, its beginning where no more is wanted, or that it was erased.
fn text(context: &Context<'_>, id: NoteId, note: &NoteNow, most: Option<usize>) -> NoteText {
    let erased = note.erased.map(|Stamp { by, when }| ErasedPart { by, at: when });
    let known = context.notes.get(&id).filter(|_| erased.is_none());
    let Some(text) = known else { return NoteText::Erased { erased } };
    let end = most.and_then(|most| text.char_indices().nth(most)).map(|(end, _)| end);
    match end.and_then(|end| text.get(..end)) {
        Some(begins) => NoteText::Begins { text: begins.to_owned() },
        None => NoteText::Whole { text: text.clone() },
    }
}

/// Who wrote something, by name. An assistant goes by the coach who is helped.
fn author(state: &State, context: &Context<'_>, by: Actor) -> String {
    match by {
        Actor::Coach { coach } | Actor::Assistant { coach } => part::coach_name(context, coach),
        Actor::Station { station } => {
            state.floor.stations.get(&station).map(|station| station.name.clone()).unwrap_or_default()
        }
        Actor::Floor | Actor::Board | Actor::Manager => String::new(),
    }
}
