//! What a row says beside what was there: both as documents of a programme that reads.

use std::collections::BTreeMap;

use serde_json::Value;

use super::columns::{Kind, OF_BLOCK, OF_GROUP};
use super::fates::Fate;
use super::sheet::{Line, Sheet};

/// The columns of a client, with the field of each.
const CLIENT: &[(&str, &str)] = &[
    ("name", "/name"),
    ("unit", "/unit"),
    ("regular", "/regular"),
    ("show_load", "/show_load"),
    ("screened_on", "/screening/on"),
    ("screening", "/screening/result"),
];

/// The columns of an exercise.
const EXERCISE: &[(&str, &str)] = &[
    ("exercise", "/use"),
    ("reps", "/reps"),
    ("tempo", "/tempo"),
    ("load", "/load"),
    ("reserve", "/reserve"),
    ("per_side", "/per_side"),
    ("in_place", "/in_place"),
    ("technique_reps", "/technique/reps"),
    ("technique_load", "/technique/load"),
    ("technique_ramp", "/technique/ramp"),
];

/// The columns of what one client does differently.
const OWN: &[(&str, &str)] = &[
    ("reps", "/reps"),
    ("tempo", "/tempo"),
    ("load", "/load"),
    ("reserve", "/reserve"),
    ("technique_reps", "/technique_reps"),
    ("technique_load", "/technique_load"),
    ("technique_ramp", "/technique_ramp"),
];

/// What becomes of every row that is taken.
pub(super) fn fates(
    sheet: &Sheet,
    before: &Value,
    after: &Value,
    taken: impl Fn(usize) -> bool,
) -> BTreeMap<usize, Fate> {
    let rows = sheet.rows.iter().enumerate().filter(|(row, _)| taken(*row));
    match sheet.kind {
        Kind::Clients => {
            let fate = |line: &Line| {
                let number = sheet.cell(line, "number").unwrap_or_default();
                of(by_number(before, "client", number), by_number(after, "client", number), CLIENT)
            };
            rows.map(|(row, line)| (row, fate(line))).collect()
        }
        Kind::Sessions => sessions(sheet, before, after, rows),
    }
}

/// A group of a document.
pub(super) fn group<'v>(document: &'v Value, number: &str) -> Option<&'v Value> {
    by_number(document, "group", number)
}

fn by_number<'v>(document: &'v Value, list: &str, number: &str) -> Option<&'v Value> {
    document[list].as_array()?.iter().find(|one| says(&one["number"], number))
}

/// Whether a cell says this number.
pub(super) fn says(number: &Value, cell: &str) -> bool {
    number.as_u64().is_some_and(|number| cell.parse() == Ok(number))
}

/// The same thing before and after, looked at in these fields.
fn of(before: Option<&Value>, after: Option<&Value>, fields: &[(&'static str, &str)]) -> Fate {
    match (before, after) {
        (None, None) => Fate::Same,
        (None, Some(_)) => Fate::New,
        (Some(before), after) => {
            let differs =
                |field: &str| Some(before.pointer(field)) != after.map(|after| after.pointer(field));
            let columns: Vec<&str> =
                fields.iter().filter(|(_, field)| differs(field)).map(|(column, _)| *column).collect();
            if columns.is_empty() { Fate::Same } else { Fate::Changed(columns) }
        }
    }
}

/// A group of which some rows were looked at.
struct Seen<'s> {
    number: &'s str,
    first: usize,
    /// What each block's cell says, and how many exercises it has so far.
    blocks: Vec<(&'s str, usize)>,
    differs: bool,
}

fn sessions<'s>(
    sheet: &'s Sheet,
    before: &Value,
    after: &Value,
    rows: impl Iterator<Item = (usize, &'s Line)>,
) -> BTreeMap<usize, Fate> {
    let mut fates = BTreeMap::new();
    let mut seen: Vec<Seen<'s>> = Vec::new();
    for (row, line) in rows {
        let cell = |column| sheet.cell(line, column);
        let (Some(number), Some(block)) = (cell("group"), cell("block")) else { continue };
        let n = seen.iter().position(|group| group.number == number).unwrap_or_else(|| {
            seen.push(Seen { number, first: row, blocks: Vec::new(), differs: false });
            seen.len() - 1
        });
        let Some(group) = seen.get_mut(n) else { continue };
        let (was, is) = (self::group(before, number), self::group(after, number));
        let fate = if was.is_none() { Fate::New } else { group.fate(sheet, line, block, was, is) };
        group.differs |= fate != Fate::Same;
        fates.insert(row, fate);
    }
    for group in seen {
        // It has lost a block or an exercise, of which no row tells.
        let changed = self::group(before, group.number) != self::group(after, group.number);
        if changed && !group.differs {
            fates.insert(group.first, Fate::Changed(vec!["block"]));
        }
    }
    fates
}

impl<'s> Seen<'s> {
    fn fate(
        &mut self,
        sheet: &Sheet,
        line: &Line,
        block: &'s str,
        was: Option<&Value>,
        is: Option<&Value>,
    ) -> Fate {
        let first_of_block = !self.blocks.iter().any(|(other, _)| *other == block);
        let first_of_group = self.blocks.is_empty();
        if first_of_block {
            self.blocks.push((block, 0));
        }
        let Some(b) = self.blocks.iter().position(|(other, _)| *other == block) else { return Fate::Same };
        let Some((_, exercises)) = self.blocks.get_mut(b) else { return Fate::Same };
        let own = sheet.cell(line, "client");
        if own.is_none() {
            *exercises += 1;
        }
        let e = exercises.saturating_sub(1);
        let at = |group: Option<&Value>, path: &str| group.and_then(|group| group.pointer(path)).cloned();
        let (block, exercise) = (format!("/block/{b}"), format!("/block/{b}/exercise/{e}"));
        if let Some(client) = own {
            let own = |group| {
                let all = at(group, &format!("{exercise}/own"))?;
                all.as_array()?.iter().find(|own| says(&own["client"], client)).cloned()
            };
            return of(own(was).as_ref(), own(is).as_ref(), OWN);
        }
        let mut columns = Vec::new();
        if first_of_group {
            columns.extend(
                OF_GROUP.iter().filter(|name| at(was, &format!("/{name}")) != at(is, &format!("/{name}"))),
            );
        }
        if first_of_block {
            let field = |name: &str| match name {
                "rest_min" => format!("{block}/rest/0"),
                "rest_max" => format!("{block}/rest/1"),
                other => format!("{block}/{other}"),
            };
            columns.extend(OF_BLOCK.iter().filter(|name| at(was, &field(name)) != at(is, &field(name))));
        }
        match of(at(was, &exercise).as_ref(), at(is, &exercise).as_ref(), EXERCISE) {
            Fate::Changed(more) => columns.extend(more),
            Fate::New => return Fate::New,
            Fate::Same | Fate::Refused(_) => {}
        }
        if columns.is_empty() { Fate::Same } else { Fate::Changed(columns) }
    }
}
