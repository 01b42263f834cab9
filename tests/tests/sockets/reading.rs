//! What a coach's page shows of notes and asks beside its view, and that an erased text is nowhere any more.

use std::io;
use std::path::Path;
use std::sync::{Arc, Mutex};

use serde::de::DeserializeOwned;
use serde_json::{Value, json};
use tracing_subscriber::fmt::MakeWriter;
use turnabout_protocol::command::{Act, NoteAbout};
use turnabout_protocol::ids::{ClientId, CoachId, GroupId, NoteId, StationId};
use turnabout_protocol::refusal::{Outcome, Refusal};
use turnabout_protocol::role::{Actor, Role};
use turnabout_protocol::view::{CoachView, NoteText, View};
use turnabout_tests::harness::{Display, House, get_as};

use crate::notes::{accepted, note, somewhere, until_saving};

const INCIDENT: NoteAbout = NoteAbout::Incident { station: StationId(1), call: None };
const DARA: NoteAbout = NoteAbout::Client { group: GroupId(1), client: ClientId(2) };
const MARKER: &str = "unmistakable words of one evening";

fn erase(n: u32) -> Act {
    Act::EraseNote { note: NoteId(n) }
}

async fn page(coach: &mut Display) -> CoachView {
    let View::Coach(page) = coach.view().await else { panic!("a coach's page") };
    page
}

/// What is answered once over HTTP: never kept by a browser, and readable.
pub(super) async fn read<T: DeserializeOwned>(house: &House, path: &str) -> T {
    let reply = house.request("GET", path, "").await;
    assert_eq!(
        (reply.status, reply.header("cache-control")),
        (200, Some("no-store")),
        "{path}: {}",
        reply.body
    );
    serde_json::from_str(&reply.body).unwrap_or_else(|error| panic!("{error}: {}", reply.body))
}

/// Log lines of this thread, which is the one that everything but the disk runs on.
#[derive(Clone, Default)]
struct Lines(Arc<Mutex<Vec<u8>>>);

impl io::Write for Lines {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.lock().unwrap().extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl<'a> MakeWriter<'a> for Lines {
    type Writer = Self;

