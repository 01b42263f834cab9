//! Changes of a document that may make it none of the format.

use serde_json::{Value, json};

use crate::dice::Dice;

/// The places of a document, as RFC 6901 names them.
fn places(value: &Value, at: &str, found: &mut Vec<String>) {
    let mut inside = |name: &str, value: &Value| {
        let at = format!("{at}/{name}");
        places(value, &at, found);
        found.push(at);
    };
    match value {
        Value::Object(fields) => fields.iter().for_each(|(name, value)| inside(name, value)),
        Value::Array(list) => list.iter().enumerate().for_each(|(at, value)| inside(&at.to_string(), value)),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

/// What may stand in the place of something else.
fn something(dice: &mut Dice) -> Value {
    let values = [
        json!(null),
        json!(true),
        json!(false),
        json!(0),
        json!(1),
        json!(2),
        json!(3),
        json!(60),
        json!(700),
        json!(-1),
        json!(1.5),
        json!("x"),
        json!([]),
        json!({}),
        json!([0]),
        json!([0, 1]),
        json!([1, 0]),
        json!([10, 20]),
        json!([[0, 10]]),
        json!([[20, 10]]),
        json!([20_000, 2_500]),
        json!(40_000),
        json!("plain"),
        json!("stack"),
        json!({"legs_done": 1, "last_end": 50}),
        json!([null, 100]),
        json!([null, null]),
    ];
    dice.one(&values).clone()
}

/// A number near to one that stands there.
fn near(value: &Value, dice: &mut Dice) -> Option<Value> {
    let number = value.as_u64()?;
    Some(json!(if dice.once_in(2) { number + 1 } else { number / 2 }))
}

/// The document with one or two changes: a value, a missing or unknown field, an item less or more.
pub(crate) fn changed(document: &Value, dice: &mut Dice) -> Value {
    let mut document = document.clone();
    for _ in 0..=dice.below(2) {
        let mut all = Vec::new();
        places(&document, "", &mut all);
        let place = dice.one(&all);
        let (above, name) = place.rsplit_once('/').unwrap();
        let (near, how) = (near(document.pointer(place).unwrap(), dice), dice.below(6));
        let value = near.filter(|_| how > 3).unwrap_or_else(|| something(dice));
        match document.pointer_mut(above).unwrap() {
            Value::Object(fields) => match how {
                0 => drop(fields.remove(name)),
                1 => drop(fields.insert(format!("{}{name}", dice.one(&["x_", "y_"])), value)),
                _ => drop(fields.insert(name.to_owned(), value)),
            },
            Value::Array(list) => match (how, name.parse::<usize>().unwrap()) {
                (0, at) => drop(list.remove(at)),
                (1, at) => list.push(list[at].clone()),
                (_, at) => list[at] = value,
            },
            other => panic!("{other} has no places in it"),
        }
    }
    document
}
