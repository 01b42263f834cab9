//! No text stops the reader, and every mistake it tells has a place in the text.

use std::sync::LazyLock;

use proptest::prelude::*;
use turnabout_server::floor::config::Floor;
use turnabout_server::setup::{Mistakes, limits, parse_floor, parse_programme, read_pair, report};

use crate::small::{FLOOR, PROGRAMME, floor};

/// The floor of the examples.
static EXAMPLE: LazyLock<Floor> = LazyLock::new(|| {
    parse_floor("floor.toml", include_str!("../../examples/floor.toml"), None).expect("an example").floor
});

fn has_places(text: &str, mistakes: &Mistakes) {
    assert!(!mistakes.list().is_empty() && mistakes.list().len() <= limits::MISTAKES);
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    for mistake in mistakes.list() {
        let place = mistake.place.as_ref().expect("a mistake in a text has a place");
        assert!(text.get(place.bytes.clone()).is_some(), "{place:?}");
        assert!(place.line >= 1 && place.line <= text.matches('\n').count() + 1);
        assert!(place.column >= 1);
    }
    assert!(!report::picture(mistakes, report::Look::Plain).is_empty());
}

fn check(text: &str) {
    if let Err(mistakes) = parse_floor("floor.toml", text, None) {
        has_places(text, &mistakes);
    }
    for floor in [&floor().floor, &EXAMPLE] {
        if let Err(mistakes) = parse_programme("programme.toml", text, floor) {
            has_places(text, &mistakes);
        }
    }
}

const FILES: [&str; 5] = [
    FLOOR,
    PROGRAMME,
    include_str!("../../examples/floor.toml"),
    include_str!("../../examples/programme.toml"),
    include_str!("../../examples/evening.toml"),
];

/// Pieces that mean something to the format, so that changes go deep.
const PIECES: [&str; 23] = [
    "\"",
    "[",
    "]",
    "[[station]]\n",
    "{",
    "}",
    "= 0\n",
    "\"-1 kg\"",
    "99999999999999999999",
    "nan",
    "\r",
    "\u{feff}",
    "\u{1f3cb}",
    "1979-05-27",
    "07:32",
    "\"8-12\"",
    "[1, 2]",
    "in_place = true\n",
    "\"99.5 %\"",
    "\"by-reserve\"",
    "[[client.earlier]]\n",
    "\n\n",
    "'''",
];

proptest! {
    #[test]
    fn any_text(text in "\\PC{0,200}|[ -~\n\r\t\\[\\]=\"{},.]{0,200}") {
        check(&text);
    }

    #[test]
    fn a_changed_file(
        file in prop::sample::select(&FILES[..]),
        changes in prop::collection::vec((any::<prop::sample::Index>(), 0_usize..30, prop::sample::select(&PIECES[..])), 1..4),
    ) {
        let mut text: Vec<char> = file.chars().collect();
        for (at, gone, piece) in changes {
            let at = at.index(text.len() + 1);
            let end = (at + gone).min(text.len());
            text.splice(at..end, piece.chars());
        }
        check(&text.into_iter().collect::<String>());
    }

    /// Whatever bytes are on the disk.
    #[test]
    fn changed_bytes(
        file in prop::sample::select(&FILES[..]),
        changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..5),
    ) {
        let mut bytes = file.as_bytes().to_vec();
        for (at, byte) in changes {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        let folder = tempfile::tempdir().expect("a temporary folder");
        let path = folder.path().join("file.toml");
        std::fs::write(&path, &bytes).expect("a temporary file");
        for mistakes in read_pair(&path, Some(&path), None).err().into_iter().flatten() {
            has_places(&String::from_utf8_lossy(&bytes), &mistakes);
        }
    }
}

#[test]
fn more_mistakes_than_anybody_mends_are_counted() {
    let text: String = (0..250).map(|n| format!("field{n} = 1\n")).collect();
    let mistakes = parse_programme("programme.toml", &text, &floor().floor).unwrap_err();
    assert_eq!((mistakes.list().len(), mistakes.left_out()), (100, 150));
    assert!(mistakes.to_string().ends_with("\nprogramme.toml: and 150 more"));
}
