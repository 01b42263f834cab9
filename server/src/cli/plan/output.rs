//! Files that are written whole or not at all.

use std::fs::{self, Permissions};
use std::io::{self, Write as _};
use std::os::unix::fs::PermissionsExt as _;
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use super::file::{BadFile, Wrong};

/// A place where a file can be written.
#[derive(Debug)]
pub(super) struct Output {
    /// As it was named.
    name: PathBuf,
    /// Where it really is: a link stays one.
    target: PathBuf,
}

impl Output {
    /// Looks whether a file can be written there, before anybody waits for what it will say.
    pub(super) fn at(path: &Path) -> Result<Self, BadFile> {
        let place =
            target(path).and_then(|target| beside(&target).map(|_| target).map_err(Wrong::Unwritable));
        match place {
            Ok(target) => Ok(Self { name: path.to_owned(), target }),
            Err(wrong) => Err(BadFile { file: path.display().to_string(), wrong }),
        }
    }

    /// Whether this is where another file is.
    pub(super) fn is(&self, other: &Path) -> bool {
        target(other).is_ok_and(|other| other == self.target)
    }

    /// The name it goes by.
    pub(super) fn name(&self) -> String {
        self.name.display().to_string()
    }

    /// Everything of the file, which is not yet in its place.
    pub(super) fn fill(self, text: &str) -> Result<Filled, BadFile> {
        let written = beside(&self.target).and_then(|mut file| {
            file.write_all(text.as_bytes())?;
            Ok(file)
        });
        match written {
            Ok(file) => Ok(Filled { output: self, file }),
            Err(error) => Err(BadFile { file: self.name(), wrong: Wrong::Unwritable(error) }),
        }
    }
}

/// A whole file beside its place; dropped, it is gone.
#[derive(Debug)]
pub(super) struct Filled {
    output: Output,
    file: NamedTempFile,
}

impl Filled {
    /// Puts it into its place.
    pub(super) fn place(self) -> Result<(), BadFile> {
        let Self { output, file } = self;
        match file.persist(&output.target) {
            Ok(_) => Ok(()),
            Err(error) => Err(BadFile { file: output.name(), wrong: Wrong::Unwritable(error.error) }),
        }
    }
}

/// The file itself, links followed.
fn target(path: &Path) -> Result<PathBuf, Wrong> {
    match fs::metadata(path) {
        Ok(there) if !there.is_file() => Err(Wrong::NoFile),
        Ok(_) => fs::canonicalize(path).map_err(Wrong::Unwritable),
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            let name = path.file_name().ok_or(Wrong::NoFile)?;
            Ok(fs::canonicalize(folder(path)).map_err(Wrong::Unwritable)?.join(name))
        }
        Err(error) => Err(Wrong::Unwritable(error)),
    }
}

fn folder(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        Some(_) | None => Path::new("."),
    }
}

/// A new file in the same folder, so that it can be moved at once, and open to whoever any new file is open to.
fn beside(target: &Path) -> io::Result<NamedTempFile> {
    let everybody = Permissions::from_mode(0o666);
    tempfile::Builder::new().prefix(".turnabout-").permissions(everybody).tempfile_in(folder(target))
}
