//! A programme as a page enters it: what is written reads as what it was, and what is wrong is told as of a file.

use proptest::prelude::*;
use serde_json::{Value, json};
use turnabout_protocol::entry::Wrong;
use turnabout_server::floor::config::{Floor, Names};
use turnabout_server::setup::{
    ProgrammeFile, check_entered, document_of, limits, parse_entered, parse_floor, parse_programme,
};

use crate::small::{FLOOR, PROGRAMME, changed, floor};

const EXAMPLES: [&str; 2] =
    [include_str!("../../examples/programme.toml"), include_str!("../../examples/evening.toml")];

fn example_floor() -> Floor {
    let text = include_str!("../../examples/floor.toml");
    parse_floor("floor.toml", text, None).unwrap_or_else(|mistakes| panic!("{mistakes}")).floor
}

fn read(text: &str, floor: &Floor) -> ProgrammeFile {
    parse_programme("programme.toml", text, floor).unwrap_or_else(|mistakes| panic!("{mistakes}"))
}

fn entered(document: &Value, floor: &Floor) -> ProgrammeFile {
    parse_entered(document, floor).unwrap_or_else(|mistakes| panic!("{mistakes}\n{document:#}"))
}

fn document(file: &ProgrammeFile, floor: &Floor) -> Value {
    document_of(&file.programme, &file.names, floor)
}

/// What a page is told of a document, line by line.
fn told(document: &Value, floor: &Floor) -> Vec<String> {
    let Err(mistakes) = parse_entered(document, floor) else { return Vec::new() };
    let line = |mistake: &turnabout_server::setup::Mistake| mistake.to_string();
    mistakes.list().iter().map(line).collect()
}

fn same(file: &ProgrammeFile, floor: &Floor) {
    let again = entered(&document(file, floor), floor);
    assert_eq!((&again.programme, &again.names), (&file.programme, &file.names));
}

#[test]
fn what_a_file_says_is_written_and_read_again_as_the_same() {
    let floor = example_floor();
    for text in EXAMPLES {
        same(&read(text, &floor), &floor);
    }
    same(&read(PROGRAMME, &crate::small::floor().floor), &crate::small::floor().floor);
}

#[test]
fn a_document_says_what_people_would_write() {
    let floor = floor().floor;
    let file = read(PROGRAMME, &floor);
    let document = document(&file, &floor);
    assert_eq!(document["client"][1], json!({ "number": 105, "name": "Edda", "show_load": false }));
    let group = &document["group"][0];
    assert_eq!(group["coach"], "coach-1");
    assert_eq!(group["clients"], json!([104, 105]));
    assert_eq!(
        group["block"][0]["exercise"][0],
        json!({
            "use": "bench-press", "reps": 10, "tempo": "2-0-2-0", "load": "40 kg",
            "technique": { "reps": 3, "load": "20 kg" },
            "own": [{ "client": 105, "reps": 8, "load": "25 kg" }],
        })
    );
    assert_eq!(group["block"][0]["rest"], json!(["60 s", "120 s"]));
}

#[test]
fn nobody_loses_what_only_some_of_a_group_have() {
    // The first client alone has a reserve and a load of the technique set: said for everyone, nobody could be without.
    let floor = floor().floor;
    let text = changed(
        PROGRAMME,
        "load = \"40 kg\"\ntechnique = { reps = 3, load = \"20 kg\" }\nown = [ { client = 105, reps = 8, load = \"25 kg\" } ]",
        "load = \"40 kg\"\nown = [ { client = 104, reserve = 2, technique_load = \"20 kg\", technique_ramp = true } ]",
    );
    let file = read(&text, &floor);
    same(&file, &floor);
    let exercise = document(&file, &floor)["group"][0]["block"][0]["exercise"][0].clone();
    assert_eq!((&exercise["reserve"], &exercise["technique"]), (&Value::Null, &json!({ "reps": 4 })));
}

#[test]
fn pounds_stay_exact() {
    let floor_text = FLOOR.replace("10 kg", "10 lb").replace("2.5 kg", "2.5 lb").replace("20 kg", "45 lb");
    let floor =
        parse_floor("floor.toml", &floor_text, None).unwrap_or_else(|mistakes| panic!("{mistakes}")).floor;
    let text = PROGRAMME.replace("40 kg", "65 lb").replace("20 kg", "45 lb").replace("25 kg", "50 lb");
    let file = read(&text, &floor);
    same(&file, &floor);
    let exercise = document(&file, &floor)["group"][0]["block"][0]["exercise"][0].clone();
    assert_eq!(exercise["load"], "65 lb");
}

