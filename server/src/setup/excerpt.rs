//! The text around a mistake, as the picture shows it: a few lines, and of a long line only a piece.

use std::fmt;

use miette::{MietteError, MietteSpanContents, SourceCode, SourceSpan, SpanContents};

/// Bytes of a line that are shown before and after a place; a line may be as long as the file.
const AROUND: usize = 80;
/// Bytes of the line before and the line after; longer ones are left out.
const NEIGHBOUR: usize = 120;

/// The text of a file and its name.
#[derive(Clone)]
pub(super) struct Source {
    name: String,
    text: String,
}

impl Source {
    pub(super) fn new(name: &str, text: &str) -> Self {
        Self { name: name.to_owned(), text: harmless(text) }
    }

    pub(super) fn name(&self) -> &str {
        &self.name
    }

    /// Where the excerpt around these bytes begins and ends.
    fn window(&self, start: usize, end: usize) -> (usize, usize) {
        let text = self.text.as_str();
        let line_start = line_start(text, start);
        let line_end = line_end(text, end);
        let from = if start - line_start > AROUND {
            text.floor_char_boundary(start - AROUND)
        } else {
            let before = line_start.checked_sub(1).map(|newline| self::line_start(text, newline));
            before.filter(|before| line_start - before <= NEIGHBOUR).unwrap_or(line_start)
        };
        let to = if line_end - end > AROUND {
            text.floor_char_boundary(end + AROUND)
        } else {
            let next = (line_end + 1).min(text.len());
            let after = self::line_end(text, next);
            if after - next <= NEIGHBOUR { after } else { line_end }
        };
        (from, to)
    }
}

fn line_start(text: &str, at: usize) -> usize {
    text.get(..at).and_then(|before| before.rfind('\n')).map_or(0, |newline| newline + 1)
}

fn line_end(text: &str, at: usize) -> usize {
    text.get(at..).and_then(|after| after.find('\n')).map_or(text.len(), |newline| at + newline)
}

/// The text with every character that a terminal obeys replaced by one of as many bytes that it shows.
fn harmless(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    let mut characters = text.chars().peekable();
    while let Some(c) = characters.next() {
        shown.push(match c {
            '\n' | '\t' => c,
            '\r' if characters.peek() == Some(&'\n') => c,
            c if c.is_ascii_control() => '?',
            c if c.is_control() => '\u{b7}',
            // Marks that turn the direction of what follows.
            '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}' => '\u{fffd}',
            c => c,
        });
    }
    shown
}

impl fmt::Debug for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Source").field("name", &self.name).field("bytes", &self.text.len()).finish()
    }
}

impl SourceCode for Source {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        lines_before: usize,
        _: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let (start, end) = (span.offset(), span.offset() + span.len());
        // Without lines around it, the drawing asks for the place itself.
        let (from, to) = if lines_before == 0 { (start, end) } else { self.window(start, end) };
        let text = self.text.get(from..to).ok_or(MietteError::OutOfBounds)?;
        let before = self.text.get(..from).unwrap_or_default();
        let column = before.get(line_start(before, from)..).unwrap_or_default().chars().count();
        let contents = MietteSpanContents::new_named(
            self.name.clone(),
            text.as_bytes(),
            (from, text.len()).into(),
            before.bytes().filter(|byte| *byte == b'\n').count(),
            column,
            text.matches('\n').count() + 1,
        );
        Ok(Box::new(contents))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_terminal_would_obey_is_shown_and_keeps_its_place() {
        let text = "a\u{1b}[2Jb\0\u{85}\u{202e}c\rd\r\n\te";
        let shown = harmless(text);
        assert_eq!(shown, "a?[2Jb?\u{b7}\u{fffd}c?d\r\n\te");
        assert_eq!(shown.len(), text.len());
    }

    #[test]
    fn of_a_long_line_a_piece_is_shown() {
        let text = format!("before\n{}\u{e9}!{}\nafter\n", "x".repeat(1_000), "y".repeat(1_000));
        let at = text.find('!').unwrap();
        let (from, to) = Source::new("f", &text).window(at, at + 1);
        assert_eq!(&text[from..to], format!("{}\u{e9}!{}", "x".repeat(78), "y".repeat(80)));
        // A short one has its neighbours.
        let (from, to) = Source::new("f", "one\ntwo\nthree\nfour\n").window(4, 6);
        assert_eq!((from, to), (0, 13));
        assert_eq!(Source::new("f", "").window(0, 0), (0, 0));
    }
}
