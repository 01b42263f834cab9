//! The one thread that owns the journal while the floor runs.
//!
//! The floor never waits for the disk: it hands a batch over and goes on. Everything that touches the file
//! goes through this thread's queue, in order, so nothing is read that is not durable and nothing is
//! written past a failure.
//!
//! After a failed commit nobody knows whether its rows are on the disk. The thread opens the file anew and
//! says how far the journal is durable: rows up to there count as accepted, later ones never happened. The
//! floor rebuilds its state by [`Writer::replay`] and asks [`Writer::probe`] from time to time whether
//! writing works again; while the file cannot be opened, each request tries again.

use std::io;
use std::thread;

use tokio::sync::{mpsc, oneshot};
use turnabout_protocol::units::FloorMs;

use super::error::{Fault, ReadError, Refusal, WriteError};
use super::record::{Batch, Last, Part};
use super::store::Journal;

/// Requests waiting for the thread: the floor has one batch on its way at a time, and beside it perhaps a
/// snapshot and a probe or replay.
pub const QUEUE: usize = 4;
/// Parts of a replay read ahead of the one who takes them.
const PARTS_AHEAD: usize = 2;

/// Where an outcome arrives. An error from it means that the thread has ended without one.
pub type Reply<T> = oneshot::Receiver<T>;

/// What a failed write came to.
#[derive(Debug, thiserror::Error)]
#[error("{fault}")]
pub struct Failure {
    /// What went wrong.
    pub fault: Fault,
    /// Rows up to this one are durable (0: none), all later ones never happened. `None` while the file
    /// cannot be opened: ask again by [`Writer::probe`].
    pub durable_upto: Option<u64>,
}

/// Why a batch or a snapshot was not acknowledged.
#[derive(Debug, thiserror::Error)]
pub enum CommitError {
    /// It does not follow the journal; nothing was written, and writing goes on.
    #[error(transparent)]
    Refused(Refusal),
    /// The disk failed.
    #[error(transparent)]
    Failed(Failure),
}

/// Why a request was not taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SubmitError {
    /// [`QUEUE`] requests wait already.
    #[error("the journal's queue is full")]
    Busy,
    /// The thread has ended.
    #[error("the journal's thread has ended")]
    Gone,
}

#[derive(Debug)]
enum Request {
    Commit { batch: Batch, reply: oneshot::Sender<Result<u64, CommitError>> },
    SaveSnapshot { snapshot: NewSnapshot, reply: oneshot::Sender<Result<(), CommitError>> },
    Probe { reply: oneshot::Sender<Result<u64, Failure>> },
    Replay { schema_hash: [u8; 32], answers_since: FloorMs, parts: mpsc::Sender<Result<Part, ReadError>> },
    SetMaxPages { max_pages: Option<u32>, reply: oneshot::Sender<Result<(), Fault>> },
}

#[derive(Debug)]
struct NewSnapshot {
    sequence: u64,
    schema_hash: [u8; 32],
    bytes: Vec<u8>,
}

/// The floor's end of the thread. Dropping it ends the thread once the queue is done.
#[derive(Debug)]
pub struct Writer {
    requests: mpsc::Sender<Request>,
    finished: Reply<Result<(), Fault>>,
}

impl Writer {
    /// Starts the thread, which owns the journal from now on.
    ///
    /// # Errors
    /// Where the system has no thread left.
    pub fn start(journal: Journal) -> io::Result<Self> {
        let (requests, inbox) = mpsc::channel(QUEUE);
        let (done, finished) = oneshot::channel();
        thread::Builder::new().name("journal".to_owned()).spawn(move || {
            // Nobody may be waiting for the end.
            let _ = done.send(run(journal, inbox));
        })?;
        Ok(Self { requests, finished })
    }

    /// Commits a batch. The reply gives the last durable row (0: none) once all of it is durable.
    ///
    /// # Errors
    /// [`SubmitError`]; the batch is then lost like one that failed.
    pub fn commit(&self, batch: Batch) -> Result<Reply<Result<u64, CommitError>>, SubmitError> {
        let (reply, outcome) = oneshot::channel();
        self.submit(Request::Commit { batch, reply })?;
        Ok(outcome)
    }

    /// Saves a snapshot; see [`Journal::save_snapshot`].
    ///
    /// # Errors
    /// [`SubmitError`]; a snapshot is a cache and may be let go.
    pub fn save_snapshot(
        &self,
        sequence: u64,
        schema_hash: [u8; 32],
        bytes: Vec<u8>,
    ) -> Result<Reply<Result<(), CommitError>>, SubmitError> {
        let (reply, outcome) = oneshot::channel();
        let snapshot = NewSnapshot { sequence, schema_hash, bytes };
        self.submit(Request::SaveSnapshot { snapshot, reply })?;
        Ok(outcome)
    }

    /// Tries whether writing works; see [`Journal::probe`]. The reply gives the last durable row.
    ///
    /// # Errors
    /// [`SubmitError`].
    pub fn probe(&self) -> Result<Reply<Result<u64, Failure>>, SubmitError> {
        let (reply, outcome) = oneshot::channel();
        self.submit(Request::Probe { reply })?;
        Ok(outcome)
    }

