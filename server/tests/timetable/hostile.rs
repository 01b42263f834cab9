//! No text stops the readers or the checker, and whatever is wrong with one is told in few short lines.

use std::sync::LazyLock;

use proptest::prelude::*;
use serde_json::{Value, json};
use turnabout_server::timetable::check::check;
use turnabout_server::timetable::format::{
    Mistakes, limits, read_instance, read_timetable, write_instance, write_timetable,
};

use crate::{files, small};

/// Pairs of an instance and a timetable of it.
static PAIRS: LazyLock<Vec<(Value, Value)>> = LazyLock::new(|| {
    let parse = |text: &str| serde_json::from_str::<Value>(text).expect("JSON");
    let instances = files::texts("instances");
    let published = files::texts("solutions").into_iter().map(|(name, text)| {
        let instance = instances.iter().find(|(other, _)| *other == name).expect("its instance");
        (parse(&instance.1), parse(&text))
    });
    published.chain([(small::instance(), small::timetable())]).collect()
});

/// Every place of a document.
fn places(value: &Value, at: &str, found: &mut Vec<String>) {
    match value {
        Value::Object(fields) => {
            for (name, value) in fields {
                let at = format!("{at}/{name}");
                places(value, &at, found);
                found.push(at);
            }
        }
        Value::Array(list) => {
            for (place, value) in list.iter().enumerate() {
                let at = format!("{at}/{place}");
                places(value, &at, found);
                found.push(at);
            }
        }
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

/// What may stand anywhere.
fn anything() -> impl Strategy<Value = Value> {
    let numbers = [0, 1, 2, 3, 7, 60, 500, 999_999, 1_000_000, 1_000_001, u64::from(u32::MAX), u64::MAX];
    prop_oneof![
        prop::sample::select(numbers.to_vec()).prop_map(Value::from),
        (0_u64..2_000).prop_map(Value::from),
        prop::sample::select(vec![
            json!(null),
            json!(true),
            json!(false),
            json!(-1),
            json!(1.5),
            json!("x"),
            json!([]),
            json!({}),
            json!([0]),
            json!([0, 1]),
            json!([10, 20]),
            json!([[0, 10]]),
            json!([[20, 10]]),
            json!([20000, 2500]),
            json!({"legs_done": 1, "last_end": 50}),
            json!("plain"),
            json!("stack"),
            json!("bar"),
        ]),
    ]
}

/// One change: where, what, and whether it replaces, removes or doubles.
type Change = (prop::sample::Index, Value, u8);

fn changed(document: &Value, changes: &[Change]) -> Value {
    let mut document = document.clone();
    for (at, value, how) in changes {
        let mut all = Vec::new();
        places(&document, "", &mut all);
        let (above, name) = at.get(&all).rsplit_once('/').expect("a pointer");
        match (document.pointer_mut(above).expect("a place"), *how) {
            (Value::Object(fields), 0) => drop(fields.remove(name)),
            (Value::Object(fields), 1) => drop(fields.insert(format!("{name}_"), value.clone())),
            (Value::Object(fields), _) => drop(fields.insert(name.to_owned(), value.clone())),
            (Value::Array(list), 0) => drop(list.remove(name.parse().expect("a place"))),
            (Value::Array(list), 1) => list.push(list[name.parse::<usize>().expect("a place")].clone()),
            (Value::Array(list), _) => list[name.parse::<usize>().expect("a place")] = value.clone(),
            (_, _) => unreachable!("only lists and objects have places in them"),
        }
    }
    document
}

fn told(mistakes: &Mistakes) {
    assert!(!mistakes.list.is_empty() && mistakes.list.len() <= limits::MISTAKES);
    assert!(mistakes.left_out == 0 || mistakes.list.len() == limits::MISTAKES);
    for mistake in &mistakes.list {
        let line = mistake.to_string();
        assert!(!line.contains('\n') && line.len() < 5_000, "{line}");
    }
}

fn changes() -> impl Strategy<Value = Vec<Change>> {
    prop::collection::vec((any::<prop::sample::Index>(), anything(), 0_u8..8), 1..4)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn any_text(text in "\\PC{0,80}|[ -~\\[\\]{}\":,0-9]{0,80}") {
        let _ = read_instance(&text).map_err(|mistakes| told(&mistakes));
        let _ = read_timetable(&text, &small::read([])).map_err(|mistakes| told(&mistakes));
    }

    /// A changed instance is refused, or is read and written as it is; a changed timetable of it is refused, or it is
    /// judged, and lists of breaches that agree with what was found are all that makes it valid.
    #[test]
    fn a_changed_pair(
        pair in any::<prop::sample::Index>(),
        of_instance in prop_oneof![Just(Vec::new()), changes()],
        of_timetable in prop_oneof![Just(Vec::new()), changes()],
    ) {
        let (instance, timetable) = pair.get(&PAIRS);
        match read_instance(&changed(instance, &of_instance).to_string()) {
            Err(mistakes) => told(&mistakes),
            Ok(instance) => {
                let again = read_instance(&write_instance(&instance));
                prop_assert_eq!(again.as_ref(), Ok(&instance));
                match read_timetable(&changed(timetable, &of_timetable).to_string(), &instance) {
                    Err(mistakes) => told(&mistakes),
                    Ok(mut timetable) => {
                        let again = read_timetable(&write_timetable(&timetable), &instance);
                        prop_assert_eq!(again.as_ref(), Ok(&timetable));
                        let verdict = check(&instance, &timetable).expect("it was read as one of the instance");
                        prop_assert_eq!(verdict.is_valid(), {
                            timetable.breaches.sort_unstable();
                            timetable.breaches == verdict.breaches
                        });
                        timetable.breaches.clone_from(&verdict.breaches);
                        prop_assert!(check(&instance, &timetable).expect("still one of the instance").is_valid());
                    }
                }
            }
        }
    }
}
