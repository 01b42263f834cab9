//! A programme that a coach enters on a page instead of in a file: what is asked of the floor, and what it says.

use turnabout_protocol::ids::{GroupId, Key};
use turnabout_protocol::refusal::WriteTrouble;

use crate::floor::changes::InUse;
use crate::floor::config::{Names, Programme};

/// The programme as it is on disk.
#[derive(Clone, Debug)]
pub struct EveningNow {
    /// The programme.
    pub programme: Programme,
    /// The names of everybody, durable too.
    pub names: Names,
    /// Names this programme: whoever enters another says which one was seen.
    pub revision: u64,
    /// Who set it, where a coach did.
    pub set: Option<SetBy>,
    /// The groups whose sessions have begun and are not over: their plans are fixed.
    pub begun: Vec<GroupId>,
}

/// Which coach set a programme, and when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetBy {
    /// The coach's key; nothing where it was a file.
    pub coach: Option<Key>,
    /// When, in the floor's zone (RFC 3339).
    pub when: String,
}

/// A programme that somebody enters.
#[derive(Debug)]
pub struct EntryIn {
    /// The coach who enters it.
    pub coach: Key,
    /// The programme as it is to be.
    pub programme: Programme,
    /// The names of its clients.
    pub names: Names,
    /// The revision that the coach saw.
    pub revision: u64,
    /// Whether it is only looked what would come of it.
    pub dry_run: bool,
}

/// What came of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Entered {
    /// It is the programme now, under this revision, and on disk. Of a dry run: it could be.
    Taken {
        /// The revision, or the one there is where it was a dry run.
        revision: u64,
        /// Whether anything differs from what there was.
        differs: bool,
    },
    /// It has been changed since, and by whom; nobody has set any where the revision is of none.
    Changed(Option<SetBy>),
    /// It would change what has begun.
    InUse(Vec<InUse>),
    /// The floor has no such coach.
    NoCoach,
    /// More waits for the disk than is taken.
    Busy,
    /// The floor cannot write.
    NotSaving(WriteTrouble),
    /// It would break what must always hold: a fault of the program.
    Unsound,
}
