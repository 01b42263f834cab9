//! Everything that can go wrong with the journal, and whose fault it is.

use std::fmt;
use std::io;
use std::path::PathBuf;

use rusqlite::ErrorCode;
use turnabout_protocol::ids::{CommandId, DeviceId, NoteId};
use turnabout_protocol::units::FloorMs;

/// What a check of the file found, in SQLite's words: which tree, which page, what is wrong there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Damage {
    /// At least one finding; at most a few, because one damaged page can cause thousands.
    pub findings: Vec<String>,
}

impl fmt::Display for Damage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.findings.join("; "))
    }
}

impl Damage {
    pub(super) fn of(error: &rusqlite::Error) -> Self {
        Self { findings: vec![error.to_string()] }
    }
}

/// Whether SQLite says that the file itself is broken.
pub(super) fn is_damage(error: &rusqlite::Error) -> bool {
    matches!(error.sqlite_error_code(), Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase))
}

/// Why a data folder was not opened. Each message names the file or folder and can be shown as it is.
#[derive(Debug, thiserror::Error)]
pub enum OpenError {
    /// The system refused to make, read or write something.
    #[error("{}: {cause}", .path.display())]
    Io {
        /// What was touched.
        path: PathBuf,
        /// What the system said.
        cause: io::Error,
    },
    /// Another server has it open.
    #[error("the data folder {} is in use by another server", .folder.display())]
    InUse {
        /// The folder both want.
        folder: PathBuf,
    },
    /// Too short to be a database; left as it was.
    #[error("{} is cut short: {bytes} bytes are less than the header of a database", .path.display())]
    Truncated {
        /// The file.
        path: PathBuf,
        /// How long it is.
        bytes: usize,
    },
    /// Something else than a database; left as it was.
    #[error("{} is not a database; it was left as it is", .path.display())]
    NotADatabase {
        /// The file.
        path: PathBuf,
    },
    /// The database of another program; left as it was.
    #[error("{} belongs to another program (application id {application_id:#010x}); it was left as it is", .path.display())]
    Foreign {
        /// The file.
        path: PathBuf,
        /// The id in its header.
        application_id: u32,
    },
    /// Written by a later version of this program; left as it was.
    #[error("{} was written by a newer version (file version {found}, this program knows {known}); it was left as it is", .path.display())]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its version.
        found: u32,
        /// The newest version this program knows.
        known: u32,
    },
    /// The write-ahead log of a database that is gone; a new database beside it would swallow it.
    #[error("{} is there without its database: put the database back, or move the log away to start anew", .path.display())]
    Orphan {
        /// The log.
        path: PathBuf,
    },
    /// SQLite did not take a setting on which the promises rest, for example because the file system
    /// cannot share memory, which the write-ahead log needs.
    #[error("{}: the database did not accept {setting}", .path.display())]
    Setting {
        /// The file.
        path: PathBuf,
        /// Which setting.
        setting: &'static str,
    },
    /// The file is broken.
    #[error("{} is damaged: {damage}", .path.display())]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What and where.
        damage: Damage,
    },
    /// After a failed commit its rows are there, but could not be made durable; whether they count is open.
    #[error("{}: the rows of a failed commit could not be made durable: {cause}", .path.display())]
    Unsettled {
        /// The file.
        path: PathBuf,
        /// What SQLite said.
        cause: rusqlite::Error,
    },
    /// Anything else SQLite reports.
    #[error("{}: {cause}", .path.display())]
    Database {
        /// The file.
        path: PathBuf,
        /// What SQLite said.
        cause: rusqlite::Error,
    },
}

/// Why something was not even tried: the request itself is wrong, and nothing was written.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Refusal {
    /// A row does not follow the one before it.
    #[error("row {found} where row {expected} comes next")]
    Sequence {
        /// The sequence that comes next.
        expected: u64,
        /// The one that was given.
        found: u64,
    },
    /// A row is recorded before the one ahead of it.
    #[error("row {sequence} is recorded at {}, before its forerunner at {}", .found.0, .before.0)]
    Backwards {
        /// Which row.
        sequence: u64,
        /// When its forerunner was recorded.
        before: FloorMs,
        /// When this one says it was.
        found: FloorMs,
    },
    /// An answer or a snapshot rests on a row that is not there.
    #[error("rests on row {found}, but the last row is {last}")]
    Ahead {
        /// The last row there is, this batch included; 0 for none.
        last: u64,
        /// The row it names.
        found: u64,
    },
    /// This device's command has its answer already.
    #[error("command {} of device {} is answered already", .command.0, .device.0)]
    Duplicate {
        /// The device.
        device: DeviceId,
        /// The command.
        command: CommandId,
    },
    /// This note has its text already.
    #[error("note {note} is written already")]
    NoteTwice {
        /// The note.
        note: NoteId,
    },
    /// Larger than anything the floor makes.
    #[error("{what} above the limit of {limit}")]
    TooLarge {
        /// What is too large.
        what: &'static str,
        /// The limit, in the unit `what` names.
        limit: usize,
    },
}

/// Why the file could not be written.
#[derive(Debug, thiserror::Error)]
pub enum Fault {
    /// No room: the disk is full, or the journal has reached its page limit.
    #[error("no room left to write")]
    Full,
    /// The file is broken.
    #[error("the journal is damaged: {0}")]
    Damaged(Damage),
    /// An earlier failure closed the file; it must be reopened first.
    #[error("closed after a failure")]
    Closed,
    /// Anything else: the disk, the file system, a right taken away.
    #[error("writing failed: {0}")]
    Io(rusqlite::Error),
}

impl From<rusqlite::Error> for Fault {
    fn from(error: rusqlite::Error) -> Self {
        if is_damage(&error) {
            Self::Damaged(Damage::of(&error))
        } else if error.sqlite_error_code() == Some(ErrorCode::DiskFull) {
            Self::Full
        } else {
            Self::Io(error)
        }
    }
}

/// Why nothing was acknowledged.
#[derive(Debug, thiserror::Error)]
pub enum WriteError {
    /// The request is wrong; nothing was written.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// The file could not be written; whether something was is known after
    /// [`Journal::reopen`](super::Journal::reopen).
    #[error(transparent)]
    Fault(#[from] Fault),
}

impl From<rusqlite::Error> for WriteError {
    fn from(error: rusqlite::Error) -> Self {
        Self::Fault(error.into())
    }
}

/// Why the file could not be read.
#[derive(Debug, thiserror::Error)]
pub enum ReadError {
    /// The file is broken.
    #[error("the journal is damaged: {0}")]
    Damaged(Damage),
    /// A row is missing.
    #[error("row {found} where row {expected} should be")]
    Gap {
        /// The row that should be there.
        expected: u64,
        /// The one that is.
        found: u64,
    },
    /// A row is recorded before the one ahead of it.
    #[error("row {sequence} is recorded before its forerunner")]
    Backwards {
        /// Which row.
        sequence: u64,
    },
    /// An earlier failure closed the file; it must be reopened first.
    #[error("closed after a failure")]
    Closed,
    /// Anything else.
    #[error("reading failed: {0}")]
    Io(rusqlite::Error),
}

impl From<rusqlite::Error> for ReadError {
    fn from(error: rusqlite::Error) -> Self {
        let misfit = matches!(
            error,
            rusqlite::Error::FromSqlConversionFailure(..)
                | rusqlite::Error::IntegralValueOutOfRange(..)
                | rusqlite::Error::InvalidColumnType(..)
                | rusqlite::Error::Utf8Error(..)
        );
        if misfit || is_damage(&error) { Self::Damaged(Damage::of(&error)) } else { Self::Io(error) }
    }
}
