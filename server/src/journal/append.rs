//! Writing a batch: checked first, then all of it in one transaction.

use rusqlite::{Connection, ErrorCode, Transaction, TransactionBehavior, params};

use super::error::{Fault, Refusal, WriteError};
use super::{notes, read};
use crate::floor::config::{Names, Person};

use super::notes::MAX_NOTE_BYTES;
use super::record::{Batch, Last, NameChange, NoteChange, Row, StoredAnswer};
use super::store::Journal;

/// Rows, answers and changes of names and notes in a batch: the floor's inbox of 1,024 commands, a few rows each.
pub const MAX_BATCH_ITEMS: usize = 16_384;
/// Bytes of kinds, JSON and texts in a batch: programmes come in as events and may be 1 MiB each.
pub const MAX_BATCH_BYTES: usize = 16 << 20;
/// Bytes of a display name: more than any display shows, in any script.
pub const MAX_NAME_BYTES: usize = 256;

impl Journal {
    /// Commits a batch; when this returns `Ok`, all of it is durable. Gives the journal's end after it.
    ///
    /// # Errors
    /// [`WriteError::Refused`]: the batch does not follow the journal; nothing was written.
    /// [`WriteError::Fault`]: the disk failed; the journal is closed until [`Journal::reopen`], which says
    /// what became of the rows.
    pub fn append(&mut self, batch: &Batch) -> Result<Option<Last>, WriteError> {
        let last = check(batch, self.last())?;
        if batch.is_empty() {
            return Ok(last);
        }
        match write(self.writing()?, batch) {
            Ok(erased) => {
                self.advance(last);
                if erased {
                    self.forget_log();
                } else {
                    self.retry_forgetting();
                }
                Ok(last)
            }
            Err(WriteError::Refused(refusal)) => Err(refusal.into()),
            Err(WriteError::Fault(fault)) => {
                self.lose(&fault);
                Err(fault.into())
            }
        }
    }
}

/// Whether the batch follows a journal that ends at `last`; gives the end after it.
fn check(batch: &Batch, last: Option<Last>) -> Result<Option<Last>, Refusal> {
    check_size(batch)?;
    let mut end = last;
    for row in &batch.rows {
        let expected = end.map_or(0, |last| last.sequence) + 1;
        if row.sequence != expected {
            return Err(Refusal::Sequence { expected, found: row.sequence });
        }
        if let Some(before) = end.map(|last| last.recorded).filter(|before| row.recorded < *before) {
            return Err(Refusal::Backwards { sequence: row.sequence, before, found: row.recorded });
        }
        end = Some(Last { sequence: row.sequence, recorded: row.recorded });
    }
    let known = end.map_or(0, |last| last.sequence);
    match batch.answers.iter().find(|answer| !(1..=known).contains(&answer.sequence)) {
        Some(answer) => Err(Refusal::Ahead { last: known, found: answer.sequence }),
        None => Ok(end),
    }
}

fn check_size(batch: &Batch) -> Result<(), Refusal> {
    let too_large = |what, limit| Err(Refusal::TooLarge { what, limit });
    if batch.rows.len() + batch.answers.len() + batch.names.len() + batch.notes.len() > MAX_BATCH_ITEMS {
        return too_large("items of a batch", MAX_BATCH_ITEMS);
    }
    let rows: usize = batch.rows.iter().map(|row| row.kind.len() + row.json.len()).sum();
    let answers: usize = batch.answers.iter().map(|answer| answer.json.len()).sum();
    let notes = batch.notes.iter().map(text_bytes);
    if notes.clone().any(|bytes| bytes > MAX_NOTE_BYTES) {
        return too_large("bytes of a note", MAX_NOTE_BYTES);
    }
    if rows + answers + notes.sum::<usize>() > MAX_BATCH_BYTES {
        return too_large("bytes of a batch", MAX_BATCH_BYTES);
    }
    for change in &batch.names {
        match change {
            NameChange::Set { name, .. } if name.len() > MAX_NAME_BYTES => {
                return too_large("bytes of a name", MAX_NAME_BYTES);
            }
            NameChange::Set { .. } | NameChange::Erase { .. } => {}
        }
    }
    Ok(())
}

