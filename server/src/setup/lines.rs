//! The lines of a text: found once, so that a file of many mistakes is told as fast as one of few.

use std::ops::Range;

use super::spot::Place;

/// Bytes of a place that are underlined at most: a string may be as long as the file.
const COVERED: usize = 80;

/// A text and where its lines begin.
pub(super) struct Lines<'t> {
    text: &'t str,
    starts: Vec<usize>,
}

impl<'t> Lines<'t> {
    pub(super) fn new(text: &'t str) -> Self {
        let after = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').map(|(at, _)| at + 1);
        Self { text, starts: std::iter::once(0).chain(after).collect() }
    }

    /// The line of this byte, from 1.
    pub(super) fn line(&self, byte: usize) -> usize {
        self.starts.partition_point(|start| *start <= byte)
    }

    /// The place of these bytes; a start inside a character counts as that character's.
    pub(super) fn place(&self, bytes: &Range<usize>) -> Place {
        let start = self.text.floor_char_boundary(bytes.start);
        let line = self.line(start);
        let line_start = self.starts.get(line - 1).copied().unwrap_or(0);
        let column = self.text.get(line_start..start).unwrap_or_default().chars().count() + 1;
        let rest = self.text.get(start..).unwrap_or_default();
        let line_end = start + rest.find(['\r', '\n']).unwrap_or(rest.len());
        let end = bytes.end.min(line_end).min(start + COVERED).max(start);
        Place { line, column, bytes: start..self.text.ceil_char_boundary(end) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tabs_and_wide_characters_are_one_column_each() {
        // From outside: U+1F3CB is four bytes in UTF-8 (RFC 3629, section 3) and two columns on a terminal.
        let text = "a = 1\r\n\t\"\u{1f3cb}\" = 2\n";
        let at = |needle: &str| {
            let start = text.find(needle).unwrap();
            let place = Lines::new(text).place(&(start..start + 1));
            (place.line, place.column)
        };
        assert_eq!((at("a"), at("1"), at("\""), at("2")), ((1, 1), (1, 5), (2, 2), (2, 8)));
    }

    #[test]
    fn a_place_stays_in_its_line_and_in_the_text() {
        let text = "one\r\ntwo\nthree";
        let place = |bytes| Lines::new(text).place(&bytes);
        assert_eq!(place(1..12), Place { line: 1, column: 2, bytes: 1..3 });
        assert_eq!(place(9..99), Place { line: 3, column: 1, bytes: 9..14 });
        assert_eq!(place(50..60), Place { line: 3, column: 6, bytes: 14..14 });
        // A start inside a character.
        assert_eq!(Lines::new("\u{e9}=").place(&(1..3)), Place { line: 1, column: 1, bytes: 0..3 });
        assert_eq!(Lines::new("").place(&(0..0)), Place { line: 1, column: 1, bytes: 0..0 });
    }

    #[test]
    fn a_long_value_is_not_underlined_to_its_end() {
        let text = "x".repeat(1_000_000);
        assert_eq!(Lines::new(&text).place(&(0..1_000_000)).bytes, 0..COVERED);
    }
}
