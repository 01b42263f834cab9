//! What becomes of every row of a table.

use std::collections::BTreeMap;
use std::fmt;

use serde_json::Value;
use turnabout_protocol::entry::Told;
use turnabout_protocol::ids::GroupId;

use super::columns::Kind;
use super::compare;
use super::problem::{RowProblem, SheetProblem};
use super::put::{self, Put};
use super::sheet::Sheet;
use crate::floor::config::{Floor, Names, Programme};
use crate::setup::entered::{document_of, parse_entered};
use crate::setup::mistake::Mistakes;
use crate::setup::problem::Problem;
use crate::setup::programme_file::ProgrammeFile;

/// Times that rows are taken out and the rest is read again: each tells of a hundred mistakes.
const READINGS: usize = 20;

/// What becomes of a row.
#[derive(Clone, Debug, PartialEq)]
pub enum Fate {
    /// What it says is not there yet.
    New,
    /// What it says is there otherwise: in these columns.
    Changed(Vec<&'static str>),
    /// What it says is there.
    Same,
    /// It is left out.
    Refused(Vec<Reason>),
}

/// Why a row is refused.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// The column; empty where it is about the row as a whole.
    pub column: String,
    /// What was found and what is allowed.
    pub why: Why,
}

/// What is wrong with a row.
#[derive(Clone, Debug, PartialEq)]
pub enum Why {
    /// The row itself.
    Row(RowProblem),
    /// What it says.
    Says(Problem),
}

impl Why {
    /// The same for a page.
    #[must_use]
    pub fn on_page(&self) -> Told {
        match self {
            Self::Row(problem) => problem.on_page(),
            Self::Says(problem) => problem.on_page(),
        }
    }
}

impl fmt::Display for Why {
    /// In the words of files, with what may help.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Row(problem) => problem.fmt(f),
            Self::Says(problem) => match problem.hint() {
                Some(hint) => write!(f, "{problem} ({hint})"),
                None => problem.fmt(f),
            },
        }
    }
}

/// A row and what becomes of it.
#[derive(Clone, Debug, PartialEq)]
pub struct RowFate {
    /// The line of the table on which it begins, from 1.
    pub line: u64,
    /// What becomes of it.
    pub fate: Fate,
}

/// A table that was read.
#[derive(Debug)]
pub struct Table {
    /// What its rows are.
    pub kind: Kind,
    /// Every row, in order.
    pub rows: Vec<RowFate>,
    /// The programme with all rows that are not refused.
    ///
    /// # Errors
    /// Mistakes that no row of the table makes: they are in what the floor has, or come of it together with the table.
    pub file: Result<ProgrammeFile, Mistakes>,
}

impl Table {
    /// Whether no row is refused.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        !self.rows.iter().any(|row| matches!(row.fate, Fate::Refused(_)))
    }
}

/// Reads a table into the programme that the floor has; `begun` are the groups whose part of it must stay.
///
/// # Errors
/// Why it is no table of clients or sessions at all.
pub fn read_table(
    bytes: &[u8],
    programme: &Programme,
    names: &Names,
    begun: &[GroupId],
    floor: &Floor,
) -> Result<Table, SheetProblem> {
    let sheet = Sheet::read(bytes)?;
    let base = document_of(programme, names, floor);
    let mut refused = ragged(&sheet);
    let mut readings = 0;
    // Every time rows are refused the rest is read again, until all of the rest goes together.
    let file = loop {
        half(&sheet, &mut refused);
        if readings == READINGS {
            (0..sheet.rows.len()).for_each(|row| {
                refused.entry(row).or_insert_with(|| vec![Reason::of("", RowProblem::NotRead)]);
            });
        }
        readings += 1;
        let before = refused.len();
        let Some(file) = read(&sheet, &base, floor, &mut refused) else { continue };
        if let Ok(file) = &file {
            let after = document_of(&file.programme, &file.names, floor);
            keep_begun(&sheet, (&base, &after), begun, &mut refused);
        }
        if refused.len() == before {
            break file;
        }
    };
    let after = file.as_ref().map(|file| document_of(&file.programme, &file.names, floor));
    let mut fates =
        compare::fates(&sheet, &base, after.as_ref().unwrap_or(&base), |row| !refused.contains_key(&row));
    let rows = sheet.rows.iter().enumerate().map(|(row, line)| {
        let fate = refused.remove(&row).map(Fate::Refused).or_else(|| fates.remove(&row));
        RowFate { line: line.line, fate: fate.unwrap_or(Fate::Same) }
    });
    Ok(Table { kind: sheet.kind, rows: rows.collect(), file })
}

