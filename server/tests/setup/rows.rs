//! Clients and sessions from a table: what becomes of every row.

use proptest::prelude::*;
use turnabout_protocol::entry::Wrong;
use turnabout_protocol::ids::{ClientId, GroupId};
use turnabout_server::floor::config::Floor;
use turnabout_server::setup::rows::{Fate, Kind, SheetProblem, Table, read_table};
use turnabout_server::setup::{ProgrammeFile, document_of, parse_programme};

use crate::small::{PROGRAMME, floor};

fn programme(floor: &Floor) -> ProgrammeFile {
    parse_programme("programme.toml", PROGRAMME, floor).unwrap_or_else(|mistakes| panic!("{mistakes}"))
}

/// A table beside the small programme, of which these groups have begun.
fn read_with(text: &str, begun: &[u32]) -> Table {
    let floor = floor().floor;
    let ProgrammeFile { programme, names, .. } = programme(&floor);
    let begun: Vec<GroupId> = begun.iter().copied().map(GroupId).collect();
    read_table(text.as_bytes(), &programme, &names, &begun, &floor)
        .unwrap_or_else(|problem| panic!("{problem}"))
}

/// The fates of a table, a line each.
fn fates(table: &Table) -> Vec<String> {
    let told = |fate: &Fate| match fate {
        Fate::New => "new".to_owned(),
        Fate::Same => "same".to_owned(),
        Fate::Changed(columns) => format!("changed {}", columns.join(",")),
        Fate::Refused(reasons) => {
            let told =
                |reason: &turnabout_server::setup::rows::Reason| format!("{}: {}", reason.column, reason.why);
            format!("refused {}", reasons.iter().map(told).collect::<Vec<_>>().join("; "))
        }
    };
    table.rows.iter().map(|row| format!("{} {}", row.line, told(&row.fate))).collect()
}

fn told(text: &str) -> Vec<String> {
    fates(&read_with(text, &[]))
}

#[test]
fn every_row_of_clients_has_its_fate() {
    let text = "number,name,unit,regular,show_load,screened_on,screening\r\n\
                104,Dara,,,,,\r\n\
                105,Edda,lb,true,,,\r\n\
                107,Greta,,,false,2026-02-03,cleared\r\n\
                107,Hana,,,,,\r\n\
                x,Ilse,,,,,\r\n\
                108,Jonah,st,,,,\r\n\
                109,,,,,,\r\n\
                110,\"=1+1,\"\"x\"\"\",,maybe,,,\r\n\
                111,Kaito,,\r\n\
                112,Dara,,,,,\r\n";
    let table = read_with(text, &[]);
    assert_eq!(table.kind, Kind::Clients);
    assert_eq!(
        fates(&table),
        [
            "2 same",
            "3 changed unit,regular",
            "4 new",
            "5 refused number: found 107 again, allowed once; it stands in line 4 too",
            "6 refused number: found \"x\", allowed a whole number, 1 to 999999",
            "7 refused unit: found \"st\", allowed \"kg\" or \"lb\"",
            "8 refused name: found nothing, allowed text in quotation marks, 1 to 40 characters on one line",
            "9 refused regular: found \"maybe\", allowed true or false",
            "10 refused : found 4 cells, allowed 7, as many as the header has",
            "11 refused name: found Dara again, allowed once; it stands in client[1].name too (choose another, or take one of the two away)",
        ]
    );
    assert!(!table.is_whole());
    // The good rows are taken, and nothing else.
    let file = table.file.unwrap();
    assert_eq!(file.programme.clients.len(), 4);
    assert!(file.programme.clients[&ClientId(105)].regular);
    assert!(!file.programme.clients[&ClientId(107)].show_load);
}

#[test]
fn a_formula_is_a_name_with_an_equals_sign() {
    for name in ["=1+1", "+49", "@sum(A1)", "-2"] {
        let table = read_with(&format!("number,name\n107,\"{name}\"\n"), &[]);
        assert_eq!(fates(&table), ["2 new"]);
        assert!(table.file.unwrap().names.values().any(|known| known == name));
    }
}

