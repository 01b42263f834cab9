//! No room: said as such, nothing acknowledged is lost, and writing resumes.

use turnabout_server::journal::{Batch, Fault, Journal, Last, Options, Row, Storage, WriteError};

use crate::made::{open, row, rows, rows_after};

fn large(sequence: u64, bytes: usize) -> Batch {
    let row = Row { json: "x".repeat(bytes), ..row(sequence) };
    Batch { rows: vec![row], ..Batch::default() }
}

fn is_full<T>(result: &Result<T, WriteError>) -> bool {
    matches!(result, Err(WriteError::Fault(Fault::Full)))
}

#[test]
fn a_full_disk_keeps_what_was_acknowledged_and_takes_more_once_there_is_room() {
    let folder = tempfile::tempdir().unwrap();
    let options = Options { max_pages: Some(40) };
    let mut journal = Journal::open(&Storage::Folder(folder.path().to_owned()), options).unwrap();
    let refused = (1..).find(|sequence| is_full(&journal.append(&large(*sequence, 3_000)))).unwrap();
    assert!(refused > 10, "{refused}");
    // Until the file is opened anew nothing is promised of it.
    assert!(!journal.is_open());
    assert!(matches!(journal.append(&large(refused, 10)), Err(WriteError::Fault(Fault::Closed))));
    let last = journal.reopen().unwrap();
    assert_eq!(last.map(|last| last.sequence), Some(refused - 1));
    // The limit outlives the reopening.
    assert!(is_full(&journal.append(&large(refused, 30_000))));
    journal.reopen().unwrap();
    journal.verify().unwrap();
    journal.set_max_pages(None).unwrap();
    journal.append(&large(refused, 30_000)).unwrap();
    journal.close().unwrap();
    let journal = open(folder.path()).unwrap();
    let found: Vec<u64> = rows_after(&journal, 0).iter().map(|row| row.sequence).collect();
    assert_eq!(found, (1..=refused).collect::<Vec<_>>());
}

#[test]
fn a_batch_that_only_fits_in_part_is_not_there_at_all() {
    for storage in [Storage::Memory, Storage::Folder(tempfile::tempdir().unwrap().keep())] {
        let mut journal = Journal::open(&storage, Options::default()).unwrap();
        journal.append(&rows(1..=2)).unwrap();
        journal.set_max_pages(Some(1)).unwrap();
        let mut batch = rows(3..=4);
        batch.rows.extend(large(5, 100_000).rows);
        assert!(is_full(&journal.append(&batch)));
        let last = journal.reopen().unwrap();
        assert_eq!(last, Some(Last { sequence: 2, recorded: row(2).recorded }));
        assert_eq!(rows_after(&journal, 0), [row(1), row(2)]);
        journal.set_max_pages(None).unwrap();
        journal.append(&batch).unwrap();
        assert_eq!(rows_after(&journal, 0).len(), 5);
        drop(journal);
        if let Storage::Folder(path) = storage {
            std::fs::remove_dir_all(path).unwrap();
        }
    }
}

#[test]
fn the_probe_is_not_content_with_room_that_only_a_small_row_finds() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = open(folder.path()).unwrap();
    journal.append(&rows(1..=1)).unwrap();
    // The present size: no new page, but room within the pages there are.
    journal.set_max_pages(Some(1)).unwrap();
    journal.append(&rows(2..=2)).unwrap();
    assert!(matches!(journal.probe(), Err(Fault::Full)));
    journal.reopen().unwrap();
    journal.set_max_pages(None).unwrap();
    journal.probe().unwrap();
    // Room that a probe found stays found.
    journal.set_max_pages(Some(1)).unwrap();
    journal.append(&large(3, 60_000)).unwrap();
    assert_eq!(rows_after(&journal, 0).len(), 3);
}