#[test]
fn mistakes_are_told_in_the_words_of_files_by_field() {
    let floor = floor().floor;
    let good = document(&read(PROGRAMME, &floor), &floor);
    let with = |path: &str, value: Value| {
        let mut document = good.clone();
        *document.pointer_mut(path).unwrap_or_else(|| panic!("{path}")) = value;
        told(&document, &floor)
    };
    for (path, value, text) in [
        (
            "/client/0/name",
            json!(3),
            "client[1].name: found 3, allowed text in quotation marks, 1 to 40 characters on one line",
        ),
        (
            "/client/1/number",
            json!(104),
            "client[2].number: found 104 again, allowed once; it stands in client[1].number too",
        ),
        (
            "/group/0/coach",
            json!("coach-9"),
            "group[1].coach: found \"coach-9\", allowed the key of a coach in the floor file",
        ),
        (
            "/group/0/block/1/rest/0",
            json!("2 min"),
            "group[1].block[2].rest[2]: found 90 s as the longest rest, allowed 120 s (the shortest) or more",
        ),
        (
            "/group/0/block/0/exercise/0/load",
            json!("41 kg"),
            "group[1].block[1].exercise[1].load: found 41 kg",
        ),
        (
            "/group/0/block/0/rounds",
            json!(null),
            "group[1].block[1].rounds: found nothing, allowed a whole number, 1 to 20",
        ),
        ("/group/0/block/0/rounds", json!(1e300), "group[1].block[1].rounds: found 1"),
        ("/group/0/clients/0", json!(null), "group[1].clients[1]: found \"\""),
    ] {
        let told = with(path, value);
        assert!(told.iter().any(|line| line.starts_with(text)), "{text}\n{told:#?}");
    }
    let day = json!({ "on": "2026-02-30", "result": "cleared" });
    let mut document = good.clone();
    document["client"][0]["screening"] = day;
    assert_eq!(told(&document, &floor).len(), 1, "{:?}", told(&document, &floor));
    document["client"][0]["screening"]["on"] = json!("2026-02-28");
    assert_eq!(told(&document, &floor), Vec::<String>::new());
}

#[test]
fn what_is_no_document_is_told() {
    let floor = floor().floor;
    let mut deep = json!([]);
    for _ in 0..100 {
        deep = json!([deep]);
    }
    for document in [json!(null), json!([]), json!("x"), json!({ "client": deep }), json!({ "x": {} })] {
        assert_eq!(told(&document, &floor).len(), 1, "{document}");
    }
    let large = json!({ "client": "x".repeat(usize::try_from(limits::FILE_BYTES).unwrap()) });
    assert_eq!(told(&large, &floor), ["found more than 1048576 bytes, allowed at most 1048576"]);
}

#[test]
fn what_was_entered_must_go_with_another_floor_file_too() {
    let known = floor().floor;
    let file = read(PROGRAMME, &known);
    let check = |names: &Names, floor: &Floor| check_entered(&file.programme, names, &known, floor);
    check(&file.names, &known).unwrap();
    // A name that was erased since is no mistake.
    check(&Names::new(), &known).unwrap();
    let without = FLOOR.replace("[[exercise]]\nkey = \"push-up\"\nname = \"Push-up\"\ngear = \"plain\"\nstarts_with = \"lowering\"\nspot = \"none\"\n", "");
    let floor = parse_floor("floor.toml", &without, Some(&known))
        .unwrap_or_else(|mistakes| panic!("{mistakes}"))
        .floor;
    let mistakes = check(&file.names, &floor).unwrap_err();
    assert!(mistakes.to_string().contains("group[1].block[2].exercise[1].use"), "{mistakes}");
}

/// What one exercise asks for: plain figures, lists by round, rules, holds.
fn figures(rounds: usize) -> impl Strategy<Value = (Value, Value, Option<u8>)> {
    let reps = prop_oneof![
        (1_u8..=20).prop_map(Value::from),
        (1_u8..=8, 0_u8..=4).prop_map(|(least, more)| format!("{least}-{}", least + more).into()),
        (5_u32..=90).prop_map(|secs| format!("{secs} s").into()),
        prop::collection::vec(6_u8..=12, rounds).prop_map(Value::from),
    ];
    let load = prop_oneof![
        (2_u32..=5).prop_map(|n| format!("{} kg", n * 5 + 15).into()),
        prop::collection::vec((2_u32..=5).prop_map(|n| Value::from(format!("{} kg", n * 5 + 15))), rounds)
            .prop_map(Value::from),
        Just("as-last-time".into()),
        Just("find-it".into()),
    ];
    (reps, load, prop::option::of(0_u8..=4))
}

/// Flags, the day of a screening, and the unit of a client that is drawn.
type Person = ([bool; 2], Option<u8>, Option<bool>);
/// A block that is drawn: rounds, figures, what each client does otherwise, flags, rests.
type Drawn = (usize, (Value, Value, Option<u8>), Vec<Option<Own>>, [bool; 2], u32, u32);
type Own = (Option<Value>, Option<Value>, Option<u8>, Option<u8>, Option<bool>);

