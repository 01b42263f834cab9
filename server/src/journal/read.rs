//! Reading: rows and answers one by one, so that memory is the caller's to spend.

use rusqlite::types::Type;
use rusqlite::{Connection, Row as Record};
use turnabout_protocol::ids::{ClientId, CoachId, CommandId, DeviceId};
use turnabout_protocol::units::FloorMs;
use uuid::Uuid;

use crate::floor::config::{Names, Person};
use crate::floor::state::MOST_NOTES;

use super::error::ReadError;
use super::record::{Part, Row, StoredAnswer};
use super::store::Journal;

/// Rows or answers in one [`Part`]: large enough that handing parts over costs nothing beside reading them.
pub const PART_ITEMS: usize = 1_024;

impl Journal {
    /// Hands out every row after `sequence` (0 for all), in order, until one is not taken.
    ///
    /// # Errors
    /// [`ReadError`], also for a row that is missing or runs back in time; or what `each` returned.
    pub fn rows_after<E: From<ReadError>>(
        &self,
        sequence: u64,
        mut each: impl FnMut(Row) -> Result<(), E>,
    ) -> Result<(), E> {
        let mut expected = sequence.saturating_add(1);
        let mut before = None;
        stream(
            self.reading()?,
            "SELECT sequence, recorded, kind, version, json FROM entries WHERE sequence > ? ORDER BY sequence",
            i64::try_from(sequence).unwrap_or(i64::MAX),
            row,
            |row| {
                if row.sequence != expected {
                    return Err(ReadError::Gap { expected, found: row.sequence }.into());
                }
                if before.is_some_and(|before| row.recorded < before) {
                    return Err(ReadError::Backwards { sequence: row.sequence }.into());
                }
                expected += 1;
                before = Some(row.recorded);
                each(row)
            },
        )
    }

    /// Hands out every answer recorded at `since` or later, oldest first, until one is not taken.
    ///
    /// # Errors
    /// [`ReadError`], or what `each` returned.
    pub fn answers_since<E: From<ReadError>>(
        &self,
        since: FloorMs,
        each: impl FnMut(StoredAnswer) -> Result<(), E>,
    ) -> Result<(), E> {
        stream(
            self.reading()?,
            "SELECT device, command, body_hash, recorded, sequence, json FROM answers
             WHERE recorded >= ? ORDER BY recorded, id",
            since.0,
            answer,
            each,
        )
    }

    /// Every display name there is.
    ///
    /// # Errors
    /// [`ReadError`].
    pub fn names(&self) -> Result<Names, ReadError> {
        Ok(names(self.reading()?)?)
    }

    /// Hands out everything a floor is rebuilt from, in the order of [`Part`]: the newest snapshot of this
    /// `schema_hash`, the rows after it, the answers recorded at `answers_since` or later, the texts of notes, the
    /// names.
    ///
    /// # Errors
    /// [`ReadError`], or what `each` returned.
    pub fn replay<E: From<ReadError>>(
        &self,
        schema_hash: &[u8; 32],
        answers_since: FloorMs,
        mut each: impl FnMut(Part) -> Result<(), E>,
    ) -> Result<(), E> {
        let mut start = 0;
        if let Some(snapshot) = self.latest_snapshot(schema_hash)? {
            start = snapshot.sequence;
            each(Part::Snapshot(snapshot))?;
        }
        let mut rows = Vec::new();
        self.rows_after(start, |row| {
            rows.push(row);
            if rows.len() < PART_ITEMS { Ok(()) } else { each(Part::Rows(std::mem::take(&mut rows))) }
        })?;
        if !rows.is_empty() {
            each(Part::Rows(rows))?;
        }
        let mut answers = Vec::new();
        self.answers_since(answers_since, |answer| {
            answers.push(answer);
            if answers.len() < PART_ITEMS {
                Ok(())
            } else {
                each(Part::Answers(std::mem::take(&mut answers)))
            }
        })?;
        if !answers.is_empty() {
            each(Part::Answers(answers))?;
        }
        let notes = self.notes(MOST_NOTES)?;
        if !notes.is_empty() {
            each(Part::Notes(notes))?;
        }
        each(Part::Names(self.names()?))
    }
}

/// Runs a query of one parameter and hands each record on.
fn stream<T, E: From<ReadError>>(
    connection: &Connection,
    sql: &str,
    parameter: i64,
    parse: fn(&Record<'_>) -> rusqlite::Result<T>,
    mut each: impl FnMut(T) -> Result<(), E>,
) -> Result<(), E> {
    let mut statement = connection.prepare_cached(sql).map_err(ReadError::from)?;
    let mut records = statement.query([parameter]).map_err(ReadError::from)?;
    while let Some(record) = records.next().map_err(ReadError::from)? {
        each(parse(record).map_err(ReadError::from)?)?;
    }
    Ok(())
}

fn row(record: &Record<'_>) -> rusqlite::Result<Row> {
    Ok(Row {
        sequence: unsigned(record, 0)?,
        recorded: FloorMs(record.get(1)?),
        kind: record.get::<_, String>(2)?.into(),
        version: record.get(3)?,
        json: record.get(4)?,
    })
}

fn answer(record: &Record<'_>) -> rusqlite::Result<StoredAnswer> {
    Ok(StoredAnswer {
        device: DeviceId(Uuid::from_bytes(record.get(0)?)),
        command: CommandId(Uuid::from_bytes(record.get(1)?)),
        body_hash: record.get(2)?,
        recorded: FloorMs(record.get(3)?),
        sequence: unsigned(record, 4)?,
        json: record.get(5)?,
    })
}

pub(super) fn names(connection: &Connection) -> rusqlite::Result<Names> {
    connection
        .prepare_cached("SELECT part, number, name FROM names")?
        .query_map([], |record| Ok((person(record)?, record.get(2)?)))?
        .collect()
}

fn person(record: &Record<'_>) -> rusqlite::Result<Person> {
    let part: String = record.get(0)?;
    // The table's own check allows these two only.
    if part == "client" {
        return Ok(Person::Client(ClientId(record.get(1)?)));
    }
    Ok(Person::Coach(CoachId(record.get(1)?)))
}

/// A sequence: SQLite's integers are signed, ours never negative.
pub(super) fn unsigned(record: &Record<'_>, column: usize) -> rusqlite::Result<u64> {
    let value: i64 = record.get(column)?;
    u64::try_from(value)
        .map_err(|error| rusqlite::Error::FromSqlConversionFailure(column, Type::Integer, Box::new(error)))
}
