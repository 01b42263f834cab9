//! A gate between the floor and its journal: the test says when the floor hears of a commit.

use std::sync::{Arc, Mutex};

use futures_util::FutureExt;
use futures_util::future::BoxFuture;
use tokio::sync::watch;
use turnabout_server::journal::{Batch, CommitError, Failure, Fault, Writer};
use turnabout_server::live::Keeper;

/// The gate. Open until it is shut.
#[derive(Clone, Debug)]
pub struct Gate {
    writer: Arc<Mutex<Option<Writer>>>,
    open: watch::Sender<bool>,
    /// How many batches were handed over.
    handed: watch::Sender<usize>,
}

impl Gate {
    pub(super) fn new() -> Self {
        let (open, handed) = (watch::Sender::new(true), watch::Sender::new(0));
        Self { writer: Arc::default(), open, handed }
    }

    pub(super) fn before(self, writer: Writer) -> Box<dyn Keeper> {
        *self.writer.lock().expect("no panic under the lock") = Some(writer);
        Box::new(self)
    }

    /// From now on the floor hears of no commit.
    pub fn shut(&self) {
        self.open.send_replace(false);
    }

    /// It hears of all that were held back, and of those to come.
    pub fn open(&self) {
        self.open.send_replace(true);
    }

    /// How many batches were handed over so far.
    pub fn handed(&self) -> usize {
        *self.handed.borrow()
    }

    /// Returns when so many batches have been handed over.
    pub async fn wait_for(&self, handed: usize) {
        let reached = self.handed.subscribe().wait_for(|now| *now >= handed).await.is_ok();
        assert!(reached, "the gate itself sends");
    }

    /// Limits the journal to so many pages, or lifts the limit.
    pub async fn limit_pages(&self, pages: Option<u32>) {
        let limited = self.with(|writer| writer.set_max_pages(pages)).expect("room for a request");
        limited.await.expect("a journal that answers").expect("an open journal");
    }

    fn with<T>(&self, ask: impl FnOnce(&Writer) -> T) -> T {
        ask(self.writer.lock().expect("no panic under the lock").as_ref().expect("a server that runs"))
    }
}

impl Keeper for Gate {
    fn commit(&self, batch: Batch) -> BoxFuture<'static, Result<u64, CommitError>> {
        let committed = self.with(|writer| Keeper::commit(writer, batch));
        self.handed.send_modify(|handed| *handed += 1);
        let mut open = self.open.subscribe();
        async move {
            let outcome = committed.await;
            let _ = open.wait_for(|open| *open).await;
            outcome
        }
        .boxed()
    }

    fn probe(&self) -> BoxFuture<'static, Result<u64, Failure>> {
        self.with(Keeper::probe)
    }

    fn save_snapshot(&self, sequence: u64, schema_hash: [u8; 32], bytes: Vec<u8>) {
        self.with(|writer| Keeper::save_snapshot(writer, sequence, schema_hash, bytes));
    }

    fn close(self: Box<Self>) -> BoxFuture<'static, Result<(), Fault>> {
        let writer = self.writer.lock().expect("no panic under the lock").take().expect("closed once");
        Keeper::close(Box::new(writer))
    }
}
