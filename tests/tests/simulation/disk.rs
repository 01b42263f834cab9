//! The server's disk: a real journal that outlives the server's process, and takes simulated time.
//!
//! The floor hands its batches over as always. Each is written by the journal's own code after a while, and
//! the floor hears of it after another: a server that is killed between the two leaves entries that nobody
//! was told of, one that is killed before leaves none.

use std::sync::{Arc, Mutex, MutexGuard};

use futures_util::FutureExt;
use futures_util::future::BoxFuture;
use turnabout_protocol::units::FloorMs;
use turnabout_server::demo::dice::Dice;
use turnabout_server::journal::{
    Batch, CommitError, Failure, Fault, Journal, Options, Row, Storage, StoredAnswer, WriteError,
};
use turnabout_server::live::Keeper;

use crate::pause::pause;
use crate::plan::range;

/// The disk.
#[derive(Clone)]
pub(crate) struct Disk(Arc<Mutex<Inside>>);

struct Inside {
    /// `None` while a server that starts has it.
    journal: Option<Journal>,
    dice: Dice,
    slow: bool,
    lies: bool,
    /// What a disk that lies has not written yet.
    unwritten: Vec<Batch>,
    counts: Counts,
}

/// What became of the batches that were handed over.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Counts {
    handed: u32,
    written: u32,
    told: u32,
}

impl Counts {
    /// Batches that were never written: the server was killed first.
    pub(crate) const fn unwritten(self) -> u32 {
        self.handed - self.written
    }

    /// Batches that were written, and the floor was killed before it heard of that.
    pub(crate) const fn untold(self) -> u32 {
        self.written - self.told
    }
}

/// Batches that a disk that lies still holds in its cache.
const CACHED: usize = 3;

impl Disk {
    /// An empty disk; one that `lies` says that a batch is durable before it is.
    pub(crate) fn new(seed: u64, lies: bool) -> Self {
        let journal = Journal::open(&Storage::Memory, Options::default()).expect("memory");
        let dice = Dice::for_person(seed, 1);
        let inside = Inside {
            journal: Some(journal),
            dice,
            slow: false,
            lies,
            unwritten: Vec::new(),
            counts: Counts::default(),
        };
        Self(Arc::new(Mutex::new(inside)))
    }

    fn inside(&self) -> MutexGuard<'_, Inside> {
        self.0.lock().expect("no panic under the lock")
    }

    /// From now on a commit takes up to a second, or as long as usual again.
    pub(crate) fn slow(&self, slow: bool) {
        self.inside().slow = slow;
    }

    /// Gives the journal to a server that starts.
    pub(crate) fn take(&self) -> Journal {
        let mut inside = self.inside();
        inside.unwritten.clear();
        inside.journal.take().expect("one server at a time")
    }

    /// Takes it back, and keeps what that server hands over.
    pub(crate) fn keep(&self, journal: Journal) -> Box<dyn Keeper> {
        self.inside().journal = Some(journal);
        Box::new(self.clone())
    }

    /// Every row after this sequence.
    pub(crate) fn rows_after(&self, sequence: u64) -> Vec<Row> {
        let mut rows = Vec::new();
        let read = self.journal(|journal| {
            journal.rows_after(sequence, |row| {
                rows.push(row);
                Ok::<_, turnabout_server::journal::ReadError>(())
            })
        });
        read.expect("a sound journal");
        rows
    }

    /// Every answer.
    pub(crate) fn answers(&self) -> Vec<StoredAnswer> {
        let mut answers = Vec::new();
        let read = self.journal(|journal| {
            journal.answers_since(FloorMs(i64::MIN), |answer| {
                answers.push(answer);
                Ok::<_, turnabout_server::journal::ReadError>(())
            })
        });
        read.expect("a sound journal");
        answers
    }

    /// What became of the batches so far.
    pub(crate) fn counts(&self) -> Counts {
        self.inside().counts
    }

    /// Writes what a disk that lies holds: it was switched off in order.
    pub(crate) fn settle(&self) {
        let mut inside = self.inside();
        for batch in std::mem::take(&mut inside.unwritten) {
            inside.append(&batch).expect("batches in order");
        }
    }

    fn journal<T>(&self, read: impl FnOnce(&Journal) -> T) -> T {
        read(self.inside().journal.as_ref().expect("no server is just starting"))
    }

    /// How long until the next batch is written, and how long until the floor hears of it.
    fn delays(&self) -> (u64, u64) {
        let mut inside = self.inside();
        let most = if inside.slow { 1_000 } else { 8 };
        (range(&mut inside.dice, 1, most), range(&mut inside.dice, 1, most))
    }

    fn append(&self, batch: Batch) -> Result<u64, CommitError> {
        let mut inside = self.inside();
        if !inside.lies {
            return inside.append(&batch);
        }
        let last = batch.rows.last().map_or(0, |row| row.sequence);
        inside.unwritten.push(batch);
        if inside.unwritten.len() > CACHED {
            let oldest = inside.unwritten.remove(0);
            inside.append(&oldest)?;
        }
        Ok(last)
    }
}

impl Inside {
    fn append(&mut self, batch: &Batch) -> Result<u64, CommitError> {
        let journal = self.journal.as_mut().expect("no server is just starting");
        journal.append(batch).map(|last| last.map_or(0, |last| last.sequence)).map_err(|error| match error {
            WriteError::Refused(refusal) => CommitError::Refused(refusal),
            WriteError::Fault(fault) => CommitError::Failed(Failure { fault, durable_upto: None }),
        })
    }
}

impl Keeper for Disk {
    fn commit(&self, batch: Batch) -> BoxFuture<'static, Result<u64, CommitError>> {
        let (disk, (write, tell)) = (self.clone(), self.delays());
        self.inside().counts.handed += 1;
        async move {
            pause(write).await;
            let written = disk.append(batch);
            disk.inside().counts.written += 1;
            pause(tell).await;
            disk.inside().counts.told += 1;
            written
        }
        .boxed()
    }

    fn probe(&self) -> BoxFuture<'static, Result<u64, Failure>> {
        let last = self.journal(|journal| journal.last().map_or(0, |last| last.sequence));
        std::future::ready(Ok(last)).boxed()
    }

    fn save_snapshot(&self, sequence: u64, schema_hash: [u8; 32], bytes: Vec<u8>) {
        let saved = self
            .inside()
            .journal
            .as_mut()
            .map(|journal| journal.save_snapshot(sequence, &schema_hash, &bytes));
        saved.expect("no server is just starting").expect("room in memory");
    }

    fn close(self: Box<Self>) -> BoxFuture<'static, Result<(), Fault>> {
        std::future::ready(Ok(())).boxed()
    }
}
