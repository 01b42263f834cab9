//! From a path to text: the only part that touches the disk.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use super::limits;
use super::mistake::{Mistake, Mistakes};
use super::problem::Problem;
use super::spot::Place;

/// The text of a file of at most [`limits::FILE_BYTES`].
pub(super) fn text_of(path: &Path) -> Result<String, Mistakes> {
    let name = path.display().to_string();
    let whole =
        |problem| Mistakes::new(&name, "", vec![Mistake { place: None, field: String::new(), problem }]);
    let bytes = bytes_of(path).map_err(|e| whole(Problem::Unreadable(e.kind())))?;
    if bytes.len() as u64 > limits::FILE_BYTES {
        return Err(whole(Problem::TooLarge));
    }
    String::from_utf8(bytes).map_err(|e| {
        let good = e.utf8_error().valid_up_to();
        let bytes = e.into_bytes();
        let before = String::from_utf8_lossy(bytes.get(..good).unwrap_or_default());
        let place = Place::of(&before, good..good);
        // The text up to there is enough for the picture of the place, and it is text.
        let mistake = Mistake {
            place: Some(place),
            field: String::new(),
            problem: Problem::NotUtf8 { byte: good + 1 },
        };
        Mistakes::new(&name, &before, vec![mistake])
    })
}

/// At most one byte more than allowed, so that a wrong path to something endless does no harm.
fn bytes_of(path: &Path) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    File::open(path)?.take(limits::FILE_BYTES + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}
