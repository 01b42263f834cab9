//! The open journal: how it is opened, lost, opened again and closed.

use std::path::{Path, PathBuf};

use rusqlite::{Connection, OptionalExtension};
use turnabout_protocol::units::FloorMs;

use super::connection::{self, Check};
use super::error::{Fault, OpenError, ReadError};
use super::folder::Folder;
use super::record::Last;
use super::schema;

/// Where a journal lives.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Storage {
    /// In memory, gone with the process: for benches and tests that ask nothing of the disk.
    Memory,
    /// In a data folder, made where it is missing. It holds `floor.db`, SQLite's files beside it, and
    /// `floor.lock`.
    Folder(PathBuf),
}

/// Settings of a journal.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Options {
    /// The most pages of 4 KiB the database may have; `None` leaves it to the disk. Beyond it every write
    /// fails with [`Fault::Full`].
    pub max_pages: Option<u32>,
}

#[derive(Debug)]
enum Place {
    Memory,
    Folder(Folder),
}

/// An open journal. One process has it, through one connection.
#[derive(Debug)]
pub struct Journal {
    // Ahead of `place`: the file closes before the lock on its folder is given back.
    /// `None` after a failed write: what SQLite holds in memory then need not be what is on the disk.
    connection: Option<Connection>,
    place: Place,
    options: Options,
    /// The end as of the last write that is known to be durable.
    last: Option<Last>,
    /// A write failed so that its rows may be visible in the file yet not durable.
    in_doubt: bool,
    /// The log could not be emptied after an erasure and still holds what was erased.
    log_holds_erased: bool,
}

impl Journal {
    /// Opens the journal, checks it and brings its tables forward.
    ///
    /// # Errors
    /// Every [`OpenError`] but `Unsettled`. A database that is foreign, newer, cut short or no database is
    /// left byte for byte as it was, with nothing created beside it.
    pub fn open(storage: &Storage, options: Options) -> Result<Self, OpenError> {
        let (place, connection) = match storage {
            Storage::Memory => (Place::Memory, connection::open_memory(options.max_pages)?),
            Storage::Folder(path) => {
                let folder = Folder::take(path)?;
                let connection = connection::open(&folder.database(), options.max_pages)?;
                (Place::Folder(folder), connection)
            }
        };
        let path = place.database();
        let connection = prepare(connection, &path)?;
        let last = read_last(&connection).map_err(|cause| connection::database_error(&path, cause))?;
        let mut journal = Self {
            connection: Some(connection),
            place,
            options,
            last,
            in_doubt: false,
            log_holds_erased: false,
        };
        // A server killed right after an erasure left the erased name in the log.
        journal.forget_log();
        Ok(journal)
    }

    /// The last row that is known to be durable, or `None` while there is no row.
    #[must_use]
    pub const fn last(&self) -> Option<Last> {
        self.last
    }

    /// Whether reading and writing can be tried: not after a failed write, until [`Journal::reopen`].
    #[must_use]
    pub const fn is_open(&self) -> bool {
        self.connection.is_some()
    }

    /// Opens the file anew after a failed write and settles what that write came to: rows that are there
    /// now are durable and count, others never happened.
    ///
    /// # Errors
    /// [`OpenError`] while the file cannot be opened, or where rows of the failed write are there but
    /// cannot be made durable yet. The journal then stays closed, and this can be tried again.
    pub fn reopen(&mut self) -> Result<Option<Last>, OpenError> {
        let path = self.place.database();
        let connection = match &self.place {
            // What is in memory would be lost with its connection; it has no disk to be at odds with.
            Place::Memory => self.connection.take(),
            Place::Folder(folder) => {
                self.connection = None;
                folder.sync()?;
                Some(connection::open(&path, self.options.max_pages)?)
            }
        };
        let Some(connection) = connection else {
            return Ok(self.last);
        };
        let last = read_last(&connection).map_err(|cause| connection::database_error(&path, cause))?;
        if self.in_doubt || last != self.last {
            // After a failed sync the system may take the same pages for written; only writing them again,
            // from the log into the database, and syncing that, makes sure.
            connection::empty_log(&connection).map_err(|cause| OpenError::Unsettled { path, cause })?;
        }
        self.in_doubt = false;
        self.last = last;
        self.connection = Some(connection);
        Ok(last)
    }

