//! The texts of notes: there with their entries or not at all, and gone from the files once erased.

use turnabout_protocol::ids::{ClientId, NoteId};
use turnabout_server::floor::config::Notes;
use turnabout_server::journal::{
    Batch, Fault, Journal, MAX_NOTE_BYTES, NoteChange, Options, Refusal, Storage, WriteError,
};

use crate::made::{open, row, rows, rows_after, somewhere};

/// What is written of client `client` in note `note`.
fn text(note: u32, client: Option<u32>) -> String {
    format!("<{note:04}> {client:?} felt dizzy at the second set {}", "n".repeat((note % 89) as usize * 5))
}

fn keep(note: u32, client: Option<u32>) -> NoteChange {
    NoteChange::Keep { note: NoteId(note), client: client.map(ClientId), text: text(note, client) }
}

fn alone(notes: Vec<NoteChange>) -> Batch {
    Batch { notes, ..Batch::default() }
}

fn numbers(notes: &Notes) -> Vec<u32> {
    notes.keys().map(|note| note.0).collect()
}

#[test]
fn texts_come_back_after_a_restart_the_latest_of_them() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = open(folder.path()).unwrap();
    journal.append(&Batch { notes: vec![keep(1, None), keep(2, Some(4))], ..rows(1..=2) }).unwrap();
    journal.append(&Batch { notes: vec![keep(3, Some(5))], ..rows(3..=3) }).unwrap();
    drop(journal);
    let journal = open(folder.path()).unwrap();
    assert_eq!(journal.notes(10).unwrap()[&NoteId(2)], text(2, Some(4)));
    assert_eq!(numbers(&journal.notes(10).unwrap()), [1, 2, 3]);
    assert_eq!(numbers(&journal.notes(2).unwrap()), [2, 3]);
}

#[test]
fn an_erased_text_is_nowhere_and_the_others_stay() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = open(folder.path()).unwrap();
    // From the last down, so that SQLite splits pages and leaves copies behind.
    let notes: Vec<(u32, Option<u32>)> = (1..400).rev().map(|n| (n, (n % 3 > 0).then_some(n % 3))).collect();
    for some in notes.chunks(12) {
        journal.append(&alone(some.iter().map(|(note, client)| keep(*note, *client)).collect())).unwrap();
    }
    assert!(somewhere(folder.path(), "<0300>"), "the search must be able to find");
    journal.append(&alone(vec![NoteChange::Erase { note: NoteId(300) }])).unwrap();
    journal.append(&alone(vec![NoteChange::EraseOf { client: ClientId(1) }, keep(400, Some(1))])).unwrap();
    for (note, client) in notes {
        let erased = client == Some(1) || note == 300;
        assert_eq!(somewhere(folder.path(), &format!("<{note:04}>")), !erased, "{note} of {client:?}");
        assert_eq!(journal.notes(1_000).unwrap().contains_key(&NoteId(note)), !erased, "{note}");
    }
    assert_eq!(journal.notes(1).unwrap()[&NoteId(400)], text(400, Some(1)), "written after the erasure");
    // Erasing what is not there is no mistake.
    journal.append(&alone(vec![NoteChange::Erase { note: NoteId(300) }])).unwrap();
    journal.verify().unwrap();
}

#[test]
fn a_text_kept_and_erased_in_one_batch_never_reaches_the_disk() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = open(folder.path()).unwrap();
    journal.append(&alone(vec![keep(1, None), NoteChange::Erase { note: NoteId(1) }])).unwrap();
    assert!(!somewhere(folder.path(), "<0001>"));
    assert!(journal.notes(10).unwrap().is_empty());
}

#[test]
fn after_a_failed_commit_nothing_of_a_note_is_left() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = open(folder.path()).unwrap();
    journal.append(&rows(1..=1)).unwrap();
    journal.set_max_pages(Some(1)).unwrap();
    let mut batch = rows(2..=2);
    batch.rows[0].json = format!("\"{}\"", "x".repeat(100_000));
    batch.notes = vec![keep(1, None)];
    assert!(matches!(journal.append(&batch), Err(WriteError::Fault(Fault::Full))));
    journal.reopen().unwrap();
    assert!(journal.notes(10).unwrap().is_empty());
    assert_eq!(rows_after(&journal, 0), [row(1)]);
    journal.set_max_pages(None).unwrap();
    journal.append(&batch).unwrap();
    assert_eq!(numbers(&journal.notes(10).unwrap()), [1]);
}

#[test]
fn what_is_no_note_is_refused_whole() {
    let long = NoteChange::Keep { note: NoteId(2), client: None, text: "x".repeat(MAX_NOTE_BYTES + 1) };
    let mut journal = Journal::open(&Storage::Memory, Options::default()).unwrap();
    journal.append(&Batch { notes: vec![keep(1, None)], ..rows(1..=1) }).unwrap();
    let twice = Refusal::NoteTwice { note: NoteId(1) };
    let again = NoteChange::Erase { note: NoteId(7) };
    for (notes, expected) in [
        (vec![long], Refusal::TooLarge { what: "bytes of a note", limit: MAX_NOTE_BYTES }),
        (vec![keep(2, None), keep(1, None)], twice.clone()),
        (vec![again, keep(1, None)], twice),
    ] {
        match journal.append(&Batch { notes, ..rows(2..=2) }).unwrap_err() {
            WriteError::Refused(refusal) => assert_eq!(refusal, expected),
            WriteError::Fault(fault) => panic!("{expected}: {fault}"),
        }
        assert_eq!(rows_after(&journal, 0), [row(1)], "{expected}");
        assert_eq!(numbers(&journal.notes(10).unwrap()), [1], "{expected}");
    }
}
