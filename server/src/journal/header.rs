//! Reads the header of a database file before SQLite may: SQLite would already write beside, or into, a
//! file that turns out not to be ours.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use super::error::OpenError;
use super::schema::{APPLICATION_ID, SCHEMA_VERSION};

/// Length of a database header (SQLite file format, section 1.3).
const HEADER_BYTES: usize = 100;
const MAGIC: &[u8; 16] = b"SQLite format 3\0";
/// Both numbers are big endian (SQLite file format, section 1.3).
const USER_VERSION_AT: usize = 60;
const APPLICATION_ID_AT: usize = 68;

/// What lies where the database should be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Found {
    /// No file, or an empty one.
    Nothing,
    /// A database of ours, of this version or an older one.
    Ours,
}

/// Looks, and changes nothing.
pub(super) fn inspect(path: &Path) -> Result<Found, OpenError> {
    let bytes = match first_bytes(path) {
        Ok(bytes) => bytes,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Found::Nothing),
        Err(cause) => return Err(OpenError::Io { path: path.to_owned(), cause }),
    };
    if bytes.is_empty() {
        return Ok(Found::Nothing);
    }
    let Ok(header) = <[u8; HEADER_BYTES]>::try_from(bytes.as_slice()) else {
        return Err(OpenError::Truncated { path: path.to_owned(), bytes: bytes.len() });
    };
    if !header.starts_with(MAGIC) {
        return Err(OpenError::NotADatabase { path: path.to_owned() });
    }
    let application_id = number(&header, APPLICATION_ID_AT);
    if application_id != APPLICATION_ID {
        return Err(OpenError::Foreign { path: path.to_owned(), application_id });
    }
    match number(&header, USER_VERSION_AT) {
        found if found > SCHEMA_VERSION => {
            Err(OpenError::Newer { path: path.to_owned(), found, known: SCHEMA_VERSION })
        }
        _ => Ok(Found::Ours),
    }
}

fn first_bytes(path: &Path) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::with_capacity(HEADER_BYTES);
    File::open(path)?.take(HEADER_BYTES as u64).read_to_end(&mut bytes)?;
    Ok(bytes)
}

fn number(header: &[u8; HEADER_BYTES], at: usize) -> u32 {
    u32::from_be_bytes([header[at], header[at + 1], header[at + 2], header[at + 3]])
}
