//! From a path to text: the only part that touches the disk.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use super::limits;
use super::lines::Lines;
use super::mistake::{Mistake, Mistakes};
use super::problem::Problem;

/// The marks with which text of two bytes a character begins (RFC 2781, section 3.2).
const UTF_16: [[u8; 2]; 2] = [[0xfe, 0xff], [0xff, 0xfe]];

/// The text of a file of at most [`limits::FILE_BYTES`].
pub(super) fn text_of(path: &Path) -> Result<String, Mistakes> {
    let name = path.display().to_string();
    let whole = |problem| Mistakes::new(&name, "", vec![Mistake::of_the_file(problem)], 0);
    let bytes = bytes_of(path).map_err(|e| whole(Problem::Unreadable(e.kind())))?;
    if bytes.len() as u64 > limits::FILE_BYTES {
        return Err(whole(Problem::TooLarge));
    }
    if UTF_16.iter().any(|mark| bytes.starts_with(mark)) {
        return Err(whole(Problem::Utf16));
    }
    String::from_utf8(bytes).map_err(|e| not_text(&name, e.as_bytes()))
}

/// Every byte that is not text, each shown as one character that stands for it.
fn not_text(name: &str, bytes: &[u8]) -> Mistakes {
    let mut text = String::with_capacity(bytes.len());
    let mut at = 0;
    let mut wrong = Vec::new();
    for chunk in bytes.utf8_chunks() {
        text.push_str(chunk.valid());
        at += chunk.valid().len();
        if !chunk.invalid().is_empty() {
            wrong.push((text.len()..text.len() + 1, at + 1));
            text.push(char::REPLACEMENT_CHARACTER);
            at += chunk.invalid().len();
        }
    }
    let lines = Lines::new(&text);
    let told = wrong.iter().take(limits::MISTAKES).map(|(bytes, byte)| Mistake {
        place: Some(lines.place(bytes)),
        field: String::new(),
        problem: Problem::NotUtf8 { byte: *byte },
    });
    Mistakes::new(name, &text, told.collect(), wrong.len().saturating_sub(limits::MISTAKES))
}

/// At most one byte more than allowed, so that a wrong path to something endless does no harm.
fn bytes_of(path: &Path) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    File::open(path)?.take(limits::FILE_BYTES + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}
