//! Opens SQLite connections, each with the settings on which the journal's promises rest.

use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::types::Value;
use rusqlite::{Connection, OpenFlags};

use super::error::{Damage, OpenError, is_damage};
use super::schema;

/// How long a commit waits for another connection, such as a backup's. Beyond this a tap is late anyway.
const BUSY_TIMEOUT: Duration = Duration::from_secs(1);
/// Findings reported of a damaged file: enough to see where, and one bad page can cause thousands.
const MAX_FINDINGS: usize = 8;
/// SQLite's own upper bound on pages, used where there is no limit of ours.
const ALL_PAGES: u32 = 4_294_967_294;

/// Set on every connection and read back: (name, value, what SQLite then answers).
const SETTINGS: [(&str, &str, i64); 5] = [
    // A commit returns when the log is synced, not before. The default may differ by build.
    ("synchronous", "FULL", 2),
    // Deleted content is overwritten with zeros: erased names must be gone.
    ("secure_delete", "ON", 1),
    // A damaged cell is an error where it is met, not a wrong value.
    ("cell_size_check", "ON", 1),
    // Nothing of ours in temporary files, which nobody would erase.
    ("temp_store", "MEMORY", 2),
    // A file handed to us must not run functions from its schema.
    ("trusted_schema", "OFF", 0),
];

/// Opens the database in a folder that holds one of ours.
pub(super) fn open(path: &Path, max_pages: Option<u32>) -> Result<Connection, OpenError> {
    let wrap = |cause| database_error(path, cause);
    // Without the flag that creates: a database that has gone missing is an error, not a new journal.
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection = Connection::open_with_flags(path, flags).map_err(wrap)?;
    settle(&connection, path, "wal")?;
    limit_pages(&connection, max_pages).map_err(wrap)?;
    Ok(connection)
}

/// Opens a database that lives in memory and ends with the connection.
pub(super) fn open_memory(max_pages: Option<u32>) -> Result<Connection, OpenError> {
    let path = PathBuf::from(":memory:");
    let wrap = |cause| database_error(&path, cause);
    let mut connection = Connection::open_in_memory().map_err(wrap)?;
    settle(&connection, &path, "memory")?;
    schema::migrate(&mut connection).map_err(wrap)?;
    limit_pages(&connection, max_pages).map_err(wrap)?;
    Ok(connection)
}

/// Makes a complete, empty database of ours and closes it.
///
/// Our mark is written before the write-ahead log is switched on: the mark must be in the file itself,
/// where the header check looks, not in a log beside it.
pub(super) fn create(path: &Path) -> Result<(), OpenError> {
    let wrap = |cause| database_error(path, cause);
    let mut connection = Connection::open(path).map_err(wrap)?;
    connection.pragma_update(None, "application_id", schema::APPLICATION_ID).map_err(wrap)?;
    schema::migrate(&mut connection).map_err(wrap)?;
    settle(&connection, path, "wal")?;
    connection.close().map_err(|(_, cause)| database_error(path, cause))
}

fn settle(connection: &Connection, path: &Path, journal_mode: &str) -> Result<(), OpenError> {
    let wrap = |cause| database_error(path, cause);
    connection.busy_timeout(BUSY_TIMEOUT).map_err(wrap)?;
    let mode: String = connection
        .pragma_update_and_check(None, "journal_mode", journal_mode, |row| row.get(0))
        .map_err(wrap)?;
    if mode != journal_mode {
        return Err(OpenError::Setting { path: path.to_owned(), setting: "journal_mode" });
    }
    for (setting, value, expected) in SETTINGS {
        connection.pragma_update(None, setting, value).map_err(wrap)?;
        let answer: Value = connection.pragma_query_value(None, setting, |row| row.get(0)).map_err(wrap)?;
        if answer != Value::Integer(expected) {
            return Err(OpenError::Setting { path: path.to_owned(), setting });
        }
    }
    Ok(())
}

/// Holds the file to so many pages of 4 KiB, or lifts the limit. A limit below the present size means the
/// present size.
pub(super) fn limit_pages(connection: &Connection, max_pages: Option<u32>) -> rusqlite::Result<()> {
    connection.pragma_update(None, "max_page_count", max_pages.unwrap_or(ALL_PAGES))
}

/// Moves everything in the write-ahead log into the database and cuts the log to nothing.
pub(super) fn empty_log(connection: &Connection) -> rusqlite::Result<()> {
    let busy: bool = connection.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |row| row.get(0))?;
    if busy {
        let code = rusqlite::ffi::Error::new(rusqlite::ffi::SQLITE_BUSY);
        return Err(rusqlite::Error::SqliteFailure(code, None));
    }
    Ok(())
}

/// How thoroughly to look for damage.
#[derive(Clone, Copy, Debug)]
pub(super) enum Check {
    /// The form of every page and record.
    Quick,
    /// Also that every index agrees with its table.
    Full,
}

/// Looks for damage; `None` is a sound file.
pub(super) fn check(connection: &Connection, check: Check) -> rusqlite::Result<Option<Damage>> {
    let pragma = match check {
        Check::Quick => "quick_check",
        Check::Full => "integrity_check",
    };
    let mut findings = Vec::new();
    match gather(connection, pragma, &mut findings) {
        Ok(()) if findings == ["ok"] => Ok(None),
        Ok(()) => Ok(Some(Damage { findings })),
        Err(error) if is_damage(&error) && findings.is_empty() => Ok(Some(Damage::of(&error))),
        // The check may trip over what it has just reported: the reports say where, the error does not.
        Err(error) if is_damage(&error) => Ok(Some(Damage { findings })),
        Err(error) => Err(error),
    }
}

fn gather(connection: &Connection, pragma: &str, findings: &mut Vec<String>) -> rusqlite::Result<()> {
    let mut statement = connection.prepare(&format!("PRAGMA {pragma}({MAX_FINDINGS})"))?;
    let mut records = statement.query([])?;
    while let Some(record) = records.next()? {
        findings.push(record.get(0)?);
    }
    Ok(())
}

/// What a failure of SQLite means for opening a file.
pub(super) fn database_error(path: &Path, cause: rusqlite::Error) -> OpenError {
    let path = path.to_owned();
    if is_damage(&cause) {
        OpenError::Damaged { path, damage: Damage::of(&cause) }
    } else {
        OpenError::Database { path, cause }
    }
}