    /// Changes [`Options::max_pages`] of an open journal.
    ///
    /// # Errors
    /// [`Fault`] where the journal is closed or SQLite refuses; the new limit then holds from the next
    /// [`Journal::reopen`] on.
    pub fn set_max_pages(&mut self, max_pages: Option<u32>) -> Result<(), Fault> {
        self.options.max_pages = max_pages;
        let connection = self.connection.as_ref().ok_or(Fault::Closed)?;
        Ok(connection::limit_pages(connection, max_pages)?)
    }

    /// Checks the whole file: every page, every index against its table, every row following its
    /// forerunner. Reads all of it, which takes seconds for a large one.
    ///
    /// # Errors
    /// [`ReadError`] with what was found.
    pub fn verify(&self) -> Result<(), ReadError> {
        let connection = self.reading()?;
        if let Some(damage) = connection::check(connection, Check::Full)? {
            return Err(ReadError::Damaged(damage));
        }
        self.rows_after(0, |_| Ok::<(), ReadError>(()))
    }

    /// Empties the log into the database and closes the file. Dropping a journal closes it too, without
    /// saying how it went.
    ///
    /// # Errors
    /// [`Fault`]; what was acknowledged is durable all the same.
    pub fn close(mut self) -> Result<(), Fault> {
        let connection = self.connection.take().ok_or(Fault::Closed)?;
        connection::empty_log(&connection)?;
        connection.close().map_err(|(_, error)| error.into())
    }

    pub(super) fn reading(&self) -> Result<&Connection, ReadError> {
        self.connection.as_ref().ok_or(ReadError::Closed)
    }

    pub(super) fn writing(&mut self) -> Result<&mut Connection, Fault> {
        self.connection.as_mut().ok_or(Fault::Closed)
    }

    /// Notes that a write is durable.
    pub(super) const fn advance(&mut self, last: Option<Last>) {
        self.last = last;
    }

    /// Gives up the connection after a failed write, so that nothing is read or written before the file
    /// was opened anew.
    pub(super) fn lose(&mut self, fault: &Fault) {
        // Without room the frame that commits was never written. Anything else may have come after it.
        self.in_doubt |= !matches!(fault, Fault::Full | Fault::Closed);
        match self.place {
            Place::Memory => {}
            Place::Folder(_) => self.connection = None,
        }
    }

    /// Notes an erasure and makes good on it in the log too.
    pub(super) fn forget_log(&mut self) {
        self.log_holds_erased = true;
        self.retry_forgetting();
    }

    /// Empties the log where an earlier erasure could not. The erasure itself is durable, so a failure is
    /// no reason to refuse the write; it is tried again with the next one and at the next start.
    pub(super) fn retry_forgetting(&mut self) {
        let (true, Some(connection)) = (self.log_holds_erased, &self.connection) else {
            return;
        };
        match connection::empty_log(connection) {
            Ok(()) => self.log_holds_erased = false,
            Err(error) => {
                tracing::warn!(%error, "the journal's log could not be emptied; trying again later");
            }
        }
    }
}

impl Place {
    /// The database file, as it is named in errors.
    fn database(&self) -> PathBuf {
        match self {
            Self::Memory => PathBuf::from(":memory:"),
            Self::Folder(folder) => folder.database(),
        }
    }
}

/// Checks an open file and brings its tables forward.
fn prepare(mut connection: Connection, path: &Path) -> Result<Connection, OpenError> {
    let wrap = |cause| connection::database_error(path, cause);
    if let Some(damage) = connection::check(&connection, Check::Quick).map_err(wrap)? {
        return Err(OpenError::Damaged { path: path.to_owned(), damage });
    }
    // The header was read from the file alone; a newer version may stand in the log of a killed server.
    let found = schema::version(&connection).map_err(wrap)?;
    if found > schema::SCHEMA_VERSION {
        return Err(OpenError::Newer { path: path.to_owned(), found, known: schema::SCHEMA_VERSION });
    }
    schema::migrate(&mut connection).map_err(wrap)?;
    Ok(connection)
}

fn read_last(connection: &Connection) -> rusqlite::Result<Option<Last>> {
    connection
        .query_row("SELECT sequence, recorded FROM entries ORDER BY sequence DESC LIMIT 1", [], |row| {
            Ok(Last { sequence: row.get::<_, i64>(0)?.cast_unsigned(), recorded: FloorMs(row.get(1)?) })
        })
        .optional()
}
