//! Sheets of paper and the file of sets, as a page of this server gets them.

use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};

use serde_json::{Value, json};
use turnabout_protocol::command::{Act, Effort, NoteAbout};
use turnabout_protocol::ids::{ClientId, GroupId, NoteId, StationId, TurnId};
use turnabout_protocol::view::{BriefingSheet, SessionSheet, SummarySheet};
use turnabout_server::floor::config::Person;
use turnabout_tests::harness::{Display, House, Setting, files, get_as};
use turnabout_tests::outside;

use crate::notes::{accepted, note};
use crate::reading::read;

/// Names that are hard to write down: a comma, quotes and a line break, and what some spreadsheets take for a formula.
const NAMES: [(u32, &str); 4] =
    [(1, "Chidi, \"the\r\nsecond\""), (2, "=1+1"), (3, "@Edda"), (4, "-Farid; J\u{fc}rgen")];

fn house() -> House {
    let mut files = files();
    for (id, name) in NAMES {
        files.names.insert(Person::Client(ClientId(id)), name.to_owned());
    }
    House::open_with(Setting { files, ..Setting::default() })
}

/// Both clients of the first group do the first light set.
async fn two_sets(house: &House, coach: &mut Display) {
    let group = GroupId(1);
    accepted(coach, Act::Arrive { group, clients: vec![ClientId(1), ClientId(2)] }).await;
    let stations = vec![StationId(1), StationId(2)];
    accepted(coach, Act::TakeStations { group, block: 0, stations, revision: 0, despite: None }).await;
    for client in [1, 2] {
        let turn = TurnId { group, client: ClientId(client), block: 0, round: 0, leg: 0 };
        accepted(coach, Act::Go { turn }).await;
        house.advance(25_000).await;
        accepted(coach, Act::Done { turn, reps: None, effort: Some(Effort::Rir { reps: 2 }), ending: None })
            .await;
    }
}