type Refused = BTreeMap<usize, Vec<Reason>>;

impl Reason {
    fn of(column: &str, problem: RowProblem) -> Self {
        Self { column: column.to_owned(), why: Why::Row(problem) }
    }
}

fn ragged(sheet: &Sheet) -> Refused {
    let wrong = sheet.rows.iter().enumerate().filter(|(_, line)| line.width() != sheet.width());
    let problem = |found| RowProblem::Ragged { found, allowed: sheet.width() };
    wrong.map(|(row, line)| (row, vec![Reason::of("", problem(line.width()))])).collect()
}

/// Reads the programme with the rows that are not refused, and refuses those with a mistake. Nothing where a row has no
/// place in it: what is wrong with the rest is told without that row.
fn read(
    sheet: &Sheet,
    base: &Value,
    floor: &Floor,
    refused: &mut Refused,
) -> Option<Result<ProgrammeFile, Mistakes>> {
    let rows: Vec<usize> = (0..sheet.rows.len()).filter(|row| !refused.contains_key(row)).collect();
    let Put { document, places, refused: misplaced } = match sheet.kind {
        Kind::Clients => put::clients(base, sheet, &rows),
        Kind::Sessions => put::sessions(base, sheet, &rows),
    };
    if !misplaced.is_empty() {
        for (row, column, problem) in misplaced {
            refused.entry(row).or_default().push(Reason::of(column, problem));
        }
        return None;
    }
    let read = parse_entered(&document, floor);
    for mistake in read.as_ref().err().into_iter().flat_map(Mistakes::list) {
        if let Some((row, column)) = places.of(&mistake.field) {
            refused.entry(row).or_default().push(Reason { column, why: Why::Says(mistake.problem.clone()) });
        }
    }
    Some(read)
}

/// Where a row of a session is refused, all of its group are.
fn half(sheet: &Sheet, refused: &mut Refused) {
    if sheet.kind != Kind::Sessions {
        return;
    }
    let group = |row: usize| sheet.rows.get(row).and_then(|line| sheet.cell(line, "group"));
    let mut first: BTreeMap<&str, u64> = BTreeMap::new();
    for row in refused.keys() {
        if let (Some(group), Some(line)) = (group(*row), sheet.rows.get(*row)) {
            first.entry(group).or_insert(line.line);
        }
    }
    for row in 0..sheet.rows.len() {
        if let Some(line) = group(row).and_then(|group| first.get(group)) {
            refused.entry(row).or_insert_with(|| vec![Reason::of("", RowProblem::Half { line: *line })]);
        }
    }
}

/// Refuses what would change a group that has begun.
fn keep_begun(sheet: &Sheet, (before, after): (&Value, &Value), begun: &[GroupId], refused: &mut Refused) {
    if sheet.kind != Kind::Sessions {
        return;
    }
    for group in begun {
        let number = group.to_string();
        if compare::group(before, &number) == compare::group(after, &number) {
            continue;
        }
        for (row, line) in sheet.rows.iter().enumerate() {
            if sheet.cell(line, "group") == Some(&number) {
                let reason = || vec![Reason::of("group", RowProblem::Begun(*group))];
                refused.entry(row).or_insert_with(reason);
            }
        }
    }
}
