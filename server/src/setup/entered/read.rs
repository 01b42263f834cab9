//! From JSON to the text of a programme file, and through its reader.

use serde_json::Value;
use toml::value::Datetime;
use turnabout_protocol::ids::ClientId;

use super::ENTERED;
use super::write::document_of;
use crate::floor::config::{Floor, Names, Person, Programme};
use crate::setup::mistake::{Mistake, Mistakes};
use crate::setup::problem::Problem;
use crate::setup::programme_file::{self, ProgrammeFile};

/// The fields that hold a day of the calendar, which TOML has a form of its own for and JSON has not.
const DAYS: [&str; 2] = ["date", "on"];

/// Reads a programme as a page sends it; `floor` is what it may refer to. Its mistakes are told by their fields, whose
/// lists count from 1 as in those of a file: `group[2].block[1].rest[1]`.
///
/// # Errors
/// Every mistake in it.
pub fn parse_entered(document: &Value, floor: &Floor) -> Result<ProgrammeFile, Mistakes> {
    let whole = |problem| Mistakes::new(ENTERED, "", vec![Mistake::of_the_file(problem)], 0);
    let Some(toml::Value::Table(table)) = as_toml(document, "") else {
        return Err(whole(Problem::NoDocument));
    };
    let text = toml::to_string(&table).map_err(|error| whole(Problem::Syntax(error.to_string())))?;
    programme_file::parse_by_field(ENTERED, &text, floor)
}

/// Looks whether a programme that was entered beside one floor file goes with another one, as a programme file would
/// have to; `known` is the floor it was entered for. Names that were erased since are no mistake.
///
/// # Errors
/// Everything that does not go with it.
pub fn check_entered(
    programme: &Programme,
    names: &Names,
    known: &Floor,
    floor: &Floor,
) -> Result<(), Mistakes> {
    let named = |client: &ClientId| names.contains_key(&Person::Client(*client));
    let nameless = programme.clients.keys().filter(|client| !named(client));
    let mut names = names.clone();
    names.extend(nameless.map(|client| (Person::Client(*client), client.to_string())).collect::<Names>());
    parse_entered(&document_of(programme, &names, known), floor).map(|_| ())
}

/// The same as a value of a file; nothing for null, which is a field that is left out.
fn as_toml(value: &Value, name: &str) -> Option<toml::Value> {
    Some(match value {
        Value::Null => return None,
        Value::Bool(flag) => toml::Value::Boolean(*flag),
        Value::Number(number) => match number.as_i64() {
            Some(whole) => toml::Value::Integer(whole),
            // Beyond any number that is asked for: a whole one is told about like one with a fraction.
            None => toml::Value::Float(number.as_f64()?),
        },
        Value::String(text) => {
            day(text).filter(|_| DAYS.contains(&name)).unwrap_or_else(|| toml::Value::String(text.clone()))
        }
        Value::Array(items) => {
            // Nothing in a list stands for something all the same: the places after it must not move.
            let nothing = || toml::Value::String(String::new());
            let items = items.iter().map(|item| as_toml(item, name).unwrap_or_else(nothing));
            toml::Value::Array(items.collect())
        }
        Value::Object(fields) => {
            let fields =
                fields.iter().filter_map(|(name, field)| Some((name.clone(), as_toml(field, name)?)));
            toml::Value::Table(fields.collect())
        }
    })
}

/// A day and nothing else.
fn day(text: &str) -> Option<toml::Value> {
    match text.parse().ok()? {
        day @ Datetime { date: Some(_), time: None, offset: None } => Some(toml::Value::Datetime(day)),
        Datetime { .. } => None,
    }
}