const HEADER: &str = "group,coach,clients,block,rounds,rest_min,rest_max,changeover,exercise,reps,tempo,load,client,technique_load,technique_reps\n";

/// The group of the small programme as rows.
const AS_IT_IS: &str = "1,coach-1,104 105,1,3,60 s,2 min,20 s,bench-press,10,2-0-2-0,40 kg,,20 kg,3\n\
                        1,,,1,,,,,bench-press,8,,25 kg,105,,\n\
                        1,,,1,,,,,cable-row,12,2-0-X-1,30 kg,,,\n\
                        1,,,2,2,1 min,90 s,,push-up,15,2-0-2-0,,,,\n";

#[test]
fn rows_of_a_session_say_what_a_file_says() {
    let table = read_with(&format!("{HEADER}{AS_IT_IS}"), &[]);
    assert_eq!(fates(&table), ["2 same", "3 same", "4 same", "5 same"]);
    assert_eq!(table.file.unwrap().programme, programme(&floor().floor).programme);
    // The same table again for a group that has begun changes nothing, and so may be.
    assert!(read_with(&format!("{HEADER}{AS_IT_IS}"), &[1]).is_whole());
}

#[test]
fn every_row_of_a_session_has_its_fate() {
    let changed =
        AS_IT_IS.replace("40 kg", "45 kg").replace("1,3,60 s", "1,4,60 s").replace("25 kg", "30 kg");
    assert_eq!(
        told(&format!("{HEADER}{changed}")),
        ["2 changed rounds,load", "3 changed load", "4 same", "5 same"]
    );
    let fresh = "7,coach-1,106,1,3,60 s,90 s,,push-up,12 / 10 / 8,2-0-2-0,,,,\n";
    assert_eq!(told(&format!("{HEADER}{fresh}")), ["2 new"]);
    let without_block = AS_IT_IS.lines().take(3).map(|line| format!("{line}\n")).collect::<String>();
    assert_eq!(told(&format!("{HEADER}{without_block}")), ["2 changed block", "3 same", "4 same"]);
    let begun = fates(&read_with(&format!("{HEADER}{changed}{fresh}"), &[1]));
    let stays = "refused group: group 1 has begun: its part of the programme must stay as it is";
    assert_eq!(begun[0], format!("2 {stays}"));
    assert_eq!(begun[4], "6 new");
}

#[test]
fn half_a_session_is_none() {
    let wrong = AS_IT_IS.replace("cable-row,12", "cabel-row,12").replace("60 s,2 min", "60,2 min");
    let told = told(&format!("{HEADER}{wrong}7,coach-1,106,1,3,60 s,90 s,,push-up,12,2-0-2-0,,,,\n"));
    assert_eq!(
        told,
        [
            "2 refused rest_min: found \"60\", allowed a duration such as \"90 s\" or \"2 min\", 0 s to 1800 s (write it with its unit: \"60 s\")",
            "3 refused : line 2 of the same group is refused, and half a session is none",
            "4 refused exercise: found \"cabel-row\", allowed the key of an exercise in the floor file (did you mean \"cable-row\"?)",
            "5 refused : line 2 of the same group is refused, and half a session is none",
            "6 new",
        ]
    );
}

#[test]
fn what_is_said_once_is_not_said_otherwise() {
    let other = AS_IT_IS.replace("1,,,1,,,,,cable-row", "1,coach-2,,1,,,,,cable-row");
    assert!(told(&format!("{HEADER}{other}"))[2].starts_with(
        "4 refused coach: found \"coach-2\", allowed \"coach-1\" or nothing: line 2 says that of the same"
    ));
    for (row, text) in [
        (
            ",coach-1,106,1,3,60 s,90 s,,push-up,12,2-0-2-0,,,,",
            "refused group: found nothing, allowed the number of a group",
        ),
        (
            "7,coach-1,106,,3,60 s,90 s,,push-up,12,2-0-2-0,,,,",
            "refused block: found nothing, allowed the number of a block",
        ),
        (
            "7,coach-1,106,1,3,60 s,90 s,,,12,2-0-2-0,,,,",
            "refused exercise: found nothing, allowed the key of an exercise",
        ),
        (
            "7,coach-1,106,1,3,60 s,90 s,,push-up,12,,,106,,",
            "refused client: found what a client does differently, allowed after the row of the exercise itself",
        ),
    ] {
        assert_eq!(told(&format!("{HEADER}{row}\n")), [format!("2 {text}")]);
    }
}

