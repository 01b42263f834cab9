//! The floor's task: the one owner of the state. Everybody else sends it messages.
//!
//! It never waits for the disk. Commands are decided on the state in memory; their rows gather in the open
//! batch while the batch before is on its way to the disk, at most one at a time. Whatever leaves the task
//! waits until everything it rests on is durable.

mod answers;
mod entry;
mod names;
mod notes;
mod plan;
mod seat;
mod tap;
mod time;
mod trouble;
mod undo;

use std::sync::Arc;

use futures_util::future::BoxFuture;
use tokio::sync::{mpsc, oneshot};
use tokio::time::{Duration, Interval, MissedTickBehavior};
use turnabout_protocol::units::FloorMs;
use uuid::Uuid;

use self::answers::Answers;
use self::names::Called;
use self::notes::Texts;
use self::plan::Course;
use self::seat::scene;
use self::time::woken;
use self::trouble::Trouble;
use super::clock::{FloorClock, Wall};
use super::handle::{Health, Input};
use super::hub::Hub;
use super::keeper::Keeper;
use super::ledger::Ledger;
use super::planner::Planner;
use super::snapshot;
use super::truth::Truth;
use super::zone::Zone;
use crate::floor::config::{Names, Notes};
use crate::floor::planning::Found;
use crate::floor::state::State;
use crate::floor::undo::RecentTaps;
use crate::journal::{Batch, CommitError, Failure, StoredAnswer, codec};

/// Messages taken at once: enough to fill a batch, few enough that a commit that has ended is not kept
/// waiting.
const INPUTS_AT_ONCE: usize = 256;
/// Entries gathered while a batch is on its way: a slow disk and everybody tapping. Beyond it, `busy`.
pub const OPEN_ENTRIES: usize = 4_096;
/// How often the wall clock is looked at, in real time.
const MAP_EVERY: Duration = Duration::from_secs(10);

/// What the task is made of at its start.
pub(super) struct Parts {
    pub(super) state: State,
    /// The entry of the last snapshot.
    pub(super) saved: u64,
    pub(super) names: Names,
    pub(super) notes: Notes,
    pub(super) ledger: Ledger,
    pub(super) epoch: Uuid,
    pub(super) clock: FloorClock,
    pub(super) wall: Arc<dyn Wall>,
    pub(super) keeper: Box<dyn Keeper>,
    pub(super) planner: Box<dyn Planner>,
    pub(super) inbox: mpsc::Receiver<Input>,
}

