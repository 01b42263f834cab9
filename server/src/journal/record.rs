//! What goes into the journal and comes out of it.

use std::borrow::Cow;

use turnabout_protocol::ids::{ClientId, CommandId, DeviceId, NoteId};
use turnabout_protocol::units::FloorMs;

use crate::floor::config::{Names, Notes, Person};

/// One thing that happened, for good.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// Place in the journal: 1 for the first row, each next one larger by exactly 1.
    pub sequence: u64,
    /// When the floor took it; never before the row ahead of it.
    pub recorded: FloorMs,
    /// What it is. A kind never changes its meaning.
    pub kind: Cow<'static, str>,
    /// Which form of that kind `json` has.
    pub version: u16,
    /// The event. Numeric ids only, never a name or free text: a row cannot be erased.
    pub json: String,
}

/// What an accepted command was answered, so that the same tap sent again gets the same answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StoredAnswer {
    /// Who sent the command.
    pub device: DeviceId,
    /// Which command of that device.
    pub command: CommandId,
    /// SHA-256 of the command's body: the same id with another body is not the same tap.
    pub body_hash: [u8; 32],
    /// When it was answered.
    pub recorded: FloorMs,
    /// The newest row the answer rests on: the command's own last one, or one already there.
    pub sequence: u64,
    /// The answer. Numeric ids only, as in [`Row::json`].
    pub json: String,
}

/// A change of the display name of a person.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NameChange {
    /// The person is now called so; an earlier name is erased.
    Set {
        /// Whose name.
        person: Person,
        /// The name, at most [`MAX_NAME_BYTES`](super::MAX_NAME_BYTES) bytes.
        name: String,
    },
    /// The name is erased, from the files too.
    Erase {
        /// Whose name.
        person: Person,
    },
}

/// A change of the texts of notes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoteChange {
    /// A note was written.
    Keep {
        /// Its number, as the entry has it.
        note: NoteId,
        /// The client it is about, where it is about one.
        client: Option<ClientId>,
        /// The text, at most [`MAX_NOTE_BYTES`](super::MAX_NOTE_BYTES) bytes.
        text: String,
    },
    /// The text of a note is erased, from the files too. That there was a note stays.
    Erase {
        /// Which one.
        note: NoteId,
    },
    /// The texts of all notes about a client are erased, and of those about the client's sets.
    EraseOf {
        /// Whose.
        client: ClientId,
    },
}

/// What is committed together: all of it or nothing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Batch {
    /// The next rows, in order.
    pub rows: Vec<Row>,
    /// Answers that rest on these rows or earlier ones.
    pub answers: Vec<StoredAnswer>,
    /// Name changes, applied in order.
    pub names: Vec<NameChange>,
    /// Changes of the texts of notes, applied in order.
    pub notes: Vec<NoteChange>,
}

impl Batch {
    /// Whether there is nothing to commit.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.rows.is_empty() && self.answers.is_empty() && self.names.is_empty() && self.notes.is_empty()
    }
}

/// The end of the journal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Last {
    /// Sequence of the last row.
    pub sequence: u64,
    /// When it was recorded.
    pub recorded: FloorMs,
}

/// A state of the floor after a row: a cache that saves replaying from the first row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Snapshot {
    /// The last row the state includes.
    pub sequence: u64,
    /// The state, as it was handed in.
    pub bytes: Vec<u8>,
}

/// A piece of what the floor is rebuilt from, in the order in which
/// [`Journal::replay`](super::Journal::replay) hands them out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Part {
    /// First, where there is a usable one: where to start instead of at the first row.
    Snapshot(Snapshot),
    /// Then the rows after it, in order, in pieces.
    Rows(Vec<Row>),
    /// Then the answers asked for, oldest first, in pieces.
    Answers(Vec<StoredAnswer>),
    /// Then the texts of the latest notes, where there are any.
    Notes(Notes),
    /// Last, always: every display name. Its arrival says that the replay is complete.
    Names(Names),
}
