//! An erased name is gone from the files, wherever SQLite had put it.

use std::collections::BTreeMap;
use std::path::Path;

use proptest::prelude::*;
use rusqlite::Connection;
use turnabout_server::journal::{Batch, NameChange};

use crate::made::{client, copy_as_killed, open, rows, somewhere};

fn set(number: u32, name: &str) -> Batch {
    let change = NameChange::Set { person: client(number), name: name.to_owned() };
    Batch { names: vec![change], ..Batch::default() }
}

fn erase(number: u32) -> Batch {
    Batch { names: vec![NameChange::Erase { person: client(number) }], ..Batch::default() }
}

#[test]
fn an_erased_and_a_replaced_name_are_nowhere_while_the_file_is_open() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = open(folder.path()).unwrap();
    journal.append(&set(1, "Ayla of the early group")).unwrap();
    journal.append(&set(2, "Bram of the early group")).unwrap();
    assert!(somewhere(folder.path(), "Ayla of the early group"), "the search must be able to find");
    journal.append(&erase(1)).unwrap();
    assert!(!somewhere(folder.path(), "Ayla"));
    assert!(somewhere(folder.path(), "Bram of the early group"));
    journal.append(&set(2, "Chidi")).unwrap();
    assert!(!somewhere(folder.path(), "Bram"));
    assert_eq!(journal.names().unwrap(), BTreeMap::from([(client(2), "Chidi".to_owned())]));
    journal.append(&erase(2)).unwrap();
    journal.append(&erase(2)).unwrap();
    assert!(!somewhere(folder.path(), "Chidi"));
    assert!(journal.names().unwrap().is_empty());
}

#[test]
fn a_name_set_and_erased_in_one_batch_never_reaches_the_disk() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = open(folder.path()).unwrap();
    let mut batch = set(1, "Dara passing by");
    batch.names.extend(erase(1).names);
    journal.append(&batch).unwrap();
    assert!(!somewhere(folder.path(), "Dara"));
    assert!(journal.names().unwrap().is_empty());
}

/// Long, so that a few hundred fill a tree of several pages that has to be balanced.
fn long_name(client: u16, version: u16) -> String {
    format!("<{client:05}.{version:05}>{}", "n".repeat(usize::from(client % 97)))
}

/// Names that come in from the highest client down make SQLite split pages and leave stale copies of what
/// it moved; zeroing each deleted record alone misses those.
#[test]
fn copies_left_by_splitting_pages_are_gone_too() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = open(folder.path()).unwrap();
    let clients: Vec<u16> = (0..400).rev().collect();
    for some in clients.chunks(12) {
        let names =
            some.iter().flat_map(|client| set((*client).into(), &long_name(*client, 0)).names).collect();
        journal.append(&Batch { names, ..Batch::default() }).unwrap();
    }
    let mut batch = Batch::default();
    for client in clients.iter().filter(|client| *client % 2 == 0) {
        batch.names.extend(erase((*client).into()).names);
    }
    journal.append(&batch).unwrap();
    for client in clients {
        let name = long_name(client, 0);
        assert_eq!(somewhere(folder.path(), &name[..13]), client % 2 == 1, "{name}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4))]
    #[test]
    fn no_order_of_changes_leaves_a_copy_behind(
        clients in prop::collection::vec(0_u16..600, 100..400),
        erased in prop::collection::vec(0_u16..600, 1..40),
    ) {
        let folder = tempfile::tempdir().unwrap();
        let mut journal = open(folder.path()).unwrap();
        let mut live = BTreeMap::new();
        let mut gone = Vec::new();
        let named: Vec<(u16, String)> =
            (0..).zip(clients).map(|(version, client)| (client, long_name(client, version))).collect();
        for some in named.chunks(12) {
            let mut batch = Batch::default();
            for (client, name) in some {
                gone.extend(live.insert(*client, name.clone()));
                batch.names.extend(set((*client).into(), name).names);
            }
            journal.append(&batch).unwrap();
        }
        for client in erased {
            gone.extend(live.remove(&client));
            journal.append(&erase(client.into())).unwrap();
        }
        for name in gone {
            prop_assert!(!somewhere(folder.path(), &name[..13]), "{}", name);
        }
        let names: BTreeMap<_, _> =
            live.into_iter().map(|(client, name)| (self::client(client.into()), name)).collect();
        prop_assert_eq!(journal.names().unwrap(), names);
    }
}

fn raw(folder: &Path) -> Connection {
    Connection::open(folder.join("floor.db")).unwrap()
}

#[test]
fn a_start_finishes_an_erasure_that_a_kill_cut_short() {
    let folder = tempfile::tempdir().unwrap();
    open(folder.path()).unwrap().close().unwrap();
    let cut_short = raw(folder.path());
    cut_short.execute("INSERT INTO names VALUES ('client', 1, 'Edda before the kill')", []).unwrap();
    cut_short.pragma_update(None, "secure_delete", "ON").unwrap();
    cut_short.execute("DELETE FROM names", []).unwrap();
    let killed = copy_as_killed(folder.path());
    assert!(somewhere(killed.path(), "Edda before the kill"), "the log must still hold it");
    let _journal = open(killed.path()).unwrap();
    assert!(!somewhere(killed.path(), "Edda"));
}

#[test]
fn an_erasure_held_up_by_a_reader_is_finished_with_a_later_commit() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = open(folder.path()).unwrap();
    journal.append(&set(1, "Farid under a reader")).unwrap();
    let reader = raw(folder.path());
    reader.execute_batch("BEGIN; SELECT name FROM names").unwrap();
    let seen: String = reader.query_row("SELECT name FROM names", [], |row| row.get(0)).unwrap();
    assert_eq!(seen, "Farid under a reader");
    journal.append(&erase(1)).unwrap();
    assert!(somewhere(folder.path(), "Farid"), "the reader must hold it up");
    reader.execute_batch("COMMIT").unwrap();
    journal.append(&rows(1..=1)).unwrap();
    assert!(!somewhere(folder.path(), "Farid"));
}
