//! Notes: their text is kept beside the entries, in the same commit, and nowhere else.

use std::fs;
use std::path::Path;

use turnabout_protocol::command::{Act, NoteAbout};
use turnabout_protocol::ids::{ClientId, GroupId, NoteId, StationId};
use turnabout_protocol::refusal::{Outcome, Refusal, WriteTrouble};
use turnabout_server::journal::{Batch, Journal, NoteChange, Options, ReadError, Storage};
use turnabout_server::live::Health;
use turnabout_tests::harness::{Display, House};

const INCIDENT: NoteAbout = NoteAbout::Incident { station: StationId(1), call: None };

pub(crate) fn note(about: NoteAbout, text: &str) -> Act {
    Act::Note { note: about, text: text.to_owned() }
}

fn journal(folder: &Path) -> Journal {
    Journal::open(&Storage::Folder(folder.to_owned()), Options::default()).unwrap()
}

/// Whether any file of the folder holds these bytes.
pub(crate) fn somewhere(folder: &Path, text: &str) -> bool {
    let files = fs::read_dir(folder).unwrap().map(|file| fs::read(file.unwrap().path()).unwrap());
    files.into_iter().any(|bytes| bytes.windows(text.len()).any(|part| part == text.as_bytes()))
}

pub(crate) async fn accepted(display: &mut Display, act: Act) {
    let answer = display.tap(act.clone()).await;
    assert!(matches!(answer, Outcome::Accepted { .. }), "{act:?}: {answer:?}");
}

/// Lets time pass until the disk takes what it should again.
pub(crate) async fn until_saving(house: &House) {
    let health = async || house.server().floor().health().await.unwrap();
    while matches!(health().await, Health { writing: Some(_), .. }) {
        tokio::time::pause();
        tokio::time::advance(std::time::Duration::from_millis(1_001)).await;
        tokio::time::resume();
    }
}

#[tokio::test]
async fn a_text_is_beside_the_entries_survives_a_restart_and_can_be_erased() {
    let house = House::open();
    let mut coach = Display::coach(&house, "coach-1").await;
    accepted(&mut coach, note(INCIDENT, "  A collar slipped at the third repetition  ")).await;
    let dara = NoteAbout::Client { group: GroupId(1), client: ClientId(2) };
    accepted(&mut coach, note(dara, "Prefers the closer bench")).await;
    let house = house.restart().await;
    let mut coach = Display::coach(&house, "coach-1").await;
    accepted(&mut coach, note(INCIDENT, "The collar was changed")).await;
    let folder = house.shut().await;

    let mut journal = journal(folder.path());
    let notes = journal.notes(10).unwrap();
    assert_eq!(notes[&NoteId(1)], "A collar slipped at the third repetition");
    assert_eq!(
        (notes[&NoteId(2)].as_str(), notes[&NoteId(3)].as_str()),
        ("Prefers the closer bench", "The collar was changed")
    );
    let mut kept = 0;
    journal
        .rows_after(0, |row| {
            kept += usize::from(row.kind == "note_kept");
            assert!(!row.json.contains("collar") && !row.json.contains("Prefers"), "{}", row.json);
            Ok::<(), ReadError>(())
        })
        .unwrap();
    assert_eq!(kept, 3);
    let erase = vec![NoteChange::EraseOf { client: ClientId(2) }, NoteChange::Erase { note: NoteId(3) }];
    journal.append(&Batch { notes: erase, ..Batch::default() }).unwrap();
    assert_eq!(journal.notes(10).unwrap().into_keys().collect::<Vec<_>>(), [NoteId(1)]);
    for (text, there) in [("A collar slipped", true), ("Prefers the", false), ("The collar was", false)] {
        assert_eq!(somewhere(folder.path(), text), there, "{text}");
    }
}

#[tokio::test]
async fn of_a_note_that_was_not_saved_nothing_is_left_and_its_number_is_another_notes() {
    let house = House::open();
    let mut coach = Display::coach(&house, "coach-1").await;
    house.gate().limit_pages(Some(1)).await;
    let lost = "Lost with the disk ".repeat(26);
    let full = Outcome::Refused { refusal: Refusal::NotSaving { writing: WriteTrouble::DiskFull } };
    let mut saved = 0;
    // There is room for a few within the pages there are.
    let refused = loop {
        let text = format!("{saved:04} {lost}");
        match coach.tap(note(INCIDENT, &text)).await {
            Outcome::Accepted { .. } => saved += 1,
            other => break (other, text),
        }
        assert!(saved < 1_000, "the disk never fills");
    };
    assert_eq!(refused.0, full);
    house.gate().limit_pages(None).await;
    until_saving(&house).await;
    let mut coach = Display::coach(&house, "coach-1").await;
    accepted(&mut coach, note(INCIDENT, "Kept after all")).await;
    let folder = house.shut().await;
    assert!(!somewhere(folder.path(), &refused.1));
    let notes = journal(folder.path()).notes(1).unwrap();
    assert_eq!(notes.into_iter().next(), Some((NoteId(saved + 1), "Kept after all".to_owned())));
}