const fn text_bytes(change: &NoteChange) -> usize {
    match change {
        NoteChange::Keep { text, .. } => text.len(),
        NoteChange::Erase { .. } | NoteChange::EraseOf { .. } => 0,
    }
}

/// Writes and commits; `true` where a name or a note was erased, or a name replaced.
fn write(connection: &mut Connection, batch: &Batch) -> Result<bool, WriteError> {
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    match fill(&transaction, batch) {
        Ok(erased) => {
            transaction.commit()?;
            Ok(erased)
        }
        Err(WriteError::Refused(refusal)) => {
            transaction.rollback()?;
            Err(refusal.into())
        }
        // The transaction rolls back as it is dropped, and the connection is closed after it.
        Err(WriteError::Fault(fault)) => Err(fault.into()),
    }
}

fn fill(transaction: &Transaction<'_>, batch: &Batch) -> Result<bool, WriteError> {
    for row in &batch.rows {
        insert_row(transaction, row)?;
    }
    for answer in &batch.answers {
        insert_answer(transaction, answer)?;
    }
    let erased = notes::change(transaction, &batch.notes)?;
    Ok(change_names(transaction, &batch.names)? || erased)
}

fn insert_row(transaction: &Transaction<'_>, row: &Row) -> rusqlite::Result<()> {
    transaction
        .prepare_cached(
            "INSERT INTO entries (sequence, recorded, kind, version, json) VALUES (?, ?, ?, ?, ?)",
        )?
        .execute(params![row.sequence.cast_signed(), row.recorded.0, row.kind, row.version, row.json])?;
    Ok(())
}

fn insert_answer(transaction: &Transaction<'_>, answer: &StoredAnswer) -> Result<(), WriteError> {
    let written = transaction
        .prepare_cached(
            "INSERT INTO answers (device, command, body_hash, recorded, sequence, json) VALUES (?, ?, ?, ?, ?, ?)",
        )?
        .execute(params![
            answer.device.0.as_bytes(),
            answer.command.0.as_bytes(),
            answer.body_hash,
            answer.recorded.0,
            answer.sequence.cast_signed(),
            answer.json
        ]);
    match written {
        Ok(_) => Ok(()),
        Err(error) if error.sqlite_error_code() == Some(ErrorCode::ConstraintViolation) => {
            Err(Refusal::Duplicate { device: answer.device, command: answer.command }.into())
        }
        Err(error) => Err(Fault::from(error).into()),
    }
}

/// Applies name changes; `true` where a name was erased or replaced.
///
/// `secure_delete` zeroes what is deleted, but not the stale copies of a record that stay in a page's
/// unused part when SQLite balances its tree. A later erasure would miss those. So an erasure empties the
/// table, which zeroes every page it has, and fills it with the names that remain: a few thousand at most,
/// and rarely.
fn change_names(transaction: &Transaction<'_>, changes: &[NameChange]) -> rusqlite::Result<bool> {
    if changes.is_empty() {
        return Ok(false);
    }
    let before = read::names(transaction)?;
    let mut after = before.clone();
    for change in changes {
        match change {
            NameChange::Set { person, name } => after.insert(*person, name.clone()),
            NameChange::Erase { person } => after.remove(person),
        };
    }
    let erased = before.iter().any(|(person, name)| after.get(person) != Some(name));
    if erased {
        transaction.execute("DELETE FROM names", [])?;
        insert_names(transaction, &after)?;
    } else {
        after.retain(|person, _| !before.contains_key(person));
        insert_names(transaction, &after)?;
    }
    Ok(erased)
}

fn insert_names(transaction: &Transaction<'_>, names: &Names) -> rusqlite::Result<()> {
    let mut insert = transaction.prepare_cached("INSERT INTO names (part, number, name) VALUES (?, ?, ?)")?;
    for (person, name) in names {
        let (part, number) = match person {
            Person::Client(client) => ("client", client.0),
            Person::Coach(coach) => ("coach", u32::from(coach.0)),
        };
        insert.execute(params![part, number, name])?;
    }
    Ok(())
}
