//! The files of a plan: an instance, and a timetable of it.

use std::fmt;
use std::fs::File;
use std::io::{self, Read as _};
use std::path::Path;

use crate::timetable::answer::Timetable;
use crate::timetable::format::{Mistakes, limits, read_instance, read_timetable};
use crate::timetable::instance::Instance;

/// A file that is not what it should be.
#[derive(Debug)]
pub struct BadFile {
    /// The file, as it was named.
    pub file: String,
    /// What is wrong.
    pub wrong: Wrong,
}

/// What is wrong with a file.
#[derive(Debug)]
pub enum Wrong {
    /// It cannot be read.
    Unreadable(io::Error),
    /// It is not text.
    NotText {
        /// How many bytes of it are, before the first one that is not.
        text: usize,
    },
    /// It has mistakes.
    Mistakes(Mistakes),
    /// It cannot be written.
    Unwritable(io::Error),
    /// It cannot be written: a folder, a device, or no name at all.
    NoFile,
}

/// One line a mistake, each with the file's name.
impl fmt::Display for BadFile {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { file, wrong } = self;
        match wrong {
            Wrong::Unreadable(error) => write!(f, "{file}: cannot be read: {error}"),
            Wrong::NotText { text } => {
                write!(f, "{file}: found a byte that is no text (byte {}), allowed UTF-8", text + 1)
            }
            Wrong::Unwritable(error) => write!(f, "{file}: cannot be written: {error}"),
            Wrong::NoFile => write!(f, "{file}: cannot be written: found something that is no file"),
            Wrong::Mistakes(mistakes) => {
                let lines: Vec<String> =
                    mistakes.to_string().lines().map(|line| format!("{file}: {line}")).collect();
                f.write_str(&lines.join("\n"))
            }
        }
    }
}

impl std::error::Error for BadFile {}

/// Reads a file up to what is looked at of any; one byte more says that there is more.
fn text(path: &Path) -> Result<String, Wrong> {
    let most = u64::try_from(limits::BYTES).unwrap_or(u64::MAX).saturating_add(1);
    let mut bytes = Vec::new();
    File::open(path).and_then(|file| file.take(most).read_to_end(&mut bytes)).map_err(Wrong::Unreadable)?;
    // Cut within a character a file is too long, whatever it holds.
    let over = bytes.len() > limits::BYTES;
    match String::from_utf8(bytes) {
        Ok(text) => Ok(text),
        Err(error) if over => Ok(String::from_utf8_lossy(error.as_bytes()).into_owned()),
        Err(error) => Err(Wrong::NotText { text: error.utf8_error().valid_up_to() }),
    }
}

fn read<T>(path: &Path, parse: impl FnOnce(&str) -> Result<T, Mistakes>) -> Result<T, BadFile> {
    text(path)
        .and_then(|text| parse(&text).map_err(Wrong::Mistakes))
        .map_err(|wrong| BadFile { file: path.display().to_string(), wrong })
}

/// Reads an instance.
pub(in crate::cli) fn instance(path: &Path) -> Result<Instance, BadFile> {
    read(path, read_instance)
}

/// Reads a timetable of an instance.
pub(super) fn timetable(path: &Path, of: &Instance) -> Result<Timetable, BadFile> {
    read(path, |text| read_timetable(text, of))
}
