//! Snapshots are a cache: used where they fit, passed over where they do not.

use rusqlite::Connection;
use turnabout_server::journal::{
    Journal, KEPT_SNAPSHOTS, MAX_SNAPSHOT_BYTES, Options, Refusal, Snapshot, Storage, WriteError,
};

use crate::made::{open, rows};

const HASH: [u8; 32] = [1; 32];
const OTHER: [u8; 32] = [2; 32];

fn snapshot(sequence: u64, bytes: &[u8]) -> Snapshot {
    Snapshot { sequence, bytes: bytes.to_vec() }
}

#[test]
fn the_newest_of_the_same_form_is_given() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = open(folder.path()).unwrap();
    assert_eq!(journal.latest_snapshot(&HASH).unwrap(), None);
    journal.append(&rows(1..=9)).unwrap();
    journal.save_snapshot(3, &HASH, b"three").unwrap();
    journal.save_snapshot(5, &OTHER, b"five of another form").unwrap();
    assert_eq!(journal.latest_snapshot(&HASH).unwrap(), Some(snapshot(3, b"three")));
    journal.save_snapshot(9, &HASH, b"").unwrap();
    drop(journal);
    let journal = open(folder.path()).unwrap();
    assert_eq!(journal.latest_snapshot(&HASH).unwrap(), Some(snapshot(9, b"")));
    assert_eq!(journal.latest_snapshot(&[3; 32]).unwrap(), None);
    drop(journal);
    let raw = Connection::open(folder.path().join("floor.db")).unwrap();
    let kept: isize = raw.query_row("SELECT count(*) FROM snapshots", [], |row| row.get(0)).unwrap();
    assert_eq!(kept, KEPT_SNAPSHOTS.cast_signed());
    let rows: i64 = raw.query_row("SELECT count(*) FROM entries", [], |row| row.get(0)).unwrap();
    assert_eq!(rows, 9, "the journal is never cut");
}

#[test]
fn a_damaged_one_gives_way_to_the_one_before() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = open(folder.path()).unwrap();
    journal.append(&rows(1..=2)).unwrap();
    journal.save_snapshot(1, &HASH, b"one").unwrap();
    journal.save_snapshot(2, &HASH, b"two").unwrap();
    journal.close().unwrap();
    let raw = Connection::open(folder.path().join("floor.db")).unwrap();
    raw.execute("UPDATE snapshots SET body = x'00' WHERE sequence = 2", []).unwrap();
    drop(raw);
    assert_eq!(open(folder.path()).unwrap().latest_snapshot(&HASH).unwrap(), Some(snapshot(1, b"one")));
}

#[test]
fn one_that_rests_on_no_row_or_is_enormous_is_refused() {
    let mut journal = Journal::open(&Storage::Memory, Options::default()).unwrap();
    journal.append(&rows(1..=2)).unwrap();
    let enormous = vec![0; MAX_SNAPSHOT_BYTES + 1];
    for (sequence, bytes, expected) in [
        (0, &b""[..], Refusal::Ahead { last: 2, found: 0 }),
        (3, b"", Refusal::Ahead { last: 2, found: 3 }),
        (2, &enormous, Refusal::TooLarge { what: "bytes of a snapshot", limit: MAX_SNAPSHOT_BYTES }),
    ] {
        match journal.save_snapshot(sequence, &HASH, bytes).unwrap_err() {
            WriteError::Refused(refusal) => assert_eq!(refusal, expected),
            WriteError::Fault(fault) => panic!("{expected}: {fault}"),
        }
    }
    assert_eq!(journal.latest_snapshot(&HASH).unwrap(), None);
}
