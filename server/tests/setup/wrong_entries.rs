//! Wrong entries and wrong tables of every kind: what a page could send, and what it must be told of each.

use serde_json::{Value, json};

use crate::evening_mistakes as evening;
use crate::small::{FLOOR, PROGRAMME, changed};

/// A floor file, a programme as a file would say it, and what is told, as `value.missing`.
pub(crate) type Case = (String, String, Vec<&'static str>);

/// Changes of the small programme on a floor.
fn on(floor: &str, changes: &[(&str, &str, &[&'static str])]) -> Vec<Case> {
    let case = |(from, to, ids): &(&str, &str, &[&'static str])| {
        (floor.to_owned(), changed(PROGRAMME, from, to), ids.to_vec())
    };
    changes.iter().map(case).collect()
}

fn of_values() -> Vec<Case> {
    on(
        FLOOR,
        &[
            ("number = 104", "number = 0", &["value.value"]),
            ("name = \"Dara\"", "name = \"\"", &["value.missing"]),
            ("name = \"Dara\"", "name = 3", &["value.value"]),
            ("name = \"Dara\"\n", "", &["value.missing"]),
            ("name = \"Edda\"", "name = \"Dara\"", &["value.again"]),
            ("show_load", "show_laod", &["value.unknown_field"]),
            ("show_load = false", "show_load = \"no\"", &["value.value"]),
            ("show_load = false", "unit = \"st\"", &["value.value"]),
            ("show_load = false", "screening = { result = \"clear\" }", &["value.missing", "value.value"]),
            (
                "show_load = false",
                "screening = { on = \"tomorrow\", result = \"cleared\" }",
                &["value.value"],
            ),
            ("show_load = false", "max = \"60 kg\"", &["value.value"]),
            ("show_load = false", "max = { bench-press = \"82,5 kg\" }", &["value.value"]),
            ("show_load = false", "max = { \"Bench press\" = \"82 kg\" }", &["value.value"]),
            ("number = 106", "number = true", &["value.value"]),
            ("coach = \"coach-1\"", "coach = \"coach-2\"", &["value.no_coach"]),
            ("coach = \"coach-1\"", "coach = \"Ayla\"", &["value.value"]),
            ("clients = [104, 105]", "clients = []", &["value.value"]),
            ("clients = [104, 105]\n", "", &["value.missing"]),
            ("clients = [104, 105]", "clients = [104, 105, 999]", &["value.no_client"]),
            ("clients = [104, 105]", "clients = 104", &["value.value"]),
            ("number = 1\n", "number = 1\nstarts = \"9:30\"\n", &["value.value"]),
            ("rounds = 3", "rounds = 21", &["value.value"]),
            ("rest = [\"60 s\", \"2 min\"]", "rest = [\"2 min\", \"60 s\"]", &["value.rest_order"]),
            ("rest = [\"60 s\", \"2 min\"]", "rest = [\"60\", \"\"]", &["value.value", "value.missing"]),
            ("rest = [\"60 s\", \"2 min\"]", "rest = [\"60 s\"]", &["value.value"]),
            ("use = \"bench-press\"", "use = \"bench-pres\"", &["value.no_exercise"]),
            ("use = \"bench-press\"", "use = \"Bench press\"", &["value.value"]),
            ("reps = 10", "reps = \"ten\"", &["value.value"]),
            ("tempo = \"2-0-2-0\"", "tempo = \"2020\"", &["value.value"]),
            ("load = \"40 kg\"", "load = \"41 kg\"", &["value.cannot_hold"]),
            ("load = \"40 kg\"", "load = \"200 kg\"", &["value.cannot_hold"]),
            ("load = \"40 kg\"", "load = \"40\"", &["value.value"]),
            ("load = \"40 kg\"", "load = \"42,5 kg\"", &["value.value"]),
            ("load = \"40 kg\"", "load = \"100 %\"", &["value.value"]),
            ("load = \"40 kg\"", "load = \"find it\"", &["value.value"]),
            (
                "technique = { reps = 3, load = \"20 kg\" }",
                "technique = { load = \"19 kg\" }",
                &["value.cannot_hold"],
            ),
            ("load = \"20 kg\" }", "load = \"20\" }", &["value.value"]),
            ("load = \"30 kg\"\n", "", &["value.load_missing"]),
            ("reps = 15", "reps = 15\nload = \"5 kg\"", &["value.load_on_plain"]),
            ("load = \"20 kg\" }", "load = \"30 kg\" }", &["value.technique_heavier"]),
            ("client = 105, reps", "client = 106, reps", &["value.not_in_group"]),
            (
                "[[group]]",
                "[[group]]\nnumber = 2\ncoach = \"coach-1\"\nclients = [104]\n[[group.block]]\nrounds = 1\nrest = [\"0 s\", \"0 s\"]\nexercise = [{ use = \"push-up\", reps = 1, tempo = \"1-0-1-0\" }]\n[[group]]",
                &["value.two_groups"],
            ),
        ],
    )
}

/// The small floor whose row helps.
fn assisting() -> String {
    changed(FLOOR, "last = \"50 kg\"\n", "last = \"50 kg\"\nassists = true\n")
}

/// The small floor whose row has mere numbers.
fn numbered() -> String {
    changed(FLOOR, "first = \"5 kg\"\nstep = \"5 kg\"\nlast = \"50 kg\"\n", "numbers = 12\n")
}

fn of_loads() -> Vec<Case> {
    let own = "own = [ { client = 105, reps = 8, load = \"25 kg\" } ]\n";
    let bench = "load = \"40 kg\"\ntechnique = { reps = 3, load = \"20 kg\" }\n";
    let by_reserve = |more: &str, id| {
        let text = changed(&changed(PROGRAMME, own, ""), bench, &format!("load = \"by-reserve\"\n{more}\n"));
        let max = |name: &str| format!("name = \"{name}\"\nmax = {{ bench-press = \"60 kg\" }}\n");
        let text = changed(&text, "name = \"Dara\"\n", &max("Dara"));
        (FLOOR.to_owned(), changed(&text, "name = \"Edda\"\n", &max("Edda")), vec![id])
    };
    let reps = |(floor, text, ids): Case, reps: &str| (floor, changed(&text, "reps = 10", reps), ids);
    let mut cases = vec![
        by_reserve("", "load.no_reserve"),
        by_reserve("reserve = 6", "load.too_much_reserve"),
        reps(by_reserve("reserve = 4", "load.too_many_reps"), "reps = \"8-12\""),
        reps(by_reserve("reserve = 2", "load.reserve_of_hold"), "reps = \"30 s\""),
        reps(by_reserve("reserve = 0", "load.maximal"), "reps = 1"),
    ];
    cases.extend(on(
        FLOOR,
        &[
            ("load = \"40 kg\"", "load = \"70 %\"", &["load.no_max"]),
            ("load = \"40 kg\"", "load = [\"find-it\", \"40 kg\", \"40 kg\"]", &["load.only_for_all"]),
            ("load = \"40 kg\"", "load = \"pin 7\"", &["load.no_pins"]),
            ("name = \"Dara\"", "name = \"Dara\"\nmax = { push-up = \"60 kg\" }", &["load.max_of_nothing"]),
            ("reps = 15", "reps = 15\ntechnique = { ramp = true }", &["load.ramp_nothing_set"]),
        ],
    ));
    let hold = changed(PROGRAMME, "reps = 12", "reps = \"30 s\"\ntechnique = { ramp = true }");
    cases.push((FLOOR.to_owned(), hold, vec!["load.ramp_hold"]));
    cases.extend(on(
        &assisting(),
        &[
            ("load = \"30 kg\"", "load = \"70 %\"", &["load.share_on_assisting"]),
            (
                "load = \"30 kg\"",
                "load = \"30 kg\"\ntechnique = { load = \"20 kg\" }",
                &["value.technique_helps_less"],
            ),
            ("load = \"30 kg\"", "load = \"30 kg\"\ntechnique = { ramp = true }", &["load.ramp_helps"]),
            ("name = \"Dara\"", "name = \"Dara\"\nmax = { cable-row = \"60 kg\" }", &["load.max_helps"]),
        ],
    ));
    cases.extend(on(
        &numbered(),
        &[
            ("load = \"30 kg\"", "load = \"30 kg\"", &["load.only_pins"]),
            ("load = \"30 kg\"", "load = \"pin 13\"", &["value.cannot_hold"]),
        ],
    ));
    let max = changed(PROGRAMME, "load = \"30 kg\"", "load = \"pin 3\"");
    let max = changed(&max, "name = \"Dara\"", "name = \"Dara\"\nmax = { cable-row = \"60 kg\" }");
    cases.push((numbered(), max, vec!["load.max_of_numbers"]));
    cases
}

const SET: &str = "[[client.earlier]]\nstation = \"bench-1\"\nexercise = \"bench-press\"\non = 2026-11-18\nload = \"40 kg\"\ngoal = \"8-10\"\nreps = 9\n";

fn of_earlier() -> Vec<Case> {
    let with = |lines: &str| changed(PROGRAMME, "name = \"Dara\"\n", &format!("name = \"Dara\"\n{lines}"));
    let one =
        |from: &str, to: &str, id: &'static str| (FLOOR.to_owned(), with(&changed(SET, from, to)), vec![id]);
    let on_row = |load: &str| {
        changed(&changed(&changed(SET, "bench-1", "row-1"), "bench-press", "cable-row"), "40 kg", load)
    };
    let day = |day: &str| changed(SET, "2026-11-18", day);
    let pins = changed(
        &with(&on_row("30 kg")),
        "load = \"30 kg\"\n[[group.block]]",
        "load = \"pin 3\"\n[[group.block]]",
    );
    vec![
        one("\"bench-1\"", "\"bench-2\"", "value.no_station"),
        one("\"bench-1\"", "\"row-1\"", "earlier.not_there"),
        one("\"40 kg\"", "\"41 kg\"", "earlier.cannot_hold"),
        one("\"40 kg\"", "\"pin 4\"", "earlier.no_pins"),
        one("\"40 kg\"", "\"70 %\"", "value.value"),
        one("\"8-10\"", "\"10-8\"", "block.range_order"),
        one("\"8-10\"", "\"30 s\"", "earlier.reps_of_hold"),
        one("reps = 9", "reps = 7", "earlier.not_complete"),
        one("reps = 9", "reps = 7\nending = \"shrot\"", "value.value"),
        one("reps = 9", "reps = 7\nending = \"failed\"\nhelped = 1", "earlier.not_helped"),
        (FLOOR.to_owned(), with("earlier = [\"\"]\n"), vec!["value.missing"]),
        (
            FLOOR.to_owned(),
            with(&on_row("40 kg").replace("cable-row", "push-up")),
            vec!["earlier.nothing_set"],
        ),
        (numbered(), pins, vec!["earlier.only_pins"]),
        (FLOOR.to_owned(), format!("date = 2026-11-17\n{}", with(SET)), vec!["earlier.ahead"]),
        (FLOOR.to_owned(), with(&format!("{SET}{SET}")), vec!["earlier.same_day"]),
        (
            FLOOR.to_owned(),
            with(&format!("{}{SET}{}", day("2026-11-04"), day("2026-11-11"))),
            vec!["earlier.too_many"],
        ),
    ]
}

fn of_evenings() -> Vec<Case> {
    let floor = evening::floor();
    let one = |from: &str, to: &str, ids: &[&'static str]| {
        (floor.clone(), changed(&evening::programme(), from, to), ids.to_vec())
    };
    let closed = changed(&floor, "sunday = [\"08:00-12:00\"]", "sunday = []");
    let sunday = changed(&evening::programme(), "date = 2026-11-25", "date = 2026-11-29");
    vec![
        one("ends = \"19:00\"", "ends = \"18:00\"", &["times.session_order"]),
        one("ends = \"19:00\"", "ends = \"22:30\"", &["times.ends_after_closing"]),
        one("date = 2026-11-25\n", "", &["times.time_without_day"]),
        one("date = 2026-11-25\n", "date = 2026-11-29\n", &["times.closed"]),
        one("\"18:00\"\nends = \"19:00\"", "\"08:00\"\nends = \"09:00\"", &["block.coach_absent"]),
        one(
            "show_load = false",
            "screening = { on = 2026-11-26, result = \"cleared\" }",
            &["times.screening_ahead"],
        ),
        (closed, sunday, vec!["times.closed_all_day"]),
        one("clients = [104, 105]", "clients = [104, 105, 106]", &["block.group_too_large"]),
    ]
}

/// A second bench with another bar.
const LIGHT_BENCH: &str = "[[station]]\nkey = \"bench-2\"\nname = \"Bench 2\"\nat = [1, 1]\n[station.bar]\nbar = \"15 kg\"\ncollar = \"0 kg\"\nplates = [ { mass = \"1 kg\", count = 4 } ]\n[[station]]\nkey = \"mat\"";

fn of_blocks() -> Vec<Case> {
    let policy = |lines: &str| changed(FLOOR, "[floor.emergency]", &format!("{lines}\n[floor.emergency]"));
    let mut cases = on(
        FLOOR,
        &[
            ("reps = 10", "reps = \"10-8\"", &["block.range_order"]),
            ("reps = 10", "reps = [10, 8]", &["block.rounds_length"]),
            (
                "use = \"bench-press\"\n",
                "use = \"bench-press\"\nin_place = true\n",
                &["block.first_in_place"],
            ),
            ("use = \"cable-row\"\n", "use = \"cable-row\"\nin_place = true\n", &["block.nowhere_in_place"]),
            (
                "use = \"cable-row\"\nreps = 12\ntempo = \"2-0-X-1\"\nload = \"30 kg\"",
                "use = \"bench-press\"\nreps = 12\ntempo = \"2-0-X-1\"\nload = \"30 kg\"",
                &["block.too_few_stations"],
            ),
        ],
    );
    cases.extend([
        (
            policy("[floor.policy]\nstations_a_coach = 1"),
            PROGRAMME.to_owned(),
            vec!["block.more_than_a_coach"],
        ),
        (
            policy("[[floor.policy.members]]\nstations = [\"bench-1\", \"row-1\"]\nkeep = 1"),
            PROGRAMME.to_owned(),
            vec!["block.kept_for_members"],
        ),
        (
            changed(FLOOR, "[[station]]\nkey = \"mat\"", LIGHT_BENCH),
            changed(PROGRAMME, "load = \"25 kg\"", "load = \"19 kg\", technique_load = \"15 kg\""),
            vec!["value.no_common_station"],
        ),
        too_few_handles(),
        nobody_to_spot(),
        rests_too_long("\"2 min\""),
        rests_too_long("\"60 s\""),
    ]);
    cases
}

/// Two rows with a rope, of which the floor has one.
fn too_few_handles() -> Case {
    let second = "[[station]]\nkey = \"row-2\"\nname = \"Row 2\"\nat = [3, -3]\n[station.stack]\nfirst = \"5 kg\"\nstep = \"5 kg\"\nlast = \"50 kg\"\n[[station]]\nkey = \"mat\"";
    let floor = changed(FLOOR, "[[station]]\nkey = \"mat\"", second);
    let floor = changed(&floor, "[floor.emergency]", "[floor.handles]\nrope = 1\n[floor.emergency]");
    let floor = changed(&floor, "gear = \"stack\"\n", "gear = \"stack\"\nhandle = \"rope\"\n");
    let text = changed(PROGRAMME, "use = \"bench-press\"\n", "use = \"cable-row\"\n");
    let text = changed(&text, "own = [ { client = 105, reps = 8, load = \"25 kg\" } ]\n", "");
    (floor, text, vec!["block.too_few_handles"])
}

/// One client alone when the coach is gone.
fn nobody_to_spot() -> Case {
    let text = changed(&evening::programme(), "clients = [104, 105]", "clients = [104]");
    let text = changed(&text, "own = [ { client = 105, reps = 8, load = \"25 kg\" } ]\n", "");
    let text = changed(&text, "\"18:00\"\nends = \"19:00\"", "\"08:00\"\nends = \"09:00\"");
    (evening::floor(), text, vec!["block.coach_absent", "block.nobody_to_spot"])
}

/// A group of four, which is too large for rests of at most so long.
fn rests_too_long(most: &str) -> Case {
    let text = changed(PROGRAMME, "[104, 105]", "[104, 105, 106, 107]");
    let text = changed(&text, "[[group]]", "[[client]]\nnumber = 107\nname = \"Greta\"\n\n[[group]]");
    (FLOOR.to_owned(), changed(&text, "\"2 min\"", most), vec!["block.rests_too_long"])
}

/// More maxima than any floor has exercises, on a floor that has as many.
fn too_many_maxima() -> Case {
    let keys = |most: usize| (0..most).map(|n| format!("e{n:04}"));
    let exercise = |key: String| {
        format!(
            "[[exercise]]\nkey = \"{key}\"\nname = \"{key}\"\ngear = \"bar\"\nstarts_with = \"lowering\"\nspot = \"none\"\n"
        )
    };
    let (head, _) = FLOOR.split_once("[[exercise]]").expect("exercises");
    let floor = head.to_owned() + &keys(500).map(exercise).collect::<String>();
    let max: Vec<String> = keys(501).map(|key| format!("{key} = \"60 kg\"")).collect();
    let text = format!("[[client]]\nnumber = 1\nname = \"Dara\"\nmax = {{ {} }}\n", max.join(", "));
    (floor, text, vec!["value.too_many_maxima"])
}

/// Programmes with mistakes.
pub(crate) fn cases() -> Vec<Case> {
    let mut cases = of_values();
    cases.extend(of_loads());
    cases.extend(of_earlier());
    cases.extend(of_evenings());
    cases.extend(of_blocks());
    cases.push(too_many_maxima());
    cases
}

/// What is no programme of clients and groups.
pub(crate) fn documents() -> Vec<(Value, &'static str)> {
    let mut deep = json!([]);
    for _ in 0..100 {
        deep = json!([deep]);
    }
    vec![
        (json!([]), "value.no_document"),
        (json!({ "client": deep }), "value.too_deep"),
        (json!({ "client": "x".repeat(2 << 20) }), "value.too_large"),
        (
            json!({ "client": [], "group": [{ "number": 1, "coach": "coach-1", "clients": [], "block": [{}, 3] }] }),
            "value.missing",
        ),
        (json!({ "client": [{}], "group": [{ "clients": {} }] }), "value.missing"),
    ]
}

const HEADER: &str = "group,coach,clients,block,rounds,rest_min,rest_max,exercise,reps,tempo,load,client\n";

/// Tables, the groups that have begun, and what is told.
pub(crate) fn tables() -> Vec<(Vec<u8>, &'static [u32], Vec<&'static str>)> {
    let sessions = |rows: &str| (HEADER.to_owned() + rows).into_bytes();
    vec![
        (
            b"number,name\n107,Greta\n107,Hana\n108\n109,\n".to_vec(),
            &[],
            vec!["row.again", "row.ragged", "value.missing"],
        ),
        (b"number,name,unit,regular\n107,Greta,st,maybe\nx,Hana,,\n".to_vec(), &[], vec!["value.value"]),
        (sessions(",coach-1,106,1,3,60 s,90 s,push-up,12,2-0-2-0,,\n"), &[], vec!["row.nothing"]),
        (sessions("7,coach-1,106,1,3,60 s,90 s,push-up,12,2-0-2-0,,106\n"), &[], vec!["row.no_exercise"]),
        (
            sessions(
                "7,coach-1,106,1,3,60 s,90 s,push-up,12,2-0-2-0,,\n7,coach-2,,1,,,,push-up,12,2-0-2-0,,\n",
            ),
            &[],
            vec!["row.half", "row.otherwise"],
        ),
        (sessions("7,coach-1,106,1,3,60,90 s,Push up,12,2020,,\n"), &[], vec!["value.value"]),
        (sessions("1,coach-1,104 105,1,4,60 s,2 min,push-up,10,2-0-2-0,,\n"), &[1], vec!["row.begun"]),
        (
            ("number,name,unit\n".to_owned()
                + &(1..=3_000).map(|n| format!("{n},Somebody {n},stone\n")).collect::<String>())
                .into_bytes(),
            &[],
            vec!["row.not_read"],
        ),
        (b"".to_vec(), &[], vec!["sheet.empty"]),
        (b"\xff\xfen\0u\0".to_vec(), &[], vec!["sheet.utf16"]),
        (b"number,name\n107,J\xf6rg\n".to_vec(), &[], vec!["sheet.not_utf8"]),
        (b"name,unit\n".to_vec(), &[], vec!["sheet.no_kind"]),
        (b"number,nmae\n".to_vec(), &[], vec!["sheet.unknown_column"]),
        (b"number,number\n".to_vec(), &[], vec!["sheet.twice"]),
        (b"group,exercise\n".to_vec(), &[], vec!["sheet.missing_column"]),
        (("number\n".to_owned() + &"1\n".repeat(10_001)).into_bytes(), &[], vec!["sheet.too_many_rows"]),
    ]
}
