//! The settings on disk: written whole or not at all, and set aside when they cannot be read.

use std::env;
use std::ffi::{OsStr, OsString};
use std::fs::{self, File, OpenOptions, Permissions};
use std::io::{self, ErrorKind, Write};
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};

use super::Settings;
use super::file::{self, Broken};
use crate::duty::instance::{InstanceError, Only};

/// Why there are no settings to go by.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// Another kiosk goes by them, or nobody can tell.
    #[error(transparent)]
    Instance(#[from] InstanceError),
    /// The file is there and cannot be read.
    #[error("cannot read the settings {}: {why}; give another file with --settings", .path.display())]
    Read {
        /// The file.
        path: PathBuf,
        /// Why.
        why: io::Error,
    },
    /// A broken file cannot be renamed.
    #[error("the settings {} are broken ({broken}) and cannot be set aside: {why}", .path.display())]
    SetAside {
        /// The file.
        path: PathBuf,
        /// What is wrong in it.
        broken: Broken,
        /// Why it stays where it is.
        why: io::Error,
    },
    /// The file cannot be written.
    #[error("cannot write the settings {}: {why}; give another file with --settings", .path.display())]
    Write {
        /// The file.
        path: PathBuf,
        /// Why.
        why: io::Error,
    },
    /// There is no place for settings.
    #[error("found neither XDG_CONFIG_HOME nor HOME: say with --settings FILE where the settings are kept")]
    NoHome,
}

/// A file that could not be read, and what became of it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the settings {} are broken: {broken}. They are kept as {}, and this display is as new", .path.display(), .kept.display())]
pub struct SetAside {
    /// Where it was.
    pub path: PathBuf,
    /// Where it is now.
    pub kept: PathBuf,
    /// What is wrong in it.
    pub broken: Broken,
}

/// The file of one display, which no other display uses meanwhile.
#[derive(Debug)]
pub struct Store {
    path: PathBuf,
    _only: Only,
}

/// Where settings are kept unless somebody says otherwise: under `$XDG_CONFIG_HOME`, else under `$HOME/.config`
/// (XDG Base Directory Specification; a path that is not absolute is none).
#[must_use]
pub fn default_path(config: Option<OsString>, home: Option<OsString>) -> Option<PathBuf> {
    let absolute = |path: Option<OsString>| path.map(PathBuf::from).filter(|path| path.is_absolute());
    let folder = absolute(config).or_else(|| absolute(home).map(|home| home.join(".config")))?;
    Some(folder.join("turnabout").join("kiosk.json"))
}

impl Store {
    /// Takes the file for this display alone and reads it, from where it was said or from the default path. The
    /// file is there afterwards, with who this display is. One that cannot be understood is set aside.
    ///
    /// # Errors
    /// If another kiosk goes by it, or the disk does not let it be read and written.
    pub fn open(path: Option<PathBuf>) -> Result<(Self, Settings, Option<SetAside>), StoreError> {
        let default = || default_path(env::var_os("XDG_CONFIG_HOME"), env::var_os("HOME"));
        let path = path.or_else(default).ok_or(StoreError::NoHome)?;
        if let Some(folder) = path.parent() {
            fs::create_dir_all(folder).map_err(|why| StoreError::Write { path: path.clone(), why })?;
        }
        let only = Only::of(&beside(&path, ".lock"))?;
        let store = Self { path, _only: only };
        let (settings, aside) = match fs::read(&store.path) {
            Ok(text) => match file::read(&text) {
                // A file that somebody wrote by hand may not say which display it is.
                Ok(settings) if text == file::write(&settings).as_bytes() => {
                    return Ok((store, settings, None));
                }
                Ok(settings) => (settings, None),
                Err(broken) => (Settings::unseen(), Some(store.set_aside(broken)?)),
            },
            Err(error) if error.kind() == ErrorKind::NotFound => (Settings::unseen(), None),
            Err(why) => return Err(StoreError::Read { path: store.path, why }),
        };
        store.save(&settings)?;
        Ok((store, settings, aside))
    }

    /// Where it is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Writes the settings: after a crash at any point the file is the old one or this one.
    ///
    /// # Errors
    /// If the disk is full or does not let them be written; the file is then as it was.
    pub fn save(&self, settings: &Settings) -> Result<(), StoreError> {
        let write = || -> io::Result<()> {
            let new = beside(&self.path, ".new");
            let mut file = File::create(&new)?;
            // What a server knows this display by is for nobody else on this machine.
            file.set_permissions(Permissions::from_mode(0o600))?;
            file.write_all(file::write(settings).as_bytes())?;
            file.sync_all()?;
            fs::rename(&new, &self.path)?;
            // The name is on disk only when its folder is.
            File::open(folder(&self.path))?.sync_all()
        };
        write().map_err(|why| StoreError::Write { path: self.path.clone(), why })
    }

    /// Renames a broken file to a name that nothing has yet.
    fn set_aside(&self, broken: Broken) -> Result<SetAside, StoreError> {
        let rename = || -> io::Result<PathBuf> {
            for n in 1_u32.. {
                let kept = beside(&self.path, &format!(".broken-{n}"));
                // An empty file takes the name first: renaming alone would overwrite what has it.
                match OpenOptions::new().write(true).create_new(true).open(&kept) {
                    Ok(_) => return fs::rename(&self.path, &kept).map(|()| kept),
                    Err(error) if error.kind() == ErrorKind::AlreadyExists => {}
                    Err(error) => return Err(error),
                }
            }
            Err(ErrorKind::AlreadyExists.into())
        };
        match rename() {
            Ok(kept) => Ok(SetAside { path: self.path.clone(), kept, broken }),
            Err(why) => Err(StoreError::SetAside { path: self.path.clone(), broken, why }),
        }
    }
}

/// The folder that a file is in.
fn folder(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// The same path with something after its name.
fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.file_name().map_or_else(OsString::new, OsStr::to_owned);
    name.push(ending);
    path.with_file_name(name)
}
