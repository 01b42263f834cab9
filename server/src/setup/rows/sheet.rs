//! From the bytes of a table to rows of text.

use csv::{ReaderBuilder, StringRecord};

use super::columns::Kind;
use super::limits;
use super::problem::SheetProblem;
use crate::setup::form::shortened;
use crate::setup::suggest;

/// A table as rows of text.
pub(super) struct Sheet {
    pub(super) kind: Kind,
    header: Vec<String>,
    pub(super) rows: Vec<Line>,
}

/// One row.
pub(super) struct Line {
    /// The line of the file on which it begins, from 1.
    pub(super) line: u64,
    cells: Vec<String>,
}

/// The marks with which text of two bytes a character begins (RFC 2781, section 3.2).
const UTF_16: [&[u8]; 2] = [&[0xfe, 0xff], &[0xff, 0xfe]];

impl Sheet {
    /// Reads a table. Cells stand between commas, or between semicolons where the header has no comma: so spreadsheets
    /// write them where a comma is the decimal mark.
    pub(super) fn read(bytes: &[u8]) -> Result<Self, SheetProblem> {
        if UTF_16.iter().any(|mark| bytes.starts_with(mark)) {
            return Err(SheetProblem::Utf16);
        }
        let text = std::str::from_utf8(bytes)
            .map_err(|error| SheetProblem::NotUtf8 { byte: error.valid_up_to() + 1 })?;
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let first = text.lines().next().unwrap_or_default();
        let delimiter = if !first.contains(',') && first.contains(';') { b';' } else { b',' };
        let mut reader = ReaderBuilder::new()
            .delimiter(delimiter)
            .has_headers(false)
            .flexible(true)
            .from_reader(text.as_bytes());
        let mut record = StringRecord::new();
        // Text that is UTF-8 and rows of any length: nothing is left that could fail.
        let mut next = |record: &mut StringRecord| reader.read_record(record).unwrap_or(false);
        if !next(&mut record) {
            return Err(SheetProblem::Empty);
        }
        let header: Vec<String> = cells(&record).map(|name| name.to_ascii_lowercase()).collect();
        let kind = check(&header)?;
        let mut rows = Vec::new();
        let mut lines = LineOf { text, byte: 0, line: 1 };
        while next(&mut record) {
            if rows.len() == limits::ROWS {
                return Err(SheetProblem::TooManyRows);
            }
            let line = lines.of(record.position().map_or(0, csv::Position::byte));
            // A spreadsheet leaves rows of nothing but commas where something was deleted.
            if record.iter().any(|cell| !cell.trim().is_empty()) {
                rows.push(Line { line, cells: cells(&record).collect() });
            }
        }
        Ok(Self { kind, header, rows })
    }

    /// How many cells every row should have.
    pub(super) fn width(&self) -> usize {
        self.header.len()
    }

    /// A cell, if it is there and says something.
    pub(super) fn cell<'l>(&self, line: &'l Line, column: &str) -> Option<&'l str> {
        let place = self.header.iter().position(|name| name == column)?;
        line.cells.get(place).map(String::as_str).filter(|cell| !cell.is_empty())
    }
}

/// Counts lines as records come, which the reader of CSV does too, but not past the end of a line of two characters.
struct LineOf<'t> {
    text: &'t str,
    byte: usize,
    line: u64,
}

impl LineOf<'_> {
    /// The line on which a record begins whose place is this byte or, where that is the end of the line before, after it.
    fn of(&mut self, byte: u64) -> u64 {
        let byte = usize::try_from(byte).unwrap_or(usize::MAX);
        let rest = self.text.get(byte..).unwrap_or_default();
        let begins = byte + (rest.len() - rest.trim_start_matches(['\r', '\n']).len());
        let passed = self.text.get(self.byte..begins).unwrap_or_default();
        self.line += passed.bytes().map(|byte| u64::from(byte == b'\n')).sum::<u64>();
        self.byte = begins;
        self.line
    }
}

impl Line {
    /// How many cells it has.
    pub(super) fn width(&self) -> usize {
        self.cells.len()
    }
}

fn cells(record: &StringRecord) -> impl Iterator<Item = String> + '_ {
    record.iter().take(limits::CELLS).map(|cell| cell.trim().to_owned())
}

fn check(header: &[String]) -> Result<Kind, SheetProblem> {
    let kind = Kind::of(header).ok_or(SheetProblem::NoKind)?;
    let columns = kind.columns();
    for (n, name) in header.iter().enumerate() {
        if !columns.contains(&name.as_str()) {
            let meant = suggest::meant(name, columns.iter().copied());
            let meant = meant.and_then(|meant| columns.iter().find(|column| **column == meant)).copied();
            return Err(SheetProblem::UnknownColumn { found: shortened(name), allowed: columns, meant });
        }
        if header.iter().take(n).any(|before| before == name) {
            return Err(SheetProblem::Twice(name.clone()));
        }
    }
    match kind.needed().iter().find(|needed| !header.iter().any(|name| name == *needed)) {
        Some(needed) => Err(SheetProblem::MissingColumn(needed)),
        None => Ok(kind),
    }
}
