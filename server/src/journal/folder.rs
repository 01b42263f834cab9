//! The data folder: which files it holds, who may use it, how a new database comes into it.

use std::fs::{self, DirBuilder, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

use super::connection;
use super::error::OpenError;
use super::header::{self, Found};

const DATABASE: &str = "floor.db";
const LOG: &str = "floor.db-wal";
const LOCK: &str = "floor.lock";
/// A database in the making; without meaning until it is renamed.
const NEW: &str = "floor.db.new";
/// What SQLite may leave beside one that was never finished.
const NEW_LEFTOVERS: [&str; 4] = [NEW, "floor.db.new-journal", "floor.db.new-wal", "floor.db.new-shm"];

/// A data folder that is ours alone until this is dropped.
#[derive(Debug)]
pub(super) struct Folder {
    path: PathBuf,
    /// The system gives the lock back when the file closes, however the process ends.
    _lock: File,
}

impl Folder {
    /// Takes the folder, making it and its database where there is none. A database that is not ours, or
    /// too new, is refused before anything is created or changed.
    pub(super) fn take(path: &Path) -> Result<Self, OpenError> {
        let database = path.join(DATABASE);
        // Once before the lock file, which would already be a trace in a folder that is not ours.
        header::inspect(&database)?;
        make_private(path).map_err(|cause| OpenError::Io { path: path.to_owned(), cause })?;
        let folder = Self { _lock: lock(path)?, path: path.to_owned() };
        // And again now that nobody else can make or change it.
        match header::inspect(&database)? {
            Found::Ours => folder.sync()?,
            Found::Nothing => folder.create()?,
        }
        Ok(folder)
    }

    /// The database file.
    pub(super) fn database(&self) -> PathBuf {
        self.path.join(DATABASE)
    }

    /// Makes durable what a killed server wrote and did not get to sync: its rows are about to count.
    pub(super) fn sync(&self) -> Result<(), OpenError> {
        for name in [DATABASE, LOG] {
            let path = self.path.join(name);
            match File::open(&path).and_then(|file| file.sync_all()) {
                Err(cause) if cause.kind() != io::ErrorKind::NotFound => {
                    return Err(OpenError::Io { path, cause });
                }
                Ok(()) | Err(_) => {}
            }
        }
        Ok(())
    }

    /// Makes the database aside and renames it into place, so that a crash leaves either none or one that
    /// carries our mark and all tables.
    fn create(&self) -> Result<(), OpenError> {
        let log = self.path.join(LOG);
        if fs::metadata(&log).is_ok_and(|log| log.len() > 0) {
            return Err(OpenError::Orphan { path: log });
        }
        for leftover in NEW_LEFTOVERS {
            let path = self.path.join(leftover);
            match fs::remove_file(&path) {
                Err(cause) if cause.kind() != io::ErrorKind::NotFound => {
                    return Err(OpenError::Io { path, cause });
                }
                Ok(()) | Err(_) => {}
            }
        }
        let new = self.path.join(NEW);
        connection::create(&new)?;
        let place = || -> io::Result<()> {
            File::open(&new)?.sync_all()?;
            fs::rename(&new, self.database())?;
            sync_folder(&self.path)
        };
        place().map_err(|cause| OpenError::Io { path: self.database(), cause })
    }
}

/// Makes the folder where it is missing, closed to other users: it holds names.
fn make_private(path: &Path) -> io::Result<()> {
    let mut builder = DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder.create(path)
}

fn lock(folder: &Path) -> Result<File, OpenError> {
    let path = folder.join(LOCK);
    let file = match File::options().create(true).write(true).truncate(false).open(&path) {
        Ok(file) => file,
        Err(cause) => return Err(OpenError::Io { path, cause }),
    };
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(TryLockError::WouldBlock) => Err(OpenError::InUse { folder: folder.to_owned() }),
        Err(TryLockError::Error(cause)) => Err(OpenError::Io { path, cause }),
    }
}

/// A rename is durable only when the folder is synced, which not every system can be asked for.
fn sync_folder(path: &Path) -> io::Result<()> {
    if cfg!(unix) { File::open(path)?.sync_all() } else { Ok(()) }
}