    fn make_writer(&'a self) -> Self {
        self.clone()
    }
}

#[tokio::test]
async fn an_erased_note_is_gone_from_the_page_the_files_and_was_never_in_the_log() {
    let lines = Lines::default();
    let logged = tracing_subscriber::fmt().with_max_level(tracing::Level::TRACE).with_writer(lines.clone());
    let _guard = tracing::subscriber::set_default(logged.finish());
    let house = House::open();
    let mut ayla = Display::coach(&house, "coach-1").await;
    page(&mut ayla).await;
    accepted(&mut ayla, note(DARA, MARKER)).await;
    let shown = page(&mut ayla).await.notes.remove(0);
    assert_eq!(
        (shown.by, shown.text),
        (Actor::Coach { coach: CoachId(1) }, NoteText::Whole { text: MARKER.to_owned() },)
    );
    assert!(somewhere(house.folder(), MARKER), "the search must be able to find");

    let mut bram = Display::coach(&house, "coach-2").await;
    assert!(page(&mut bram).await.notes.is_empty(), "the other coach's clients are not his");
    let coached = Outcome::Refused { refusal: Refusal::CoachedBy { coach: CoachId(1) } };
    assert_eq!(bram.tap(erase(1)).await, coached);
    assert_eq!(ayla.tap(erase(2)).await, Outcome::Refused { refusal: Refusal::UnknownNote });
    accepted(&mut ayla, erase(1)).await;
    let NoteText::Erased { erased: Some(erased) } = page(&mut ayla).await.notes.remove(0).text else {
        panic!("it is erased");
    };
    assert_eq!(erased.by, Actor::Coach { coach: CoachId(1) });
    assert!(matches!(ayla.tap(erase(1)).await, Outcome::Already { .. }));
    // While the server runs: the database, its log beside it and its snapshots.
    nowhere(house.folder());
    let house = house.restart().await;
    let mut ayla = Display::coach(&house, "coach-1").await;
    let again = page(&mut ayla).await.notes.remove(0).text;
    assert_eq!(again, NoteText::Erased { erased: Some(erased) });
    nowhere(house.shut().await.path());
    let log = String::from_utf8(lines.0.lock().unwrap().clone()).unwrap();
    assert!(log.contains("the floor is set up") && !log.contains("unmistakable"), "{log}");
}

fn nowhere(folder: &Path) {
    assert!(!somewhere(folder, "unmistakable"));
}

/// What the sheet of the first note says.
async fn first_text(house: &House) -> Value {
    read::<Value>(house, "/coaches/coach-1/notes/1").await["note"]["text"].clone()
}

#[tokio::test]
async fn a_text_is_there_until_its_erasure_is_durable_and_stays_where_that_fails() {
    let house = House::open();
    let mut coach = Display::coach(&house, "coach-1").await;
    accepted(&mut coach, note(INCIDENT, MARKER)).await;
    let whole = json!({ "is": "whole", "text": MARKER });
    house.gate().shut();
    let handed = house.gate().handed();
    coach.send_act(Act::Pause { group: GroupId(1) }).await;
    house.gate().wait_for(handed + 1).await;
    // In one batch with the erasure: more than the pages there are can take.
    house.gate().limit_pages(Some(1)).await;
    let erasing = coach.send_act(erase(1)).await;
    for _ in 0..6 {
        coach.send_act(note(INCIDENT, &"\u{1f3cb}".repeat(500))).await;
    }
    coach.until_time(1).await;
    assert_eq!(first_text(&house).await, whole);
    house.gate().open();
    let refused = coach.answer(erasing.id).await;
    assert!(matches!(refused, Outcome::Refused { refusal: Refusal::NotSaving { .. } }), "{refused:?}");
    assert_eq!(first_text(&house).await, whole);
    house.gate().limit_pages(None).await;
    until_saving(&house).await;
    assert_eq!(first_text(&house).await, whole);
    let mut coach = Display::coach(&house, "coach-1").await;
    accepted(&mut coach, erase(1)).await;
    assert_eq!(first_text(&house).await["is"], "erased");
    house.shut().await;
}

#[tokio::test]
async fn a_note_is_printed_with_all_that_belongs_to_it() {
    let house = House::open();
    let mut coach = Display::coach(&house, "coach-2").await;
    let long = "x".repeat(500);
    accepted(&mut coach, note(INCIDENT, &long)).await;
    accepted(&mut coach, note(NoteAbout::Group { group: GroupId(1) }, "of the other coach")).await;
    let sheet: Value = read(&house, "/coaches/coach-1/notes/1").await;
    for (field, value) in [("floor", "Invented hall"), ("author", "Bram"), ("station", "Bench 1")] {
        assert_eq!(sheet[field], value);
    }
    assert_eq!(sheet["note"]["text"], json!({ "is": "whole", "text": long }));
    let written = sheet["written"].as_str().unwrap();
    // RFC 3339, section 5.6, as another reader understands it.
    assert!(written.parse::<toml::value::Datetime>().is_ok_and(|at| at.offset.is_some()), "{written}");
    assert!(sheet["emergency"]["number"].is_string());
    let numbers = |told: Value| -> Vec<Value> {
        told["notes"].as_array().unwrap().iter().map(|note| note["note"].clone()).collect()
    };
    assert_eq!(numbers(read(&house, "/coaches/coach-1/notes").await), [json!(2), json!(1)]);
    assert_eq!(numbers(read(&house, "/coaches/coach-2/notes").await), [json!(1)]);
    house.shut().await;
}

#[tokio::test]
async fn the_sets_of_a_client_are_asked_for_once() {
    let house = House::open();
    let sets: Value = read(&house, "/coaches/coach-1/groups/1/clients/1/sets").await;
    assert_eq!(sets, json!({ "sets": [] }));
    for path in [
        "/coaches/coach-1/groups/1/clients/99/sets",
        "/coaches/coach-1/groups/x/clients/1/sets",
        "/coaches/nobody/groups/1/clients/1/sets",
        "/coaches/coach-1/notes/1",
        "/coaches/coach-1/notes/-1",
        "/coaches/NO%20KEY/notes",
    ] {
        assert_eq!(house.request("GET", path, "").await.status, 404, "{path}");
    }
    house.shut().await;
}

#[tokio::test]
async fn notes_are_for_pages_of_this_server_alone() {
    let house = House::open();
    let address = house.server().address();
    let ours = format!("http://{address}");
    let port = address.port();
    for (host, origin, status) in [
        (address.to_string(), None, 200),
        (format!("localhost:{port}"), None, 200),
        (address.to_string(), Some(ours.as_str()), 200),
        (format!("gym.example:{port}"), None, 403),
        (address.to_string(), Some("http://gym.example"), 403),
        (address.to_string(), Some("null"), 403),
    ] {
        let reply = get_as(address, "/coaches/coach-1/notes", &host, origin).await;
        assert_eq!(reply.status, status, "{host} {origin:?}");
        assert_eq!(reply.header("access-control-allow-origin"), None);
    }
    house.shut().await;
}

#[tokio::test]
async fn an_assistant_reads_what_the_coach_reads_and_erases_nothing() {
    let house = House::open();
    let role = Role::Assistant { coach: "coach-1".parse().unwrap() };
    let mut assistant = Display::open_as(house.server().address(), None, role, "coach/coach-1").await;
    page(&mut assistant).await;
    accepted(&mut assistant, note(DARA, MARKER)).await;
    assert_eq!(page(&mut assistant).await.notes[0].by, Actor::Assistant { coach: CoachId(1) });
    assert_eq!(assistant.tap(erase(1)).await, Outcome::Refused { refusal: Refusal::RoleMayNot });
    house.shut().await;
}
