//! Where batches become durable, as the floor's task sees it.
//!
//! In the program that is the journal's thread. A trait stands between the two so that a test can hold a
//! commit back, or let it fail, at an instant of its choice.

use futures_util::FutureExt;
use futures_util::future::BoxFuture;

use crate::journal::{Batch, CommitError, Failure, Fault, Reply, SubmitError, Writer};

/// Where batches become durable, in the order in which they are handed over.
pub trait Keeper: Send + 'static {
    /// Commits a batch: resolves once all of it is durable, to the last durable sequence.
    ///
    /// At most one commit or probe is under way at a time.
    fn commit(&self, batch: Batch) -> BoxFuture<'static, Result<u64, CommitError>>;

    /// Tries whether writing works: resolves to the last durable sequence.
    fn probe(&self) -> BoxFuture<'static, Result<u64, Failure>>;

    /// Saves a state as a cache. How it went does not matter to anybody.
    fn save_snapshot(&self, sequence: u64, schema_hash: [u8; 32], bytes: Vec<u8>);

    /// Finishes what was handed over and closes the file.
    fn close(self: Box<Self>) -> BoxFuture<'static, Result<(), Fault>>;
}

impl Keeper for Writer {
    fn commit(&self, batch: Batch) -> BoxFuture<'static, Result<u64, CommitError>> {
        let submitted = Self::commit(self, batch);
        async move {
            match outcome(submitted).await {
                Some(outcome) => outcome,
                None => Err(CommitError::Failed(gone())),
            }
        }
        .boxed()
    }

    fn probe(&self) -> BoxFuture<'static, Result<u64, Failure>> {
        let submitted = Self::probe(self);
        async move { outcome(submitted).await.unwrap_or_else(|| Err(gone())) }.boxed()
    }

    fn save_snapshot(&self, sequence: u64, schema_hash: [u8; 32], bytes: Vec<u8>) {
        // A failure shows in the journal's own log line and again at the next commit.
        if let Err(error) = Self::save_snapshot(self, sequence, schema_hash, bytes) {
            tracing::warn!(%error, sequence, "no snapshot was saved");
        }
    }

    fn close(self: Box<Self>) -> BoxFuture<'static, Result<(), Fault>> {
        let closed = self.shutdown();
        async move { closed.await.unwrap_or(Err(Fault::Closed)) }.boxed()
    }
}

/// `None` where the thread has not taken the request or has ended.
async fn outcome<T>(submitted: Result<Reply<T>, SubmitError>) -> Option<T> {
    submitted.ok()?.await.ok()
}

/// What is durable is not known to anybody any more.
const fn gone() -> Failure {
    Failure { fault: Fault::Closed, durable_upto: None }
}
