//! Rows into the document of a programme.

use std::collections::BTreeMap;

use serde_json::{Map, Value, json};

use super::columns::{OF_BLOCK, OF_GROUP};
use super::compare::says;
use super::place::Places;
use super::problem::RowProblem;
use super::sheet::{Line, Sheet};

/// A document with rows in it, and which cell each part of it comes from.
pub(super) struct Put {
    pub(super) document: Value,
    pub(super) places: Places,
    /// Rows that could not be put anywhere.
    pub(super) refused: Vec<(usize, &'static str, RowProblem)>,
}

/// What is between the values of a list in one cell: one for each round.
const BY_ROUND: char = '/';

/// Puts the rows of clients in: cells that say something replace what is known of the client, or make a new one.
pub(super) fn clients(base: &Value, sheet: &Sheet, rows: &[usize]) -> Put {
    let mut put = Put { document: base.clone(), places: Places::default(), refused: Vec::new() };
    let mut clients = list(&mut put.document, "client");
    let mut seen: BTreeMap<&str, u64> = BTreeMap::new();
    let known = clients.iter().enumerate().map(|(place, client)| (client["number"].to_string(), place));
    let known: BTreeMap<String, usize> = known.collect();
    for (row, line) in lines(sheet, rows) {
        let cell = |column| sheet.cell(line, column);
        let number = cell("number").unwrap_or_default();
        if let Some(first) = seen.get(number).filter(|_| !number.is_empty()) {
            let problem = RowProblem::Again { found: number.to_owned(), line: *first };
            put.refused.push((row, "number", problem));
            continue;
        }
        seen.insert(number, line.line);
        let known = known.get(number).copied();
        let place = known.unwrap_or_else(|| {
            clients.push(Value::Object(Map::new()));
            clients.len() - 1
        });
        let path = format!("client[{}]", place + 1);
        put.places.add(path.clone(), row, None);
        let Some(client) = clients.get_mut(place) else { continue };
        for (column, value) in [
            ("number", cell("number").map(whole)),
            ("name", cell("name").map(Value::from)),
            ("unit", cell("unit").map(Value::from)),
            ("regular", cell("regular").map(flag)),
            ("show_load", cell("show_load").map(flag)),
        ] {
            set(client, column, value);
        }
        for (column, field) in [("screened_on", "on"), ("screening", "result")] {
            put.places.add(format!("{path}.screening.{field}"), row, Some(column));
            if let Some(said) = cell(column) {
                client["screening"][field] = said.into();
            }
        }
    }
    put.document["client"] = Value::Array(clients);
    put
}

/// Puts the rows of sessions in. A group that the table names has what the table says, and nothing else.
pub(super) fn sessions(base: &Value, sheet: &Sheet, rows: &[usize]) -> Put {
    let mut put = Put { document: base.clone(), places: Places::default(), refused: Vec::new() };
    let mut groups = list(&mut put.document, "group");
    let mut begun: Vec<Begun<'_>> = Vec::new();
    for (row, line) in lines(sheet, rows) {
        let Some(number) = sheet.cell(line, "group") else {
            put.refused.push((row, "group", RowProblem::Nothing("the number of a group")));
            continue;
        };
        let n = begun.iter().position(|group| group.number == number).unwrap_or_else(|| {
            let known = groups.iter().position(|group| says(&group["number"], number));
            let place = known.unwrap_or(groups.len());
            let fresh = json!({ "number": whole(number), "block": [] });
            match groups.get_mut(place) {
                Some(group) => *group = fresh,
                None => groups.push(fresh),
            }
            let path = format!("group[{}]", place + 1);
            put.places.add(path.clone(), row, None);
            put.places.add(format!("{path}.number"), row, Some("group"));
            begun.push(Begun { number, place, path, said: Vec::new(), blocks: Vec::new() });
            begun.len() - 1
        });
        let Some(group) = begun.get_mut(n) else { continue };
        let Some(value) = groups.get_mut(group.place) else { continue };
        if let Err((column, problem)) = group.take(value, &mut put.places, sheet, line, row) {
            put.refused.push((row, column, problem));
        }
    }
    put.document["group"] = Value::Array(groups);
    put
}

/// What has been said once, by whom: a row's number and line, the column and the cell.
type Once<'s> = Vec<(u64, &'static str, &'s str)>;

/// A group of which some rows are in.
struct Begun<'s> {
    number: &'s str,
    /// Its place in the document, from 0.
    place: usize,
    path: String,
    said: Once<'s>,
    /// Each block by what its cell says.
    blocks: Vec<(&'s str, Once<'s>)>,
}

