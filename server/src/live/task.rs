//! The floor's task: the one owner of the state. Everybody else sends it messages.
//!
//! It never waits for the disk. Commands are decided on the state in memory; their rows gather in the open
//! batch while the batch before is on its way to the disk, at most one at a time. Whatever leaves the task
//! waits until everything it rests on is durable.

mod answers;
mod tap;
mod trouble;

use std::sync::Arc;

use futures_util::future::BoxFuture;
use tokio::sync::{mpsc, oneshot};
use tokio::time::{Duration, Interval, MissedTickBehavior};
use turnabout_protocol::frame::Fault;
use turnabout_protocol::refusal::WriteTrouble;
use turnabout_protocol::role::{Actor, Role, Topic};
use turnabout_protocol::units::{FloorMs, Millis};
use uuid::Uuid;

use self::answers::{Answers, Recipient};
use self::trouble::Trouble;
use super::clock::{Clock, FloorClock, Wall};
use super::handle::{Health, Input, Seat};
use super::hub::{Hub, Scene, WatchError, zone_offset};
use super::keeper::Keeper;
use super::ledger::Ledger;
use super::snapshot;
use super::truth::{Happening, Truth, caught};
use crate::floor::config::{Floor, Names};
use crate::floor::decide::Speaker;
use crate::floor::due;
use crate::floor::event::Event;
use crate::floor::roles;
use crate::floor::state::State;
use crate::journal::{Batch, CommitError, Failure, StoredAnswer, codec};

/// Messages taken at once: enough to fill a batch, few enough that a commit that has ended is not kept
/// waiting.
const INPUTS_AT_ONCE: usize = 256;
/// Entries gathered while a batch is on its way: a slow disk and everybody tapping. Beyond it, `busy`.
pub const OPEN_ENTRIES: usize = 4_096;
/// Due things done in one turn: every set of the largest floor ending at once. The rest comes with the next.
const DUE_AT_ONCE: usize = 1_024;
/// How often the wall clock is looked at, in real time.
const MAP_EVERY: Duration = Duration::from_secs(10);
/// How far floor time and UTC may drift apart before that is written down.
const MAP_SLACK: Millis = Millis::secs(1);

/// What the task is made of at its start.
pub(super) struct Parts {
    pub(super) state: State,
    pub(super) names: Names,
    pub(super) ledger: Ledger,
    pub(super) epoch: Uuid,
    pub(super) clock: FloorClock,
    pub(super) wall: Arc<dyn Wall>,
    pub(super) keeper: Box<dyn Keeper>,
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
    MapClock,
    /// Nobody can speak to it any more.
    Abandoned,
}

