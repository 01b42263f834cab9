//! The disk does not take what it should: what holds, what never happened, and trying again.

use std::pin::Pin;

use tokio::time::{Duration, Sleep, sleep};
use turnabout_protocol::ids::NoteId;
use turnabout_protocol::refusal::WriteTrouble;

use super::Task;
use super::answers::Lost;
use crate::journal::{Failure, Fault};

/// How often writing is tried while it does not work, in real time: soon enough that nobody gives up, and
/// no load on a disk that is in trouble.
const PROBE_EVERY: Duration = Duration::from_secs(1);

/// Writing does not work.
pub(super) struct Trouble {
    writing: WriteTrouble,
    probe: Pin<Box<Sleep>>,
}

impl Trouble {
    fn new(writing: WriteTrouble) -> Self {
        Self { writing, probe: Box::pin(sleep(PROBE_EVERY)) }
    }

    /// What is wrong.
    pub(super) const fn writing(&self) -> WriteTrouble {
        self.writing
    }
}

/// Returns when writing should be tried again; never while it works.
pub(super) async fn time_to_probe(trouble: &mut Option<Trouble>) {
    match trouble {
        Some(trouble) => trouble.probe.as_mut().await,
        None => std::future::pending().await,
    }
}

impl Task {
    /// A batch or a probe failed.
    pub(super) fn failed(&mut self, failure: &Failure) {
        let writing = match &failure.fault {
            Fault::Full => WriteTrouble::DiskFull,
            Fault::Damaged(_) | Fault::Io(_) => WriteTrouble::DiskFault,
            // Says only that the trouble before has not ended.
            Fault::Closed => self.trouble.as_ref().map_or(WriteTrouble::DiskFault, Trouble::writing),
        };
        if self.trouble.is_none() {
            tracing::error!(fault = %failure.fault, durable_upto = failure.durable_upto, "not saving");
        }
        self.trouble = Some(Trouble::new(writing));
        // Where nobody knows yet, who waits goes on waiting: the next probe may tell.
        if let Some(durable) = failure.durable_upto {
            self.go_back_to(durable, Lost::NotSaving(writing));
        }
    }

    /// A probe came back.
    pub(super) fn probed(&mut self, outcome: Result<u64, Failure>) {
        match outcome {
            Err(failure) => self.failed(&failure),
            Ok(durable) => {
                if let Some(trouble) = self.trouble.take() {
                    self.go_back_to(durable, Lost::NotSaving(trouble.writing));
                    tracing::info!(durable, "saving again");
                }
                self.run_due();
            }
        }
    }

    /// A batch cannot be written as it is: a fault of the program, not of the disk. Its taps are refused.
    pub(super) fn batch_unfit(&mut self, error: &dyn std::error::Error) {
        tracing::error!(%error, "a batch is unfit for the journal");
        self.go_back_to(self.truth.durable().sequence, Lost::Internal);
    }

    /// Entries up to `durable` count, later ones never happened; everybody who waits hears so.
    fn go_back_to(&mut self, durable: u64, lost: Lost) {
        self.truth.settle(durable);
        self.truth.drop_pending();
        let last = self.truth.durable().sequence;
        if last != durable {
            tracing::error!(durable, last, "the journal does not end where the floor does");
        }
        self.ledger.forget_after(last);
        self.recent.forget_after(last);
        self.texts.forget_after(last, NoteId(self.truth.durable().last_note));
        self.names.forget_after(last);
        self.open_answers.clear();
        self.handed = last;
        self.answers.settle(last, lost);
        self.publish();
    }
}
