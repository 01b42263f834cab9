//! Which folders are opened, which are refused, and that refusing leaves no trace.

use std::fs;
use std::path::Path;

use rusqlite::Connection;
use turnabout_server::journal::{APPLICATION_ID, OpenError, SCHEMA_VERSION};

use crate::made::{copy_as_killed, files, open, row, rows, rows_after};

fn database(folder: &Path) -> Connection {
    Connection::open(folder.join("floor.db")).unwrap()
}

/// Makes a journal of one row, closes it, changes its file, and gives what opening it says then.
/// Whatever that is, the folder must be as it was.
fn refusal(change: impl Fn(&Path)) -> OpenError {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = open(folder.path()).unwrap();
    journal.append(&rows(1..=1)).unwrap();
    journal.close().unwrap();
    fs::remove_file(folder.path().join("floor.lock")).unwrap();
    change(folder.path());
    let before = files(folder.path());
    let error = open(folder.path()).unwrap_err();
    assert_eq!(files(folder.path()), before, "{error}");
    error
}

#[test]
fn what_is_not_ours_is_left_as_it_was() {
    let foreign = refusal(|folder| database(folder).pragma_update(None, "application_id", 7).unwrap());
    assert!(matches!(foreign, OpenError::Foreign { application_id: 7, .. }), "{foreign}");

    let nobodys = refusal(|folder| database(folder).pragma_update(None, "application_id", 0).unwrap());
    assert!(matches!(nobodys, OpenError::Foreign { application_id: 0, .. }), "{nobodys}");

    let newer = refusal(|folder| {
        database(folder).pragma_update(None, "user_version", SCHEMA_VERSION + 1).unwrap();
    });
    assert!(
        matches!(newer, OpenError::Newer { found, known: SCHEMA_VERSION, .. } if found == SCHEMA_VERSION + 1),
        "{newer}"
    );

    let cut = refusal(|folder| {
        let path = folder.join("floor.db");
        let bytes = fs::read(&path).unwrap();
        fs::write(path, &bytes[..99]).unwrap();
    });
    assert!(matches!(cut, OpenError::Truncated { bytes: 99, .. }), "{cut}");

    let text = refusal(|folder| fs::write(folder.join("floor.db"), "a note\n".repeat(50)).unwrap());
    assert!(matches!(text, OpenError::NotADatabase { .. }), "{text}");

    let short_text = refusal(|folder| fs::write(folder.join("floor.db"), "a note\n").unwrap());
    assert!(matches!(short_text, OpenError::Truncated { bytes: 7, .. }), "{short_text}");
}

/// SQLite database file format, section 1.3: `user_version` at offset 60, `application_id` at 68, both big
/// endian; section 1.3.3: version 2 at offsets 18 and 19 is a write-ahead log.
#[test]
fn our_mark_is_in_the_file_from_the_first_moment() {
    let folder = tempfile::tempdir().unwrap();
    let _open = open(folder.path()).unwrap();
    let bytes = fs::read(folder.path().join("floor.db")).unwrap();
    assert_eq!(bytes[60..64], SCHEMA_VERSION.to_be_bytes());
    assert_eq!(bytes[68..72], APPLICATION_ID.to_be_bytes());
    assert_eq!(bytes[18..20], [2, 2]);
}

#[test]
fn a_missing_folder_an_empty_file_and_a_half_made_database_all_begin_anew() {
    let parent = tempfile::tempdir().unwrap();
    let folder = parent.path().join("data/floor");
    assert_eq!(open(&folder).unwrap().last(), None);

    for leftover in ["floor.db", "floor.db.new", "floor.db.new-journal"] {
        let folder = tempfile::tempdir().unwrap();
        let content = if leftover == "floor.db" { "" } else { "half of something" };
        fs::write(folder.path().join(leftover), content).unwrap();
        let mut journal = open(folder.path()).unwrap();
        journal.append(&rows(1..=2)).unwrap();
        journal.close().unwrap();
        assert_eq!(rows_after(&open(folder.path()).unwrap(), 0).len(), 2, "{leftover}");
        assert!(!folder.path().join("floor.db.new").exists());
    }
}

#[test]
fn a_log_without_its_database_is_not_swallowed() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = open(folder.path()).unwrap();
    journal.append(&rows(1..=1)).unwrap();
    let killed = copy_as_killed(folder.path());
    let log = fs::read(killed.path().join("floor.db-wal")).unwrap();
    fs::remove_file(killed.path().join("floor.db")).unwrap();
    let error = open(killed.path()).unwrap_err();
    assert!(matches!(error, OpenError::Orphan { .. }), "{error}");
    assert_eq!(fs::read(killed.path().join("floor.db-wal")).unwrap(), log);
    assert!(!killed.path().join("floor.db").exists());
}

#[test]
fn a_second_server_is_refused_and_told_which_folder() {
    let folder = tempfile::tempdir().unwrap();
    let first = open(folder.path()).unwrap();
    let error = open(folder.path()).unwrap_err();
    assert!(matches!(error, OpenError::InUse { .. }), "{error}");
    assert!(error.to_string().contains(folder.path().to_str().unwrap()), "{error}");
    drop(first);
    open(folder.path()).unwrap();
}

#[test]
fn what_a_killed_server_committed_is_there() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = open(folder.path()).unwrap();
    journal.append(&rows(1..=3)).unwrap();
    let killed = copy_as_killed(folder.path());
    let found = open(killed.path()).unwrap();
    assert_eq!(rows_after(&found, 0), [row(1), row(2), row(3)]);
    assert_eq!(found.last(), journal.last());
}

#[test]
fn a_newer_version_that_stands_only_in_the_log_is_refused_too() {
    let folder = tempfile::tempdir().unwrap();
    open(folder.path()).unwrap().close().unwrap();
    let newer = database(folder.path());
    newer.pragma_update(None, "user_version", SCHEMA_VERSION + 1).unwrap();
    let killed = copy_as_killed(folder.path());
    let header = fs::read(killed.path().join("floor.db")).unwrap();
    assert_eq!(header[60..64], SCHEMA_VERSION.to_be_bytes(), "the log must hold it alone");
    let error = open(killed.path()).unwrap_err();
    assert!(matches!(error, OpenError::Newer { .. }), "{error}");
}