/// The floor's task.
pub(super) struct Task {
    truth: Truth,
    names: Names,
    ledger: Ledger,
    hub: Hub,
    answers: Answers,
    epoch: Uuid,
    clock: FloorClock,
    wall: Arc<dyn Wall>,
    keeper: Box<dyn Keeper>,
    inbox: mpsc::Receiver<Input>,
    inputs: Vec<Input>,
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
        let Parts { state, names, ledger, epoch, clock, wall, keeper, inbox } = parts;
        let mut map_clock = tokio::time::interval(MAP_EVERY);
        map_clock.set_missed_tick_behavior(MissedTickBehavior::Delay);
        let handed = state.sequence;
        Self {
            truth: Truth::new(state),
            names,
            ledger,
            hub: Hub::default(),
            answers: Answers::default(),
            epoch,
            clock,
            wall,
            keeper,
            inbox,
            inputs: Vec::new(),
            flight: Flight::Nothing,
            handed,
            open_answers: Vec::new(),
            trouble: None,
            wake: None,
            stuck: None,
            map_clock,
            snapshot_at: handed + snapshot::EVERY,
        }
    }

    /// Runs until it is told to shut down, or until nobody can speak to it any more.
    pub(super) async fn run(mut self) {
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
                Turn::Due => self.run_due(),
                Turn::MapClock => self.map_clock(),
                Turn::Abandoned => break None,
            }
            self.hand_over();
        };
        self.finish().await;
        if let Some(told) = told {
            let _ = told.send(());
        }
    }

    async fn next(&mut self) -> Turn {
        self.set_wake();
        let Self { flight, inbox, inputs, trouble, wake, map_clock, .. } = self;
        let in_flight = !matches!(flight, Flight::Nothing);
        tokio::select! {
            biased;
            turn = landed(flight), if in_flight => turn,
            taken = inbox.recv_many(inputs, INPUTS_AT_ONCE) => {
                if taken == 0 { Turn::Abandoned } else { Turn::Inputs }
            }
            () = woken(wake) => Turn::Due,
            () = trouble::time_to_probe(trouble), if !in_flight => Turn::ProbeNow,
            _ = map_clock.tick() => Turn::MapClock,
        }
    }

    /// Aims the one sleep of the task at what is due next.
    fn set_wake(&mut self) {
        let next = self.next_wake();
        if next != self.wake.as_ref().map(|(at, _)| *at) {
            self.wake = next.map(|at| (at, self.clock.sleep_until(at)));
        }
    }

    /// When something is due, where it could be done.
    fn next_wake(&self) -> Option<FloorMs> {
        let state = self.truth.state();
        let can = self.trouble.is_none() && !self.is_full() && self.stuck != Some(state.sequence);
        can.then(|| caught("next_wake", || due::next_wake(state))).flatten().flatten()
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

    fn now(&self) -> FloorMs {
        // Whatever the clock says, the journal never runs back.
        self.clock.now().max(self.truth.state().recorded)
    }

    fn health(&self) -> Health {
        let writing = self.trouble.as_ref().map(Trouble::writing);
        Health { sequence: self.truth.durable().sequence, writing }
    }

    fn join(&mut self, role: &Role, topic: &Topic) -> Result<Seat, Fault> {
        let speaker = speaker(&self.truth.durable().floor, role).ok_or(Fault::UnknownTopic)?;
        if !roles::may_watch(role, topic) {
            return Err(Fault::TopicNotAllowed);
        }
        let now = self.now();
        let scene = scene(&self.truth, &self.names, self.epoch, now);
        let frames = self.hub.watch(topic, &scene).map_err(|error| match error {
            WatchError::Unknown => Fault::UnknownTopic,
            WatchError::Full => Fault::Full,
        })?;
        Ok(Seat { speaker, frames })
    }

    /// Does what is due, in due order, with the present time.
    fn run_due(&mut self) {
        for _ in 0..DUE_AT_ONCE {
            let now = self.now();
            if self.next_wake().is_none_or(|at| at > now) {
                return;
            }
            let state = self.truth.state();
            let sequence = state.sequence;
            let Some(due) = caught("due", || due::due(state, now)).flatten() else {
                self.stuck = Some(sequence);
                return;
            };
            let happening = Happening { by: Actor::Floor, at: due.at, recorded: now, events: due.events };
            if let Err(unsound) = self.truth.take(happening) {
                tracing::error!(%unsound, sequence, "what was due was not done");
                self.stuck = Some(sequence);
                return;
            }
        }
    }

    /// Moves a driven clock from one due thing to the next, as if time had passed.
    fn advance(&mut self, by: Millis, reply: oneshot::Sender<Result<FloorMs, WriteTrouble>>) {
        let Some(driven) = self.clock.driven().cloned() else { return };
        let target = driven.now() + by;
        while let Some(wake) = self.next_wake().filter(|wake| *wake <= target) {
            driven.set(wake);
            self.run_due();
        }
        driven.set(target);
        match &self.trouble {
            Some(trouble) => {
                let _ = reply.send(Err(trouble.writing()));
            }
            None => self.answer(Recipient::Advanced { now: target, reply }, self.truth.state().sequence),
        }
    }

    /// Writes down which UTC floor time is, where that has moved. At other rates than 1 floor time leaves
    /// UTC behind all the time, so that only the start is written down.
    fn map_clock(&mut self) {
        if self.clock.rate() != 1 || self.trouble.is_some() || self.is_full() {
            return;
        }
        let (now, utc_ms) = (self.now(), self.wall.utc_ms());
        if utc_ms.saturating_sub(utc(self.truth.state(), now)).abs() <= MAP_SLACK.0 {
            return;
        }
        tracing::info!(utc_ms, "the wall clock has moved against floor time");
        let events = vec![Event::ClockMapped { utc_ms }];
        if let Err(unsound) = self.truth.take(Happening { by: Actor::Floor, at: now, recorded: now, events })
        {
            tracing::error!(%unsound, "the move of the wall clock was not taken down");
        }
    }

    fn open_entries(&self) -> usize {
        self.truth.pending_after(self.handed).len()
    }

    fn is_full(&self) -> bool {
        self.open_entries() >= OPEN_ENTRIES
    }

    /// Hands the open batch to the disk, unless one is on its way.
    fn hand_over(&mut self) {
        if !matches!(self.flight, Flight::Nothing) || self.trouble.is_some() || self.open_entries() == 0 {
            return;
        }
        let rows = match self.truth.pending_after(self.handed).map(codec::encode).collect() {
            Ok(rows) => rows,
            Err(error) => return self.batch_unfit(&error),
        };
        let answers = std::mem::take(&mut self.open_answers);
        self.handed = self.truth.state().sequence;
        self.flight = Flight::Commit(self.keeper.commit(Batch { rows, answers, names: Vec::new() }));
    }

    fn committed(&mut self, outcome: Result<u64, CommitError>) {
        match outcome {
            Ok(durable) => {
                self.truth.settle(durable);
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
        let now = self.now();
        self.hub.publish(&scene(&self.truth, &self.names, self.epoch, now));
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

/// Who speaks for a role; `None` where the floor has no such station or coach.
fn speaker(floor: &Floor, role: &Role) -> Option<Speaker> {
    let (actor, stations) = match role {
        Role::Station { stations } => {
            let stations: Vec<_> = stations.iter().map(|key| floor.station(key)).collect::<Option<_>>()?;
            (Actor::Station { station: *stations.first()? }, stations)
        }
        Role::Board => (Actor::Board, Vec::new()),
        Role::Coach { coach } => (Actor::Coach { coach: floor.coach(coach)? }, Vec::new()),
        Role::Assistant { coach } => (Actor::Assistant { coach: floor.coach(coach)? }, Vec::new()),
        Role::Manager => (Actor::Manager, Vec::new()),
    };
    Some(Speaker { actor, stations })
}

/// Everything views are made from: durable, all of it.
fn scene<'a>(truth: &'a Truth, names: &'a Names, epoch: Uuid, now: FloorMs) -> Scene<'a> {
    let state = truth.durable();
    Scene { state, names, epoch, now, zone_offset: zone_offset(&state.floor, utc(state, now)) }
}

/// The UTC that a floor time is, by the last mapping.
const fn utc(state: &State, at: FloorMs) -> i64 {
    state.clock.utc_ms.saturating_add(at.since(state.clock.floor).0)
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

async fn woken(wake: &mut Option<(FloorMs, BoxFuture<'static, ()>)>) {
    match wake {
        Some((_, sleep)) => sleep.await,
        None => std::future::pending().await,
    }
    // A finished sleep must not be polled again.
    *wake = None;
}
