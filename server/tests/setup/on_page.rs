//! What a page is told of wrong entries and wrong tables: enums with arguments, and words for each in every language.
//!
//! The golden file holds what every wrong entry here comes to; `tests/outside/page/programme_words.test.mjs` makes the
//! page's sentences of it. `GOLDEN=write cargo test -p turnabout-server --test setup golden` writes it anew.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use serde_json::Value;
use turnabout_protocol::entry::{Told, Wrong};
use turnabout_protocol::ids::GroupId;
use turnabout_protocol::text::Language;
use turnabout_server::floor::config::Floor;
use turnabout_server::setup::rows::{Fate, read_table};
use turnabout_server::setup::{parse_entered, parse_floor, parse_programme};

use crate::small::{FLOOR, PROGRAMME};
use crate::wrong_entries::{cases, documents, tables};

fn floor_of(text: &str) -> Floor {
    parse_floor("floor.toml", text, None).unwrap_or_else(|mistakes| panic!("{mistakes}")).floor
}

/// The document of a programme file, whether there are mistakes in it or not: a page could have sent it.
fn document(text: &str) -> Value {
    fn json(value: toml::Value) -> Value {
        match value {
            toml::Value::String(text) => text.into(),
            toml::Value::Integer(number) => number.into(),
            toml::Value::Float(number) => number.into(),
            toml::Value::Boolean(flag) => flag.into(),
            toml::Value::Datetime(when) => when.to_string().into(),
            toml::Value::Array(list) => list.into_iter().map(json).collect(),
            toml::Value::Table(table) => table.into_iter().map(|(name, value)| (name, json(value))).collect(),
        }
    }
    json(toml::Value::Table(toml::from_str(text).unwrap_or_else(|error| panic!("{error}\n{text}"))))
}

/// What a page is told of a document: at which field, and what.
fn told(document: &Value, floor: &str) -> Vec<(String, Told)> {
    let mistakes = match parse_entered(document, &floor_of(floor)) {
        Ok(file) => file.hints,
        Err(mistakes) => mistakes.list().to_vec(),
    };
    mistakes.iter().map(|mistake| (mistake.field.clone(), mistake.on_page())).collect()
}

/// `value.missing`: the kind and the variant.
fn id(told: &Told) -> String {
    let value = serde_json::to_value(told).expect("plain JSON");
    let variant = value["wrong"]["because"].as_str().unwrap_or_default();
    format!("{}.{variant}", value["about"].as_str().expect("what it is about"))
}

/// What is told of a table beside the small programme.
fn told_of_table(bytes: &[u8], begun: &[u32]) -> Vec<(String, Told)> {
    let floor = floor_of(FLOOR);
    let file =
        parse_programme("programme.toml", PROGRAMME, &floor).unwrap_or_else(|mistakes| panic!("{mistakes}"));
    let begun: Vec<GroupId> = begun.iter().copied().map(GroupId).collect();
    let table = match read_table(bytes, &file.programme, &file.names, &begun, &floor) {
        Err(problem) => return vec![(String::new(), problem.on_page())],
        Ok(table) => table,
    };
    let reasons = table.rows.into_iter().filter_map(|row| match row.fate {
        Fate::Refused(reasons) => Some(reasons),
        Fate::New | Fate::Changed(_) | Fate::Same => None,
    });
    reasons.flatten().map(|reason| (reason.column, reason.why.on_page())).collect()
}

