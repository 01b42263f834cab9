//! What a server that has ended left in its journal.

use std::collections::BTreeMap;
use std::path::Path;

use serde_json::Value;
use turnabout_protocol::units::FloorMs;
use turnabout_server::journal::{Journal, Options, ReadError, Storage};

fn journal(data: &Path) -> Journal {
    Journal::open(&Storage::Folder(data.to_owned()), Options::default()).unwrap()
}

/// Every entry as JSON, by its kind.
pub(crate) fn entries(data: &Path) -> BTreeMap<String, Vec<Value>> {
    let mut found: BTreeMap<String, Vec<Value>> = BTreeMap::new();
    journal(data)
        .rows_after(0, |row| {
            found.entry(row.kind.to_string()).or_default().push(serde_json::from_str(&row.json).unwrap());
            Ok::<(), ReadError>(())
        })
        .unwrap();
    found
}

/// The ids of all commands that were accepted.
pub(crate) fn accepted(data: &Path) -> Vec<String> {
    let mut found = Vec::new();
    journal(data)
        .answers_since(FloorMs(0), |answer| {
            found.push(answer.command.0.to_string());
            Ok::<(), ReadError>(())
        })
        .unwrap();
    found
}
