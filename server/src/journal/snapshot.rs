//! Saved states: a cache beside the journal, which is never cut for it.

use rusqlite::{Connection, TransactionBehavior, params};
use sha2::{Digest, Sha256};

use super::error::{ReadError, Refusal, WriteError};
use super::read::unsigned;
use super::record::Snapshot;
use super::store::Journal;

/// Snapshots kept: the newest, and the one before it should the newest turn out unreadable.
pub const KEPT_SNAPSHOTS: usize = 2;
/// Bytes of a snapshot: a floor's state is far below a mebibyte; this only stops nonsense.
pub const MAX_SNAPSHOT_BYTES: usize = 64 << 20;

impl Journal {
    /// Saves the state after row `sequence`, and drops all but the newest snapshots. `schema_hash` names
    /// the form of `bytes`: a program with another form does not get to see them.
    ///
    /// # Errors
    /// As [`Journal::append`].
    pub fn save_snapshot(
        &mut self,
        sequence: u64,
        schema_hash: &[u8; 32],
        bytes: &[u8],
    ) -> Result<(), WriteError> {
        if bytes.len() > MAX_SNAPSHOT_BYTES {
            let what = "bytes of a snapshot";
            return Err(Refusal::TooLarge { what, limit: MAX_SNAPSHOT_BYTES }.into());
        }
        let last = self.last().map_or(0, |last| last.sequence);
        if !(1..=last).contains(&sequence) {
            return Err(Refusal::Ahead { last, found: sequence }.into());
        }
        let saved = save(self.writing()?, sequence, schema_hash, bytes);
        saved.map_err(|error| {
            let fault = error.into();
            self.lose(&fault);
            fault.into()
        })
    }

    /// The newest snapshot of this form that is whole, or `None`: then the rows tell everything.
    ///
    /// # Errors
    /// [`ReadError`] where the file cannot be read; a snapshot that reads but does not match its own digest
    /// is passed over.
    pub fn latest_snapshot(&self, schema_hash: &[u8; 32]) -> Result<Option<Snapshot>, ReadError> {
        let last = self.last().map_or(0, |last| last.sequence);
        let mut statement = self.reading()?.prepare_cached(
            "SELECT sequence, digest, body FROM snapshots
             WHERE schema_hash = ? AND sequence <= ? ORDER BY sequence DESC",
        )?;
        let mut records = statement.query(params![schema_hash, last.cast_signed()])?;
        while let Some(record) = records.next()? {
            let snapshot = Snapshot { sequence: unsigned(record, 0)?, bytes: record.get(2)? };
            let digest: Vec<u8> = record.get(1)?;
            if Sha256::digest(&snapshot.bytes).as_slice() == digest {
                return Ok(Some(snapshot));
            }
            tracing::warn!(sequence = snapshot.sequence, "a damaged snapshot is passed over");
        }
        Ok(None)
    }
}

fn save(
    connection: &mut Connection,
    sequence: u64,
    schema_hash: &[u8; 32],
    bytes: &[u8],
) -> rusqlite::Result<()> {
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    transaction.execute(
        "INSERT OR REPLACE INTO snapshots (sequence, schema_hash, digest, body) VALUES (?, ?, ?, ?)",
        params![sequence.cast_signed(), schema_hash, Sha256::digest(bytes).as_slice(), bytes],
    )?;
    transaction.execute(
        "DELETE FROM snapshots WHERE sequence NOT IN
         (SELECT sequence FROM snapshots ORDER BY sequence DESC LIMIT ?)",
        [KEPT_SNAPSHOTS.cast_signed()],
    )?;
    transaction.commit()
}