/// The rows of some bytes, as Python's own reader understands them, or why it does not.
fn rows(python: &Path, bytes: &str) -> Result<Vec<Value>, String> {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("outside/read_csv.py");
    let mut reader = Command::new(python)
        .arg(script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    reader.stdin.take().unwrap().write_all(bytes.as_bytes()).unwrap();
    let output = reader.wait_with_output().unwrap();
    if !output.status.success() {
        return Err(String::from_utf8_lossy(&output.stderr).into_owned());
    }
    Ok(serde_json::from_slice(&output.stdout).unwrap())
}

#[tokio::test]
async fn the_sets_of_a_group_are_a_file_that_another_reader_reads_back() {
    let house = house();
    let mut coach = Display::coach(&house, "coach-1").await;
    two_sets(&house, &mut coach).await;
    let reply = house.request("GET", "/coaches/coach-1/groups/1/sets.csv", "").await;
    assert_eq!(reply.status, 200, "{}", reply.body);
    for (name, value) in [
        ("content-type", "text/csv; charset=utf-8; header=present"),
        ("content-disposition", "attachment; filename=\"sets-group-1.csv\""),
        ("cache-control", "no-store"),
    ] {
        assert_eq!(reply.header(name), Some(value), "{}", reply.head);
    }
    let Some(python) = outside::python() else { return };
    let rows = rows(&python, &reply.body).unwrap_or_else(|error| panic!("{error}: {}", reply.body));
    let names: Vec<&Value> = rows.iter().map(|row| &row["client"]).collect();
    assert_eq!(names, [NAMES[0].1, NAMES[1].1], "each name is as it was, to the byte");
    for row in &rows {
        let ended = row["ended"].as_str().unwrap();
        // RFC 3339, section 5.6, as another reader understands it.
        assert!(ended.parse::<toml::value::Datetime>().is_ok_and(|at| at.offset.is_some()), "{ended}");
        for (column, value) in [
            ("kind", "technique"),
            ("set", ""),
            ("load", ""),
            ("reps", "3"),
            ("exercise", "Press-up"),
            ("station", "Bench 1"),
            ("ending", "complete"),
            ("effort", "reps_in_reserve"),
            ("reps_in_reserve", "2"),
        ] {
            assert_eq!(row[column], value, "{column} of {row}");
        }
    }
    // A group that has done nothing has a header and no rows.
    let empty = house.request("GET", "/coaches/coach-1/groups/2/sets.csv", "").await;
    assert_eq!(empty.body.lines().count(), 1, "{}", empty.body);
    house.shut().await;
}

#[test]
fn the_reader_refuses_what_the_format_does_not_allow() {
    let Some(python) = outside::python() else { return };
    let right = rows(&python, "a,b\r\n\"1,\"\"x\r\ny\",=2\r\n");
    assert_eq!(right, Ok(vec![json!({ "a": "1,\"x\r\ny", "b": "=2" })]));
    for wrong in ["a,b\r\n1\r\n", "a,a\r\n1,2\r\n", "a\r\n\"1\"2\r\n", "a\r\n1\n"] {
        assert!(rows(&python, wrong).is_err(), "{wrong:?} was read");
    }
}

#[tokio::test]
async fn the_sheets_of_a_group_are_asked_for_once_and_say_what_was_said() {
    let house = house();
    let mut coach = Display::coach(&house, "coach-1").await;
    let before: SessionSheet = read(&house, "/coaches/coach-1/groups/1/session").await;
    assert_eq!(before.blocks[0].clients[0].sets.len(), 6);
    let briefing: BriefingSheet = read(&house, "/coaches/coach-1/groups/1/briefing").await;
    assert_eq!(briefing.clients, [NAMES[0].1, NAMES[1].1]);
    two_sets(&house, &mut coach).await;
    let about = NoteAbout::Client { group: GroupId(1), client: ClientId(2) };
    accepted(&mut coach, note(about, "for coaches alone")).await;

    let summary: SummarySheet = read(&house, "/coaches/coach-1/groups/1/summary").await;
    assert_eq!(summary.clients.iter().map(|client| client.sets.len()).collect::<Vec<_>>(), [1, 1]);
    let told = async |path: &str| read::<Value>(&house, path).await.to_string();
    let own = "/coaches/coach-1/groups/1/summary/coach";
    assert!(told(own).await.contains("for coaches alone"));
    for path in ["/coaches/coach-1/groups/1/summary", "/coaches/coach-2/groups/1/summary/coach"] {
        assert!(!told(path).await.contains("for coaches alone"), "{path}");
    }
    accepted(&mut coach, Act::EraseNote { note: NoteId(1) }).await;
    assert!(!told(own).await.contains("for coaches alone"), "it was erased");
    let after: SessionSheet = read(&house, "/coaches/coach-1/groups/1/session").await;
    assert!(after.blocks[0].exercises[0].reserved && after.blocks[0].clients[0].sets[0].over.is_some());
    house.shut().await;
}

#[tokio::test]
async fn sheets_are_of_groups_that_are_there_and_for_pages_of_this_server_alone() {
    let house = house();
    for sheet in ["summary", "summary/coach", "session", "briefing", "sets.csv"] {
        for (coach, group, status) in
            [("coach-1", "1", 200), ("coach-1", "9", 404), ("coach-1", "x", 404), ("nobody", "1", 404)]
        {
            let path = format!("/coaches/{coach}/groups/{group}/{sheet}");
            assert_eq!(house.request("GET", &path, "").await.status, status, "{path}");
        }
        let address = house.server().address();
        let path = format!("/coaches/coach-1/groups/1/{sheet}");
        for (host, origin) in [
            (format!("gym.example:{}", address.port()), None),
            (address.to_string(), Some("http://gym.example")),
            (address.to_string(), Some("null")),
        ] {
            let reply = get_as(address, &path, &host, origin).await;
            assert_eq!(reply.status, 403, "{path}: {host} {origin:?}");
        }
    }
    assert_eq!(house.request("GET", "/coaches/coach-1/groups/1/poster", "").await.status, 404);
    house.shut().await;
}
