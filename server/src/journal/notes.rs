//! The texts of notes: beside the entries, because the journal is never cut and a text must be erasable.

use std::collections::BTreeMap;

use rusqlite::{Connection, ErrorCode, Transaction, params};
use turnabout_protocol::ids::{ClientId, NoteId};

use super::error::{Fault, ReadError, Refusal, WriteError};
use super::record::NoteChange;
use super::store::Journal;
use crate::floor::config::Notes;

/// Bytes of one text: the floor's 500 characters, of four bytes each at most.
pub const MAX_NOTE_BYTES: usize = 2_000;

impl Journal {
    /// The texts of the latest notes, of so many of them; of those whose text was erased nothing.
    ///
    /// # Errors
    /// [`ReadError`].
    pub fn notes(&self, latest: usize) -> Result<Notes, ReadError> {
        let latest = i64::try_from(latest).unwrap_or(i64::MAX);
        let mut statement =
            self.reading()?.prepare_cached("SELECT number, text FROM notes ORDER BY number DESC LIMIT ?")?;
        let notes = statement.query_map([latest], |record| Ok((NoteId(record.get(0)?), record.get(1)?)))?;
        Ok(notes.collect::<rusqlite::Result<_>>()?)
    }
}

/// A text, and the client it is about where it is about one.
type Kept = BTreeMap<NoteId, (Option<ClientId>, String)>;

/// Applies changes in order; `true` where a text was erased.
///
/// An erasure empties the table and fills it with what remains, as that of a name does and for the same reason:
/// copies that SQLite left behind when it balanced its tree are zeroed only with their pages. It is rare, and
/// the notes of many years are a few megabytes.
pub(super) fn change(transaction: &Transaction<'_>, changes: &[NoteChange]) -> Result<bool, WriteError> {
    let erases = |change: &NoteChange| match change {
        NoteChange::Keep { .. } => false,
        NoteChange::Erase { .. } | NoteChange::EraseOf { .. } => true,
    };
    let before = if changes.iter().any(erases) { all(transaction)? } else { Kept::new() };
    let mut after = before.clone();
    for change in changes {
        match change {
            NoteChange::Keep { note, client, text } => {
                if after.insert(*note, (*client, text.clone())).is_some() {
                    return Err(Refusal::NoteTwice { note: *note }.into());
                }
            }
            NoteChange::Erase { note } => {
                after.remove(note);
            }
            NoteChange::EraseOf { client } => after.retain(|_, (about, _)| *about != Some(*client)),
        }
    }
    let erased = before.keys().any(|note| !after.contains_key(note));
    if erased {
        transaction.execute("DELETE FROM notes", [])?;
    } else {
        after.retain(|note, _| !before.contains_key(note));
    }
    insert(transaction, &after)?;
    Ok(erased)
}

fn all(connection: &Connection) -> rusqlite::Result<Kept> {
    connection
        .prepare_cached("SELECT number, client, text FROM notes")?
        .query_map([], |record| {
            let client: Option<u32> = record.get(1)?;
            Ok((NoteId(record.get(0)?), (client.map(ClientId), record.get(2)?)))
        })?
        .collect()
}

fn insert(transaction: &Transaction<'_>, notes: &Kept) -> Result<(), WriteError> {
    let mut insert =
        transaction.prepare_cached("INSERT INTO notes (number, client, text) VALUES (?, ?, ?)")?;
    for (note, (client, text)) in notes {
        match insert.execute(params![note.0, client.map(|client| client.0), text]) {
            Ok(_) => {}
            Err(error) if error.sqlite_error_code() == Some(ErrorCode::ConstraintViolation) => {
                return Err(Refusal::NoteTwice { note: *note }.into());
            }
            Err(error) => return Err(Fault::from(error).into()),
        }
    }
    Ok(())
}