impl<'s> Begun<'s> {
    fn take(
        &mut self,
        group: &mut Value,
        places: &mut Places,
        sheet: &'s Sheet,
        line: &'s Line,
        row: usize,
    ) -> Result<(), (&'static str, RowProblem)> {
        let Self { path, said, blocks, .. } = self;
        let block =
            sheet.cell(line, "block").ok_or(("block", RowProblem::Nothing("the number of a block")))?;
        for column in once(said, OF_GROUP, sheet, line)? {
            let cell = sheet.cell(line, column).unwrap_or_default();
            places.add(format!("{path}.{column}"), row, Some(column));
            set(group, column, Some(if column == "clients" { numbers(cell) } else { cell.into() }));
        }
        let b = blocks.iter().position(|(other, _)| *other == block).unwrap_or_else(|| {
            blocks.push((block, Vec::new()));
            blocks.len() - 1
        });
        let path = format!("{path}.block[{}]", b + 1);
        let all = group["block"].as_array_mut();
        let (Some(all), Some((_, said))) = (all, blocks.get_mut(b)) else { return Ok(()) };
        if all.len() == b {
            places.add(path.clone(), row, None);
            all.push(json!({ "exercise": [] }));
        }
        let Some(value) = all.get_mut(b) else { return Ok(()) };
        for column in once(said, OF_BLOCK, sheet, line)? {
            of_block(value, places, &path, (row, column), sheet.cell(line, column).unwrap_or_default());
        }
        exercise(value, places, &path, sheet, line, row)
    }
}

/// The columns that this row is the first to say something in. What was said is not said otherwise.
fn once<'s>(
    said: &mut Once<'s>,
    columns: &[&'static str],
    sheet: &'s Sheet,
    line: &'s Line,
) -> Result<Vec<&'static str>, (&'static str, RowProblem)> {
    let mut new = Vec::new();
    for column in columns {
        let Some(cell) = sheet.cell(line, column) else { continue };
        match said.iter().find(|(_, other, _)| other == column) {
            Some((_, _, first)) if *first == cell => {}
            Some((line, _, first)) => {
                let (found, allowed) = (cell.to_owned(), (*first).to_owned());
                return Err((column, RowProblem::Other { found, allowed, line: *line }));
            }
            None => {
                said.push((line.line, column, cell));
                new.push(*column);
            }
        }
    }
    Ok(new)
}