/// Everything that is told of all of these, each thing once; every case must come to what it says.
fn all() -> Vec<Value> {
    let mut found = BTreeMap::new();
    let mut silent = Vec::new();
    let mut take = |what: &str, told: Vec<(String, Told)>, ids: &[&str], table: bool| {
        let there: BTreeSet<String> = told.iter().map(|(_, told)| id(told)).collect();
        let missing: Vec<&&str> = ids.iter().filter(|id| !there.contains(**id)).collect();
        if !missing.is_empty() {
            silent.push(format!("{missing:?}, not {there:?}, are told of\n{what}"));
        }
        for (field, told) in told {
            let mut line = serde_json::to_value(&told).expect("plain JSON");
            line[if table { "column" } else { "field" }] = field.into();
            // The same thing at another field is the same sentence.
            let key = (table, id(&told), line["wrong"].to_string(), line["help"].to_string());
            found.entry(key).or_insert(line);
        }
    };
    for (floor, programme, ids) in cases() {
        take(&programme, told(&document(&programme), &floor), &ids, false);
    }
    for (document, id) in documents() {
        let what = document.to_string().chars().take(200).collect::<String>();
        take(&what, told(&document, FLOOR), &[id], false);
    }
    for (bytes, begun, ids) in tables() {
        let told = told_of_table(&bytes, begun);
        // Three thousand rows say the same.
        take(&String::from_utf8_lossy(&bytes), told.into_iter().rev().take(150).collect(), &ids, true);
    }
    assert!(silent.is_empty(), "{}", silent.join("\n\n"));
    found.into_values().collect()
}

/// The ids of one kind in the catalogue: the protocol's own tests hold that they are the variants.
fn catalogue(language: Language) -> BTreeMap<String, String> {
    serde_json::from_str(language.source()).expect("a catalogue")
}

#[test]
fn every_kind_of_mistake_comes_of_some_entry_and_is_golden() {
    let all = all();
    let made: BTreeSet<String> = all
        .iter()
        .flat_map(|told| {
            let wrong = format!(
                "wrong_{}.{}",
                told["about"].as_str().unwrap(),
                told["wrong"]["because"].as_str().unwrap()
            );
            let help = told["help"]["is"].as_str().map(|help| format!("help.{help}"));
            let allowed = told["wrong"]["allowed"]["is"].as_str().map(|fits| format!("fits.{fits}"));
            [Some(wrong), help, allowed].into_iter().flatten()
        })
        .collect();
    let asked = catalogue(Language::En).into_keys();
    let asked = asked.filter(|id| ["wrong_", "help.", "fits."].iter().any(|kind| id.starts_with(kind)));
    let never: Vec<String> = asked.filter(|id| !made.contains(id)).collect();
    // A belt alone takes no load at all; the small floors here have none.
    assert_eq!(never, ["fits.written_or_none"]);

    let text = all.iter().map(|told| format!("{told}\n")).collect::<String>();
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden/on_page.jsonl");
    if std::env::var("GOLDEN").as_deref() == Ok("write") {
        fs::write(&path, &text).expect("a golden file");
    }
    assert_eq!(text, fs::read_to_string(&path).expect("a golden file"));
}

#[test]
fn every_place_of_every_message_has_its_argument() {
    for told in all() {
        let id = format!(
            "wrong_{}.{}",
            told["about"].as_str().unwrap(),
            told["wrong"]["because"].as_str().unwrap()
        );
        for language in Language::ALL {
            let message = &catalogue(language)[&id];
            for place in message.split('{').skip(1).filter_map(|rest| rest.split('}').next()) {
                assert!(!told["wrong"][place].is_null(), "{} {id} asks for {place}: {told}", language.tag());
            }
        }
    }
}

#[test]
fn no_wrong_entry_is_told_in_the_words_of_files() {
    for (floor, programme, _) in cases() {
        for (field, told) in told(&document(&programme), &floor) {
            assert!(!matches!(told.wrong, Wrong::Other(_)), "{field}: {told:?}\n{programme}");
        }
    }
}

#[test]
fn what_no_entry_comes_to_is_told_in_the_words_of_files_and_not_passed_over() {
    let mistakes = parse_programme("programme.toml", "x = ", &floor_of(FLOOR)).unwrap_err();
    let told = mistakes.list()[0].on_page();
    assert!(matches!(&told.wrong, Wrong::Other(words) if words.starts_with("not TOML: ")), "{told:?}");
}
