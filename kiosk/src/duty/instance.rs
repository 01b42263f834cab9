//! One kiosk a file of settings: two with the same identity would take each other's answers.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

/// Why this kiosk may not run.
#[derive(Debug, thiserror::Error)]
pub enum InstanceError {
    /// Another one runs.
    #[error(
        "another kiosk{} runs with these settings and holds {}. End that one, or give this one a file of its own \
         with --settings FILE",
        process(*.holder),
        .path.display()
    )]
    Held {
        /// The file that is locked.
        path: PathBuf,
        /// The number of its process, where it said so.
        holder: Option<u32>,
    },
    /// The file cannot be locked.
    #[error("cannot lock {}: {why}", .path.display())]
    Io {
        /// The file.
        path: PathBuf,
        /// Why.
        why: io::Error,
    },
}

fn process(holder: Option<u32>) -> String {
    holder.map_or_else(String::new, |number| format!(" (process {number})"))
}

/// That this kiosk is the only one, as long as it lives: the kernel gives the lock back when the process is gone,
/// however it went.
#[derive(Debug)]
pub struct Only {
    _file: File,
}

impl Only {
    /// Locks a file, which then says who holds it.
    ///
    /// # Errors
    /// If another process holds it, or it cannot be made.
    pub fn of(path: &Path) -> Result<Self, InstanceError> {
        let io = |why| InstanceError::Io { path: path.to_owned(), why };
        let open = OpenOptions::new().read(true).write(true).create(true).truncate(false).open(path);
        let mut file = open.map_err(io)?;
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => {
                let mut said = String::new();
                // Who holds it may not have said so yet.
                let _ = file.read_to_string(&mut said);
                return Err(InstanceError::Held { path: path.to_owned(), holder: said.trim().parse().ok() });
            }
            Err(TryLockError::Error(why)) => return Err(io(why)),
        }
        file.set_len(0).map_err(io)?;
        writeln!(file, "{}", std::process::id()).map_err(io)?;
        Ok(Self { _file: file })
    }
}