/// What is on its way to the disk.
enum Flight {
    Nothing,
    Commit(BoxFuture<'static, Result<u64, CommitError>>),
    Probe(BoxFuture<'static, Result<u64, Failure>>),
}

/// What the task does next.
enum Turn {
    Inputs,
    Committed(Result<u64, CommitError>),
    Probed(Result<u64, Failure>),
    ProbeNow,
    Due,
    Found(Found),
    MapClock,
    /// Nobody can speak to it any more.
    Abandoned,
}

/// The floor's task.
pub(super) struct Task {
    truth: Truth,
    names: Called,
    texts: Texts,
    ledger: Ledger,
    /// Taps that can still be taken back. They need not survive a restart: nobody waits ten seconds for one.
    recent: RecentTaps,
    hub: Hub,
    answers: Answers,
    epoch: Uuid,
    clock: FloorClock,
    wall: Arc<dyn Wall>,
    zone: Zone,
    keeper: Box<dyn Keeper>,
    inbox: mpsc::Receiver<Input>,
    inputs: Vec<Input>,
    course: Course,
    flight: Flight,
    /// The last entry that was handed over.
    handed: u64,
    /// Accepted answers that go with the open batch.
    open_answers: Vec<StoredAnswer>,
    trouble: Option<Trouble>,
    wake: Option<(FloorMs, BoxFuture<'static, ()>)>,
    /// Timers failed in the state after this entry; they rest until it changes.
    stuck: Option<u64>,
    map_clock: Interval,
    snapshot_at: u64,
}

impl Task {
    pub(super) fn new(parts: Parts) -> Self {
        let Parts { state, saved, names, notes, ledger, epoch, clock, wall, keeper, planner, inbox } = parts;
        let mut map_clock = tokio::time::interval(MAP_EVERY);
        map_clock.set_missed_tick_behavior(MissedTickBehavior::Delay);
        let handed = state.sequence;
        let zone = Zone::of(&state.floor);
        Self {
            truth: Truth::new(state),
            names: Called::new(names),
            texts: Texts::new(notes),
            ledger,
            recent: RecentTaps::default(),
            hub: Hub::default(),
            answers: Answers::default(),
            epoch,
            clock,
            wall,
            zone,
            keeper,
            inbox,
            inputs: Vec::new(),
            course: Course::new(planner),
            flight: Flight::Nothing,
            handed,
            open_answers: Vec::new(),
            trouble: None,
            wake: None,
            stuck: None,
            map_clock,
            snapshot_at: saved + snapshot::EVERY,
        }
    }

    /// Runs until it is told to shut down, or until nobody can speak to it any more.
    pub(super) async fn run(mut self) {
        // What was left of an evening is planned at once, and not only when somebody taps.
        self.hand_over();
        let told = loop {
            match self.next().await {
                Turn::Inputs => {
                    if let Some(told) = self.take_inputs() {
                        break Some(told);
                    }
                }
                Turn::Committed(outcome) => self.committed(outcome),
                Turn::Probed(outcome) => self.probed(outcome),
                Turn::ProbeNow => self.flight = Flight::Probe(self.keeper.probe()),
                Turn::Due => {
                    self.run_due();
                    self.plan_due();
                }
                Turn::Found(found) => self.found(found),
                Turn::MapClock => self.map_clock(),
                Turn::Abandoned => break None,
            }
            self.hand_over();
            self.show_plan();
        };
        self.finish().await;
        if let Some(told) = told {
            let _ = told.send(());
        }
    }

    async fn next(&mut self) -> Turn {
        self.set_wake();
        let Self { flight, inbox, inputs, trouble, wake, map_clock, course, .. } = self;
        let in_flight = !matches!(flight, Flight::Nothing);
        tokio::select! {
            biased;
            turn = landed(flight), if in_flight => turn,
            () = trouble::time_to_probe(trouble), if !in_flight => Turn::ProbeNow,
            () = woken(wake) => Turn::Due,
            _ = map_clock.tick() => Turn::MapClock,
            found = course.planner.next() => Turn::Found(found),
            // Last, since it can be ready all the time and the others cannot.
            taken = inbox.recv_many(inputs, INPUTS_AT_ONCE) => {
                if taken == 0 { Turn::Abandoned } else { Turn::Inputs }
            }
        }
    }

    /// Takes what has come in; who told the task to end is given back.
    fn take_inputs(&mut self) -> Option<oneshot::Sender<()>> {
        let mut told = None;
        let mut inputs = std::mem::take(&mut self.inputs);
        for input in inputs.drain(..) {
            match input {
                Input::Tap(tap) => self.tap(*tap),
                Input::Join { role, topic, reply } => {
                    let _ = reply.send(self.join(&role, &topic));
                }
                Input::Ask { question, reply } => {
                    let _ = reply.send(self.tell(&question));
                }
                Input::Evening { reply } => {
                    let _ = reply.send(self.evening());
                }
                Input::Enter { entry, reply } => self.enter(*entry, reply),
                Input::Health { reply } => {
                    let _ = reply.send(self.health());
                }
                Input::Advance { by, reply } => self.advance(by, reply),
                Input::Shutdown { reply } => told = Some(reply),
            }
        }
        self.inputs = inputs;
        told
    }

    fn health(&self) -> Health {
        let writing = self.trouble.as_ref().map(Trouble::writing);
        Health { sequence: self.truth.durable().sequence, writing }
    }

    fn open_entries(&self) -> usize {
        self.truth.pending_after(self.handed).len()
    }

    fn is_full(&self) -> bool {
        self.open_entries() >= OPEN_ENTRIES
    }

    /// Hands the open batch to the disk, unless one is on its way. What it does to the plan goes with it.
    fn hand_over(&mut self) {
        if !matches!(self.flight, Flight::Nothing) || self.trouble.is_some() {
            return;
        }
        self.plan();
        if self.open_entries() == 0 {
            return;
        }
        let rows = match self.truth.pending_after(self.handed).map(codec::encode).collect() {
            Ok(rows) => rows,
            Err(error) => return self.batch_unfit(&error),
        };
        let answers = std::mem::take(&mut self.open_answers);
        let notes = self.texts.hand_over();
        let names = self.names.hand_over();
        self.handed = self.truth.state().sequence;
        self.flight = Flight::Commit(self.keeper.commit(Batch { rows, answers, names, notes }));
    }

    fn committed(&mut self, outcome: Result<u64, CommitError>) {
        match outcome {
            Ok(durable) => {
                self.truth.settle(durable);
                self.texts.settle(durable);
                self.names.settle(durable);
                self.answers.release(self.truth.durable().sequence);
                // Before the views, so that the disk is not idle meanwhile.
                self.hand_over();
                self.publish();
                self.save_snapshot_now_and_then();
            }
            Err(CommitError::Failed(failure)) => self.failed(&failure),
            Err(CommitError::Refused(refusal)) => self.batch_unfit(&refusal),
        }
    }

    fn publish(&mut self) {
        let scene =
            scene(&self.truth, (self.names.known(), &self.texts), &self.course, self.epoch, self.now());
        self.hub.publish(&scene);
        self.course.shown();
    }

    /// Shows what is new of the plan, unless a batch that does so anyway is on its way.
    fn show_plan(&mut self) {
        if matches!(self.flight, Flight::Nothing) && self.course.has_news() {
            self.publish();
        }
    }

    fn save_snapshot_now_and_then(&mut self) {
        if self.truth.durable().sequence >= self.snapshot_at {
            self.save_snapshot();
        }
    }

    fn save_snapshot(&mut self) {
        let state = self.truth.durable();
        self.keeper.save_snapshot(state.sequence, snapshot::schema_hash(), snapshot::encode(state));
        self.snapshot_at = state.sequence + snapshot::EVERY;
    }

    /// Takes what is still in the inbox, commits it, and closes the journal.
    async fn finish(mut self) {
        self.inbox.close();
        while let Some(input) = self.inbox.recv().await {
            match input {
                Input::Tap(tap) => self.tap(*tap),
                // Whoever asks hears that the floor has gone.
                Input::Join { .. }
                | Input::Ask { .. }
                | Input::Evening { .. }
                | Input::Enter { .. }
                | Input::Health { .. }
                | Input::Advance { .. }
                | Input::Shutdown { .. } => {}
            }
        }
        self.hand_over();
        while let Flight::Commit(_) = self.flight {
            if let Turn::Committed(outcome) = landed(&mut self.flight).await {
                self.committed(outcome);
            }
        }
        if self.trouble.is_none() && self.truth.durable().sequence > 0 {
            self.save_snapshot();
        }
        if let Err(fault) = self.keeper.close().await {
            tracing::error!(%fault, "the journal did not close in order; what was acknowledged is durable");
        }
    }
}

/// What was on its way has landed.
async fn landed(flight: &mut Flight) -> Turn {
    let turn = match flight {
        Flight::Nothing => std::future::pending().await,
        Flight::Commit(commit) => Turn::Committed(commit.await),
        Flight::Probe(probe) => Turn::Probed(probe.await),
    };
    *flight = Flight::Nothing;
    turn
}