#[test]
fn what_is_no_table_is_told() {
    let floor = floor().floor;
    let ProgrammeFile { programme, names, .. } = programme(&floor);
    let problem = |bytes: &[u8]| read_table(bytes, &programme, &names, &[], &floor).unwrap_err();
    assert_eq!(problem(b""), SheetProblem::Empty);
    assert_eq!(problem(b"\xff\xfen\0u\0"), SheetProblem::Utf16);
    assert_eq!(problem(b"number,name\n107,J\xf6rg\n"), SheetProblem::NotUtf8 { byte: 18 });
    assert_eq!(problem(b"name,unit\n"), SheetProblem::NoKind);
    assert_eq!(problem(b"number,name,number\n"), SheetProblem::Twice("number".to_owned()));
    assert_eq!(problem(b"group,exercise\n"), SheetProblem::MissingColumn("block"));
    let unknown = problem(b"number,nmae\n");
    assert_eq!(
        (unknown.to_string().as_str(), unknown.hint().as_deref()),
        (
            "found the column \"nmae\", allowed number, name, unit, regular, show_load, screened_on, screening",
            Some("did you mean name?")
        )
    );
    let many = "number\n".to_owned() + &"1\n".repeat(10_001);
    assert_eq!(problem(many.as_bytes()), SheetProblem::TooManyRows);
}

#[test]
fn spreadsheets_that_write_semicolons_and_a_mark_before_the_text_are_read() {
    let text = "\u{feff}Number;Name\r\n107;\"Greta; the second\"\r\n;\r\n108;Hana\r\n";
    assert_eq!(told(text), ["2 new", "4 new"]);
}

#[test]
fn a_table_of_nothing_but_mistakes_comes_to_an_end() {
    let rows: String = (0..3_000).map(|n| format!("{n},Somebody,stone\n")).collect();
    let table = read_with(&format!("number,name,unit\n{rows}"), &[]);
    assert!(table.rows.iter().all(|row| matches!(row.fate, Fate::Refused(_))));
    assert_eq!(table.file.unwrap().programme, programme(&floor().floor).programme);
}

/// Anything, with pieces that mean something so that it goes deep.
fn any_table() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        "\\PC{0,4}",
        prop::sample::select(
            &[
                "1",
                "104",
                "coach-1",
                "60 s",
                "bench-press",
                "40 kg",
                ",",
                ",",
                "\n",
                "\"",
                ";",
                "12 / 8",
                "2-0-2-0",
                "\r\n"
            ][..]
        )
        .prop_map(str::to_owned),
    ];
    let header = prop::sample::select(&[HEADER, "number,name,unit\n", ""][..]);
    (header, prop::collection::vec(piece, 0..60))
        .prop_map(|(header, pieces)| header.to_owned() + &pieces.concat())
}

proptest! {
    /// Whatever is in it: every row has a fate, and the good rows go together.
    #[test]
    fn any_rows(text in any_table()) {
        let floor = floor().floor;
        let ProgrammeFile { programme, names, .. } = programme(&floor);
        if let Ok(table) = read_table(text.as_bytes(), &programme, &names, &[], &floor) {
            let file = table.file.map_err(|mistakes| TestCaseError::fail(mistakes.to_string()))?;
            for row in &table.rows {
                let Fate::Refused(reasons) = &row.fate else { continue };
                for reason in reasons {
                    let told = reason.why.on_page();
                    prop_assert!(!matches!(told.wrong, Wrong::Other(_)), "{}: {told:?}", reason.column);
                }
            }
            if table.rows.iter().all(|row| matches!(row.fate, Fate::Same | Fate::Refused(_))) {
                let document = |file: &ProgrammeFile| document_of(&file.programme, &file.names, &floor);
                prop_assert_eq!(document(&file), document_of(&programme, &names, &floor));
            }
        }
    }
}
