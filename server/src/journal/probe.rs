//! Finding out whether writing works again, by writing.

use rusqlite::Connection;

use super::error::Fault;
use super::store::Journal;

/// As much as a large batch of taps. Less could fit into room that a batch would not.
const FILLER_BYTES: i32 = 64 << 10;

impl Journal {
    /// Writes as much as a large batch needs, durably, and takes it away again.
    ///
    /// A change to a page that is already there would succeed on a full disk; a row this large needs pages
    /// of its own and room in the log. It must be committed, because before that SQLite may not have
    /// touched the disk at all. The pages it leaves behind are free ones, which the next batch uses: room
    /// that was found stays found.
    ///
    /// # Errors
    /// [`Fault`]; the journal is then closed until [`Journal::reopen`].
    pub fn probe(&mut self) -> Result<(), Fault> {
        let probed = fill_and_clear(self.writing()?);
        probed.map_err(|error| {
            let fault = error.into();
            self.lose(&fault);
            fault
        })
    }
}

/// Two transactions. A filler left behind by a failure between them is replaced by the next probe.
fn fill_and_clear(connection: &Connection) -> rusqlite::Result<()> {
    connection
        .execute("INSERT OR REPLACE INTO probe (id, filler) VALUES (1, zeroblob(?))", [FILLER_BYTES])?;
    connection.execute("DELETE FROM probe", [])?;
    Ok(())
}
