//! What the task does of itself when its time has come, and the clock behind it.

use futures_util::future::BoxFuture;
use tokio::sync::oneshot;
use turnabout_protocol::refusal::WriteTrouble;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis};

use super::Task;
use super::answers::Recipient;
use crate::floor::due;
use crate::floor::event::Event;
use crate::live::clock::Clock;
use crate::live::truth::{Happening, caught};

/// Due things done in one turn: every set of the largest floor ending at once. The rest comes with the next.
const DUE_AT_ONCE: usize = 1_024;
/// How far floor time and UTC may drift apart before that is written down.
const MAP_SLACK: Millis = Millis::secs(1);

impl Task {
    pub(super) fn now(&self) -> FloorMs {
        // Whatever the clock says, the journal never runs back.
        self.clock.now().max(self.truth.state().recorded)
    }

    /// Aims the one sleep of the task at what is due next.
    pub(super) fn set_wake(&mut self) {
        let next = self.next_wake();
        if next != self.wake.as_ref().map(|(at, _)| *at) {
            self.wake = next.map(|at| (at, self.clock.sleep_until(at)));
        }
    }

    /// When the task has something to do of itself, where it could be done.
    pub(super) fn next_wake(&mut self) -> Option<FloorMs> {
        if self.trouble.is_some() || self.is_full() {
            return None;
        }
        self.next_due().into_iter().chain(self.course.wake()).min()
    }

    /// When something is due on the floor, where it could be done.
    fn next_due(&mut self) -> Option<FloorMs> {
        let state = self.truth.state();
        if self.trouble.is_some() || self.is_full() || self.stuck == Some(state.sequence) {
            return None;
        }
        let due = caught("next_wake", || due::next_wake(state)).flatten();
        due.into_iter().chain(self.zone.next_change(state.clock)).min()
    }

    /// Does what is due, in due order, with the present time.
    pub(super) fn run_due(&mut self) {
        for _ in 0..DUE_AT_ONCE {
            let now = self.now();
            let Some(at) = self.next_due().filter(|at| *at <= now) else { return };
            let sequence = self.truth.state().sequence;
            let Some(happening) = self.due_at(at, now) else {
                self.stuck = Some(sequence);
                return;
            };
            self.note_floor(&happening.events, now);
            if let Err(unsound) = self.truth.take(happening) {
                tracing::error!(%unsound, sequence, "what was due was not done");
                self.recent.forget_after(sequence);
                self.stuck = Some(sequence);
                return;
            }
        }
    }

    /// What is due first, which was at `at`: of several at once clocks at the floor are set before anybody
    /// reads them.
    fn due_at(&mut self, at: FloorMs, now: FloorMs) -> Option<Happening> {
        let state = self.truth.state();
        if self.zone.next_change(state.clock) == Some(at) {
            let utc_ms = state.clock.utc(at);
            let offset_secs = self.zone.offset_secs(utc_ms);
            tracing::info!(utc_ms, offset_secs, "clocks at the floor are set");
            let events = vec![Event::ClockMapped { utc_ms, offset_secs }];
            return Some(Happening { by: Actor::Floor, at, recorded: now, events });
        }
        let due = caught("due", || due::due(state, now)).flatten()?;
        Some(Happening { by: Actor::Floor, at: due.at, recorded: now, events: due.events })
    }

    /// Moves a driven clock from one due thing to the next, as if time had passed.
    pub(super) fn advance(&mut self, by: Millis, reply: oneshot::Sender<Result<FloorMs, WriteTrouble>>) {
        let Some(driven) = self.clock.driven().cloned() else { return };
        let target = driven.now() + by;
        while let Some(wake) = self.next_wake().filter(|wake| *wake <= target) {
            driven.set(wake);
            self.run_due();
            self.plan_due();
            self.plan();
            self.take_found();
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
    pub(super) fn map_clock(&mut self) {
        if self.clock.rate() != 1 || self.trouble.is_some() || self.is_full() {
            return;
        }
        let (now, utc_ms) = (self.now(), self.wall.utc_ms());
        if utc_ms.saturating_sub(self.truth.state().clock.utc(now)).saturating_abs() <= MAP_SLACK.0 {
            return;
        }
        tracing::info!(utc_ms, "the wall clock has moved against floor time");
        let offset_secs = self.zone.offset_secs(utc_ms);
        let events = vec![Event::ClockMapped { utc_ms, offset_secs }];
        if let Err(unsound) = self.truth.take(Happening { by: Actor::Floor, at: now, recorded: now, events })
        {
            tracing::error!(%unsound, "the move of the wall clock was not taken down");
        }
    }
}

pub(super) async fn woken(wake: &mut Option<(FloorMs, BoxFuture<'static, ()>)>) {
    match wake {
        Some((_, sleep)) => sleep.await,
        None => std::future::pending().await,
    }
    // A finished sleep must not be polled again.
    *wake = None;
}
