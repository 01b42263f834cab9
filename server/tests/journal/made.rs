//! What the journal's tests are made of.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use turnabout_protocol::ids::ClientId;
use turnabout_protocol::ids::{CommandId, DeviceId};
use turnabout_protocol::units::FloorMs;
use turnabout_server::floor::config::Person;
use turnabout_server::journal::{Batch, Journal, OpenError, Options, ReadError, Row, Storage, StoredAnswer};
use uuid::Uuid;

pub(crate) fn open(folder: &Path) -> Result<Journal, OpenError> {
    Journal::open(&Storage::Folder(folder.to_owned()), Options::default())
}

/// A row recorded at ten times its sequence.
pub(crate) fn row(sequence: u64) -> Row {
    Row {
        sequence,
        recorded: FloorMs(i64::try_from(sequence).unwrap() * 10),
        kind: "turn_started".into(),
        version: 1,
        json: format!(r#"{{"turn":{sequence}}}"#),
    }
}

/// The answer of command `number`, resting on row `sequence` and recorded with it.
pub(crate) fn answer(number: u128, sequence: u64) -> StoredAnswer {
    StoredAnswer {
        device: DeviceId(Uuid::from_u128(7)),
        command: CommandId(Uuid::from_u128(number)),
        body_hash: [3; 32],
        recorded: row(sequence).recorded,
        sequence,
        json: r#"{"ok":true}"#.to_owned(),
    }
}

pub(crate) fn rows(range: std::ops::RangeInclusive<u64>) -> Batch {
    Batch { rows: range.map(row).collect(), ..Batch::default() }
}

pub(crate) fn rows_after(journal: &Journal, sequence: u64) -> Vec<Row> {
    let mut rows = Vec::new();
    journal
        .rows_after(sequence, |row| {
            rows.push(row);
            Ok::<(), ReadError>(())
        })
        .unwrap();
    rows
}

pub(crate) fn answers_since(journal: &Journal, since: FloorMs) -> Vec<StoredAnswer> {
    let mut answers = Vec::new();
    journal
        .answers_since(since, |answer| {
            answers.push(answer);
            Ok::<(), ReadError>(())
        })
        .unwrap();
    answers
}

/// Every file of a folder with its bytes.
pub(crate) fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    fs::read_dir(folder)
        .unwrap()
        .map(|entry| {
            let entry = entry.unwrap();
            (entry.file_name().into_string().unwrap(), fs::read(entry.path()).unwrap())
        })
        .collect()
}

/// A folder as a kill -9 at this moment would leave it: the files as they are, nothing closed.
pub(crate) fn copy_as_killed(from: &Path) -> tempfile::TempDir {
    let copy = tempfile::tempdir().unwrap();
    for (name, bytes) in files(from) {
        // SQLite rebuilds its shared memory; after a crash its content has no meaning.
        if name != "floor.db-shm" {
            fs::write(copy.path().join(name), bytes).unwrap();
        }
    }
    copy
}

/// Whether any file of the folder holds the text.
pub(crate) fn somewhere(folder: &Path, text: &str) -> bool {
    files(folder).values().any(|bytes| bytes.windows(text.len()).any(|window| window == text.as_bytes()))
}

/// A client as a person with a name.
pub(crate) fn client(number: u32) -> Person {
    Person::Client(ClientId(number))
}
