//! Files of earlier versions are brought forward with all they hold.

use std::fs;
use std::path::Path;

use rusqlite::Connection;
use turnabout_protocol::ids::{ClientId, NoteId};
use turnabout_protocol::units::FloorMs;
use turnabout_server::floor::config::Notes;
use turnabout_server::journal::{APPLICATION_ID, Batch, NoteChange, SCHEMA_VERSION};

use crate::made::{answer, answers_since, client, open, row, rows, rows_after};

/// Version 1 as it was first written; kept here so that a change of the step itself is noticed.
const VERSION_1: &str = "
    CREATE TABLE entries (
        sequence INTEGER PRIMARY KEY CHECK (sequence > 0),
        recorded INTEGER NOT NULL,
        kind     TEXT    NOT NULL,
        version  INTEGER NOT NULL CHECK (version BETWEEN 0 AND 65535),
        json     TEXT    NOT NULL
    ) STRICT;
    CREATE TABLE answers (
        id        INTEGER PRIMARY KEY,
        device    BLOB    NOT NULL CHECK (length(device) = 16),
        command   BLOB    NOT NULL CHECK (length(command) = 16),
        body_hash BLOB    NOT NULL CHECK (length(body_hash) = 32),
        recorded  INTEGER NOT NULL,
        sequence  INTEGER NOT NULL CHECK (sequence > 0),
        json      TEXT    NOT NULL,
        UNIQUE (device, command)
    ) STRICT;
    CREATE INDEX answers_recorded ON answers (recorded);
    CREATE TABLE names (
        part   TEXT    NOT NULL CHECK (part IN ('client', 'coach')),
        number INTEGER NOT NULL,
        name   TEXT    NOT NULL,
        PRIMARY KEY (part, number)
    ) STRICT, WITHOUT ROWID;
    INSERT INTO entries VALUES (1, 10, 'turn_started', 1, '{\"turn\":1}');
    INSERT INTO answers VALUES (1, x'00000000000000000000000000000007', x'00000000000000000000000000000001',
        x'0303030303030303030303030303030303030303030303030303030303030303', 10, 1, '{\"ok\":true}');
    INSERT INTO names VALUES ('client', 4, 'Greta');
";

fn write_version_1(folder: &Path) {
    let raw = Connection::open(folder.join("floor.db")).unwrap();
    raw.pragma_update(None, "application_id", APPLICATION_ID).unwrap();
    raw.pragma_update(None, "user_version", 1).unwrap();
    raw.execute_batch(VERSION_1).unwrap();
}

fn version(folder: &Path) -> u32 {
    let bytes = fs::read(folder.join("floor.db")).unwrap();
    u32::from_be_bytes(bytes[60..64].try_into().unwrap())
}

#[test]
fn version_1_is_brought_forward_with_all_it_holds() {
    let folder = tempfile::tempdir().unwrap();
    write_version_1(folder.path());
    assert_eq!(version(folder.path()), 1);
    let mut journal = open(folder.path()).unwrap();
    assert_eq!(rows_after(&journal, 0), [row(1)]);
    assert_eq!(answers_since(&journal, FloorMs(0)), [answer(1, 1)]);
    assert_eq!(journal.names().unwrap()[&client(4)], "Greta");
    journal.append(&rows(2..=2)).unwrap();
    journal.save_snapshot(2, &[1; 32], b"state").unwrap();
    journal.verify().unwrap();
    journal.close().unwrap();
    assert_eq!(version(folder.path()), SCHEMA_VERSION);
    assert_eq!(rows_after(&open(folder.path()).unwrap(), 1), [row(2)]);
}

/// What version 2 added, as it was first written.
const VERSION_2: &str = "
    CREATE TABLE snapshots (
        sequence    INTEGER PRIMARY KEY CHECK (sequence > 0),
        schema_hash BLOB NOT NULL CHECK (length(schema_hash) = 32),
        digest      BLOB NOT NULL CHECK (length(digest) = 32),
        body        BLOB NOT NULL
    ) STRICT;
    CREATE TABLE probe (
        id     INTEGER PRIMARY KEY CHECK (id = 1),
        filler BLOB NOT NULL
    ) STRICT;
";

#[test]
fn version_2_is_brought_forward_and_takes_notes() {
    let folder = tempfile::tempdir().unwrap();
    write_version_1(folder.path());
    let raw = Connection::open(folder.path().join("floor.db")).unwrap();
    raw.execute_batch(VERSION_2).unwrap();
    raw.pragma_update(None, "user_version", 2).unwrap();
    raw.close().unwrap();
    assert_eq!(version(folder.path()), 2);
    let mut journal = open(folder.path()).unwrap();
    assert_eq!(rows_after(&journal, 0), [row(1)]);
    assert_eq!(journal.names().unwrap()[&client(4)], "Greta");
    assert!(journal.notes(10).unwrap().is_empty());
    let text = "Greta asked for a lower bench".to_owned();
    let note = NoteChange::Keep { note: NoteId(1), client: Some(ClientId(4)), text: text.clone() };
    journal.append(&Batch { notes: vec![note], ..rows(2..=2) }).unwrap();
    journal.close().unwrap();
    assert_eq!(version(folder.path()), SCHEMA_VERSION);
    assert_eq!(open(folder.path()).unwrap().notes(10).unwrap(), Notes::from([(NoteId(1), text)]));
}

/// The tables of a new file and of one brought forward must not drift apart.
#[test]
fn a_new_file_has_the_tables_of_one_brought_forward() {
    let (old, new) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    write_version_1(old.path());
    let tables = |folder: &Path| -> Vec<String> {
        open(folder).unwrap().close().unwrap();
        let raw = Connection::open(folder.join("floor.db")).unwrap();
        let mut statement = raw.prepare("SELECT sql FROM sqlite_schema ORDER BY name").unwrap();
        let sql = statement.query_map([], |row| row.get::<_, Option<String>>(0)).unwrap();
        sql.filter_map(Result::unwrap)
            .map(|sql| sql.split_whitespace().collect::<Vec<_>>().join(" "))
            .collect()
    };
    assert_eq!(tables(old.path()), tables(new.path()));
}