fn of_block(
    block: &mut Value,
    places: &mut Places,
    path: &str,
    (row, column): (usize, &'static str),
    cell: &str,
) {
    let field = match column {
        "rest_min" => "rest[1]",
        "rest_max" => "rest[2]",
        other => other,
    };
    places.add(format!("{path}.{field}"), row, Some(column));
    match column {
        "rest_min" | "rest_max" => {
            let place = usize::from(column == "rest_max");
            if !block["rest"].is_array() {
                block["rest"] = json!(["", ""]);
                places.add(format!("{path}.rest"), row, Some("rest_min"));
            }
            block["rest"][place] = cell.into();
        }
        "rounds" => set(block, column, Some(whole(cell))),
        _ => set(block, column, Some(cell.into())),
    }
}

/// An exercise, or what one client does differently in the one before of the same name.
fn exercise(
    block: &mut Value,
    places: &mut Places,
    path: &str,
    sheet: &Sheet,
    line: &Line,
    row: usize,
) -> Result<(), (&'static str, RowProblem)> {
    let cell = |column| sheet.cell(line, column);
    let named = cell("exercise").ok_or(("exercise", RowProblem::Nothing("the key of an exercise")))?;
    let Some(exercises) = block["exercise"].as_array_mut() else { return Ok(()) };
    let plain = [
        ("reps", cell("reps").map(|cell| by_round(cell, whole))),
        ("tempo", cell("tempo").map(Value::from)),
        ("load", cell("load").map(|cell| by_round(cell, |part| part.into()))),
        ("reserve", cell("reserve").map(whole)),
        ("per_side", cell("per_side").map(flag)),
        ("in_place", cell("in_place").map(flag)),
    ];
    let technique = [
        ("technique_reps", "reps", cell("technique_reps").map(whole)),
        ("technique_load", "load", cell("technique_load").map(Value::from)),
        ("technique_ramp", "ramp", cell("technique_ramp").map(flag)),
    ];
    let (value, path) = if let Some(client) = cell("client") {
        let last = exercises.iter().rposition(|exercise| exercise["use"] == named);
        let Some((n, exercise)) = last.and_then(|n| Some((n, exercises.get_mut(n)?))) else {
            return Err(("client", RowProblem::NoExercise));
        };
        let own = list(exercise, "own");
        let path = format!("{path}.exercise[{}].own[{}]", n + 1, own.len() + 1);
        let mut one = json!({ "client": whole(client) });
        technique.into_iter().for_each(|(column, _, said)| set(&mut one, column, said));
        exercise["own"] = own.into_iter().chain([one]).collect();
        (exercise["own"].as_array_mut().and_then(|own| own.last_mut()), path)
    } else {
        let path = format!("{path}.exercise[{}]", exercises.len() + 1);
        let mut one = json!({ "use": named });
        places.add(format!("{path}.use"), row, Some("exercise"));
        for (column, field, said) in technique {
            places.add(format!("{path}.technique.{field}"), row, Some(column));
            if let Some(said) = said {
                one["technique"][field] = said;
            }
        }
        exercises.push(one);
        (exercises.last_mut(), path)
    };
    places.add(path, row, None);
    if let Some(value) = value {
        plain.into_iter().for_each(|(column, said)| set(value, column, said));
    }
    Ok(())
}

fn lines<'s>(sheet: &'s Sheet, rows: &'s [usize]) -> impl Iterator<Item = (usize, &'s Line)> {
    rows.iter().filter_map(|row| Some((*row, sheet.rows.get(*row)?)))
}

/// The list of a field, taken out; none at all is a list of nothing.
fn list(of: &mut Value, name: &str) -> Vec<Value> {
    match of[name].take() {
        Value::Array(list) => list,
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) | Value::Object(_) => Vec::new(),
    }
}

fn set(table: &mut Value, name: &str, value: Option<Value>) {
    if let Some(value) = value {
        table[name] = value;
    }
}

/// A whole number, or the text as it stands: then the reader says what was found.
fn whole(cell: &str) -> Value {
    cell.parse::<i64>().map_or_else(|_| cell.into(), Value::from)
}

fn flag(cell: &str) -> Value {
    cell.parse::<bool>().map_or_else(|_| cell.into(), Value::from)
}

/// Numbers with blanks between.
fn numbers(cell: &str) -> Value {
    cell.split_whitespace().map(whole).collect()
}

/// One value for all rounds, or one for each with `/` between.
fn by_round(cell: &str, value: impl Fn(&str) -> Value) -> Value {
    if cell.contains(BY_ROUND) {
        cell.split(BY_ROUND).map(|part| value(part.trim())).collect()
    } else {
        value(cell)
    }
}