    /// Reads what a floor is rebuilt from; see [`Journal::replay`]. It is complete with [`Part::Names`]; a
    /// stream that ends before it has failed. The thread does nothing else until all parts are taken or
    /// the receiver is dropped, so the taker must not wait for another reply meanwhile.
    ///
    /// # Errors
    /// [`SubmitError`].
    pub fn replay(
        &self,
        schema_hash: [u8; 32],
        answers_since: FloorMs,
    ) -> Result<mpsc::Receiver<Result<Part, ReadError>>, SubmitError> {
        let (parts, stream) = mpsc::channel(PARTS_AHEAD);
        self.submit(Request::Replay { schema_hash, answers_since, parts })?;
        Ok(stream)
    }

    /// Sets or lifts the page limit; see [`Journal::set_max_pages`].
    ///
    /// # Errors
    /// [`SubmitError`].
    pub fn set_max_pages(&self, max_pages: Option<u32>) -> Result<Reply<Result<(), Fault>>, SubmitError> {
        let (reply, outcome) = oneshot::channel();
        self.submit(Request::SetMaxPages { max_pages, reply })?;
        Ok(outcome)
    }

    /// Ends the thread: what waits is finished, the log emptied, the file closed and its folder free again
    /// when the reply arrives.
    #[must_use = "the journal is closed only when the reply arrives"]
    pub fn shutdown(self) -> Reply<Result<(), Fault>> {
        self.finished
    }

    fn submit(&self, request: Request) -> Result<(), SubmitError> {
        self.requests.try_send(request).map_err(|error| match error {
            mpsc::error::TrySendError::Full(_) => SubmitError::Busy,
            mpsc::error::TrySendError::Closed(_) => SubmitError::Gone,
        })
    }
}

fn run(mut journal: Journal, mut inbox: mpsc::Receiver<Request>) -> Result<(), Fault> {
    while let Some(request) = inbox.blocking_recv() {
        serve(&mut journal, request);
    }
    journal.close()
}

/// A reply nobody waits for any more is no failure of the journal.
fn serve(journal: &mut Journal, request: Request) {
    match request {
        Request::Commit { batch, reply } => {
            let outcome = journal.append(&batch).map(sequence).map_err(|error| settle(journal, error));
            let _ = reply.send(outcome);
        }
        Request::SaveSnapshot { snapshot: NewSnapshot { sequence, schema_hash, bytes }, reply } => {
            let outcome = journal.save_snapshot(sequence, &schema_hash, &bytes);
            let _ = reply.send(outcome.map_err(|error| settle(journal, error)));
        }
        Request::Probe { reply } => {
            let _ = reply.send(probe(journal));
        }
        Request::Replay { schema_hash, answers_since, parts } => {
            replay(journal, &schema_hash, answers_since, &parts);
        }
        Request::SetMaxPages { max_pages, reply } => {
            let _ = reply.send(journal.set_max_pages(max_pages));
        }
    }
}

fn settle(journal: &mut Journal, error: WriteError) -> CommitError {
    match error {
        WriteError::Refused(refusal) => CommitError::Refused(refusal),
        WriteError::Fault(fault) => CommitError::Failed(failure(journal, fault)),
    }
}

/// Opens the file anew after a fault and says how far it is durable.
fn failure(journal: &mut Journal, fault: Fault) -> Failure {
    tracing::error!(%fault, "the journal could not be written");
    Failure { fault, durable_upto: reopen(journal) }
}

fn reopen(journal: &mut Journal) -> Option<u64> {
    match journal.reopen() {
        Ok(last) => Some(sequence(last)),
        Err(error) => {
            tracing::error!(%error, "the journal could not be opened again");
            None
        }
    }
}

fn probe(journal: &mut Journal) -> Result<u64, Failure> {
    if !journal.is_open() && reopen(journal).is_none() {
        return Err(Failure { fault: Fault::Closed, durable_upto: None });
    }
    match journal.probe() {
        Ok(()) => Ok(sequence(journal.last())),
        Err(fault) => Err(failure(journal, fault)),
    }
}

fn replay(
    journal: &mut Journal,
    schema_hash: &[u8; 32],
    answers_since: FloorMs,
    parts: &mpsc::Sender<Result<Part, ReadError>>,
) {
    if !journal.is_open() {
        // Where this fails, the read below says that the journal is closed.
        reopen(journal);
    }
    let sent = journal.replay(schema_hash, answers_since, |part| {
        parts.blocking_send(Ok(part)).map_err(|_| Stop::TakerLeft)
    });
    match sent {
        Ok(()) | Err(Stop::TakerLeft) => {}
        Err(Stop::Read(error)) => {
            let _ = parts.blocking_send(Err(error));
        }
    }
}

/// Why a replay ended early.
enum Stop {
    TakerLeft,
    Read(ReadError),
}

impl From<ReadError> for Stop {
    fn from(error: ReadError) -> Self {
        Self::Read(error)
    }
}

/// The last sequence, 0 where there is no row.
fn sequence(last: Option<Last>) -> u64 {
    last.map_or(0, |last| last.sequence)
}
