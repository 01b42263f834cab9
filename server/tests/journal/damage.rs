//! A broken file is found at the start and located, whatever page it is.

use std::fs;

use turnabout_server::journal::OpenError;

use crate::made::{files, open, rows};

const PAGE: usize = 4_096;
/// The first page begins with the file's own header (SQLite file format, section 1.3).
const HEADER: usize = 100;

#[test]
fn every_page_whose_head_is_damaged_is_found_at_the_start() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = open(folder.path()).unwrap();
    journal.append(&rows(1..=400)).unwrap();
    journal.close().unwrap();
    let sound = files(folder.path()).remove("floor.db").unwrap();
    let pages = sound.len() / PAGE;
    assert!(pages > 10, "{pages}");
    for page in 0..pages {
        let at = page * PAGE + if page == 0 { HEADER } else { 0 };
        let mut bytes = sound.clone();
        // The kind of the page and its free blocks.
        for byte in &mut bytes[at..at + 3] {
            *byte ^= 0x5a;
        }
        fs::write(folder.path().join("floor.db"), bytes).unwrap();
        match open(folder.path()).unwrap_err() {
            OpenError::Damaged { path, damage } => {
                assert!(path.ends_with("floor.db"));
                assert!(!damage.findings.is_empty() && damage.findings.len() <= 8, "{damage}");
            }
            other => panic!("page {}: {other}", page + 1),
        }
    }
    fs::write(folder.path().join("floor.db"), sound).unwrap();
    open(folder.path()).unwrap().verify().unwrap();
}

#[test]
fn damage_is_located() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = open(folder.path()).unwrap();
    journal.append(&rows(1..=400)).unwrap();
    journal.close().unwrap();
    let path = folder.path().join("floor.db");
    let mut bytes = fs::read(&path).unwrap();
    let last = bytes.len() - PAGE;
    bytes[last] = 0xff;
    fs::write(&path, &bytes).unwrap();
    let error = open(folder.path()).unwrap_err().to_string();
    assert!(error.contains("floor.db"), "{error}");
    assert!(error.contains(&format!("page {}", bytes.len() / PAGE)), "{error}");
}

#[test]
fn a_row_that_is_missing_or_runs_back_is_found_when_read() {
    for (change, expected) in [
        ("DELETE FROM entries WHERE sequence = 2", "row 3 where row 2 should be"),
        ("UPDATE entries SET recorded = 5 WHERE sequence = 3", "row 3 is recorded before its forerunner"),
        ("UPDATE entries SET json = CAST(x'ff' AS TEXT) WHERE sequence = 3", "damaged"),
    ] {
        let folder = tempfile::tempdir().unwrap();
        let mut journal = open(folder.path()).unwrap();
        journal.append(&rows(1..=4)).unwrap();
        journal.close().unwrap();
        let raw = rusqlite::Connection::open(folder.path().join("floor.db")).unwrap();
        raw.execute(change, []).unwrap();
        drop(raw);
        let error = open(folder.path()).unwrap().verify().unwrap_err().to_string();
        assert!(error.contains(expected), "{change}: {error}");
    }
}
