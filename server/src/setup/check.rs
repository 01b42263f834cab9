//! Both files together, so that one look tells all.

use std::path::Path;

use super::floor_file::{FloorFile, parse_floor};
use super::mistake::Mistakes;
use super::programme_file::{ProgrammeFile, check_programme_alone, parse_programme};
use super::source;
use crate::floor::config::Floor;

/// What a floor file and a programme file say.
#[derive(Clone, Debug, PartialEq)]
pub struct FilePair {
    /// The floor.
    pub floor: FloorFile,
    /// The evening; absent where there is no programme file.
    pub programme: Option<ProgrammeFile>,
}

/// Reads a floor file and a programme file. Numbers of keys that `known` has stay as they are; see
/// [`parse_floor`].
///
/// Where the floor file has mistakes, the programme is looked at all the same for those that do not depend on
/// the floor.
///
/// # Errors
/// Every mistake in either file, by file.
pub fn read_pair(
    floor: &Path,
    programme: Option<&Path>,
    known: Option<&Floor>,
) -> Result<FilePair, Vec<Mistakes>> {
    let name = |path: &Path| path.display().to_string();
    let floor = source::text_of(floor).and_then(|text| parse_floor(&name(floor), &text, known));
    let programme = programme.map(|path| (name(path), source::text_of(path)));
    let floor = match floor {
        Ok(floor) => floor,
        Err(mistakes) => {
            let alone = programme
                .and_then(|(file, text)| text.and_then(|text| check_programme_alone(&file, &text)).err());
            return Err([Some(mistakes), alone].into_iter().flatten().collect());
        }
    };
    let programme = programme.map(|(file, text)| parse_programme(&file, &text?, &floor.floor)).transpose();
    match programme {
        Ok(programme) => Ok(FilePair { floor, programme }),
        Err(mistakes) => Err(vec![mistakes]),
    }
}
