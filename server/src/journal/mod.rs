//! The journal: what happened on the floor, kept in one SQLite file, and nothing else kept anywhere.
//!
//! It knows nothing of the floor's state. Rows, answers and snapshots are opaque to it; what it promises is
//! their order, their durability and that damage is found rather than served:
//!
//! - a row is there for good once [`Journal::append`] has returned, through `kill -9` and power loss;
//! - sequences have no gap and `recorded` never runs back;
//! - one answer for each device and command;
//! - a file that is not ours, or newer than this program, is left exactly as it was found;
//! - an erased name or note is gone from the bytes of the files here; backups, and what a disk keeps of blocks it
//!   gave up, are outside its reach.
//!
//! Rows and answers carry numeric ids only. Names and the texts of notes are kept apart, because they must be
//! erasable and the journal is never cut.
//!
//! [`Journal`] is the file; [`Writer`] is the one thread that owns it while the floor runs.

mod append;
pub mod codec;
mod connection;
mod error;
mod folder;
mod header;
mod notes;
mod probe;
mod read;
mod record;
mod schema;
mod snapshot;
mod store;
mod upcast;
mod writer;

pub use append::{MAX_BATCH_BYTES, MAX_BATCH_ITEMS, MAX_NAME_BYTES};
pub use error::{Damage, Fault, OpenError, ReadError, Refusal, WriteError};
pub use notes::MAX_NOTE_BYTES;
pub use read::PART_ITEMS;
pub use record::{Batch, Last, NameChange, NoteChange, Part, Row, Snapshot, StoredAnswer};
pub use schema::{APPLICATION_ID, SCHEMA_VERSION};
pub use snapshot::{KEPT_SNAPSHOTS, MAX_SNAPSHOT_BYTES};
pub use store::{Journal, Options, Storage};
pub use writer::{CommitError, Failure, QUEUE, Reply, SubmitError, Writer};