fn own(rounds: usize) -> impl Strategy<Value = Own> {
    let plain = (figures(rounds), prop::option::of(1_u8..=6), prop::option::of(any::<bool>()));
    (plain, any::<[bool; 3]>()).prop_map(|(((reps, load, reserve), technique, ramp), [a, b, c])| {
        (a.then_some(reps), b.then_some(load), reserve.filter(|_| c), technique, ramp)
    })
}

fn evening() -> impl Strategy<Value = Value> {
    let clients = (any::<[bool; 2]>(), prop::option::of(1_u8..=28), prop::option::of(any::<bool>()));
    let clients = prop::collection::vec(clients, 1..=3);
    let block = (1_usize..=4).prop_flat_map(|rounds| {
        (
            Just(rounds),
            figures(rounds),
            prop::collection::vec(prop::option::of(own(rounds)), 3),
            any::<[bool; 2]>(),
            0_u32..=600,
            0_u32..=600,
        )
    });
    (clients, prop::collection::vec(block, 1..=3), any::<bool>()).prop_map(|(clients, blocks, day)| {
        let numbers: Vec<usize> = (0..clients.len()).map(|n| 7 - n).collect();
        let client = |(n, (flags, screened, pounds)): (usize, Person)| {
            json!({
                "number": numbers[n], "name": format!("Client {n}"), "show_load": flags[0], "regular": flags[1],
                "screening": screened.map(|d| json!({ "on": format!("2026-02-{d:02}"), "result": if flags[0] { "cleared" } else { "follow-up-needed" } })),
                "unit": pounds.map(|lb| if lb { "lb" } else { "kg" }),
            })
        };
        let block = |(rounds, (reps, load, reserve), owns, [per_side, ramp], rest, more): Drawn| {
            let own: Vec<Value> = numbers.iter().zip(owns).filter_map(|(number, own)| {
                let (reps, load, reserve, technique, ramp) = own?;
                Some(json!({ "client": number, "reps": reps, "load": load, "reserve": reserve, "technique_reps": technique, "technique_ramp": ramp.filter(|ramp| !ramp), "tempo": reserve.map(|_| "3-0-1-0") }))
            }).collect();
            json!({
                "rounds": rounds, "rest": [format!("{rest} s"), format!("{} s", rest + more)],
                "exercise": [{ "use": "bench-press", "per_side": per_side, "reps": reps, "load": load, "reserve": reserve, "tempo": "2-0-2-0", "technique": { "ramp": ramp && load.is_string() && load.as_str() == Some("35 kg") }, "own": own }],
            })
        };
        json!({
            "date": day.then_some("2026-11-25"),
            "client": clients.into_iter().enumerate().map(client).collect::<Vec<_>>(),
            "group": [{
                "number": 1, "coach": "coach-1", "clients": numbers, "starts": day.then_some("18:00"),
                "block": blocks.into_iter().map(block).collect::<Vec<_>>(),
            }],
        })
    })
}

/// Any JSON, with the names of fields in it so that it goes deep.
fn any_json() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        any::<f64>().prop_map(Value::from),
        "\\PC{0,8}|2026-11-25|60 s|bench-press".prop_map(Value::from),
    ];
    let names =
        prop::sample::select(&["client", "group", "block", "exercise", "own", "rest", "on", "x y", ""][..]);
    leaf.prop_recursive(6, 60, 5, move |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..5).prop_map(Value::from),
            prop::collection::vec((names.clone(), inner), 0..5).prop_map(|fields| Value::Object(
                fields.into_iter().map(|(n, v)| (n.to_owned(), v)).collect()
            )),
        ]
    })
}

proptest! {
    /// Reading what was written gives the same programme.
    #[test]
    fn written_and_read_again(document in evening()) {
        let floor = floor().floor;
        // What does not go together, such as a hold by reserve, has its own tests.
        if let Ok(file) = parse_entered(&document, &floor) {
            let again = parse_entered(&document_of(&file.programme, &file.names, &floor), &floor);
            let again = again.map_err(|mistakes| TestCaseError::fail(mistakes.to_string()))?;
            prop_assert_eq!((again.programme, again.names), (file.programme, file.names));
        }
    }

    /// No JSON stops the reader, and nothing that is wrong with it is told to a page in the words of files.
    #[test]
    fn any_document(document in any_json()) {
        if let Err(mistakes) = parse_entered(&document, &floor().floor) {
            prop_assert!(!mistakes.list().is_empty());
            for mistake in mistakes.list() {
                let told = mistake.on_page();
                prop_assert!(!matches!(told.wrong, Wrong::Other(_)), "{mistake}: {told:?}");
            }
        }
    }
}

#[test]
fn the_law_is_held_against_programmes_and_not_against_nothing() {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;
    let mut runner = TestRunner::deterministic();
    let floor = floor().floor;
    let reads = |runner: &mut TestRunner| {
        let document = evening().new_tree(runner).expect("an evening").current();
        parse_entered(&document, &floor).is_ok()
    };
    let read = (0..200).filter(|_| reads(&mut runner)).count();
    assert!(read > 60, "only {read} of 200 invented evenings have no mistakes");
}
