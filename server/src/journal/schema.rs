//! The tables, as a list of numbered steps forward. A step that has been shipped is never edited.

use rusqlite::{Connection, TransactionBehavior};

/// Marks the file as ours at offset 68 of its header: "Turn" in ASCII.
pub const APPLICATION_ID: u32 = 0x5475_726E;

/// The newest form of the tables this program knows, kept as `user_version` at offset 60 of the header.
#[expect(clippy::cast_possible_truncation, reason = "a handful of steps, in a constant")]
pub const SCHEMA_VERSION: u32 = MIGRATIONS.len() as u32;

/// Step n, counted from 1, leads from version n - 1 to version n.
const MIGRATIONS: [&str; 3] = [RECORDS, CACHES, NOTES];

/// 1: what must never be lost, and the names, which alone may be erased.
const RECORDS: &str = "
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
";

/// 2: what can be made again at any time: saved states, and the scratch row of the write probe.
const CACHES: &str = "
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

/// 3: the texts of notes, which may be erased like names.
const NOTES: &str = "
    CREATE TABLE notes (
        number INTEGER PRIMARY KEY CHECK (number > 0),
        client INTEGER,
        text   TEXT NOT NULL
    ) STRICT;
";

/// The version of the tables in an open file.
pub(super) fn version(connection: &Connection) -> rusqlite::Result<u32> {
    connection.pragma_query_value(None, "user_version", |row| row.get::<_, i32>(0)).map(i32::cast_unsigned)
}

/// Takes the tables to the newest version, each step in a transaction of its own that also moves the
/// version, so that a crash leaves a file of some whole version.
pub(super) fn migrate(connection: &mut Connection) -> rusqlite::Result<()> {
    let found = version(connection)?;
    for (number, step) in (1_u32..).zip(MIGRATIONS) {
        if number <= found {
            continue;
        }
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        transaction.execute_batch(step)?;
        transaction.pragma_update(None, "user_version", number)?;
        transaction.commit()?;
        tracing::info!(version = number, "journal tables brought forward");
    }
    Ok(())
}
