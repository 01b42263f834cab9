//! The floor's state twice: as everybody will know it once the disk has it, and as the disk has it now.
//!
//! Commands are decided on [`Truth::state`], which is ahead of the disk. Whatever leaves the server is made
//! from [`Truth::durable`], so nothing can be shown that a power cut takes back. What lies between the two
//! is kept: a panic in the core, or a batch that failed, is undone by going back to what is durable and
//! taking up the entries that still hold.

use std::collections::VecDeque;
use std::panic::{AssertUnwindSafe, catch_unwind};

use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;

use crate::floor::event::{Entry, Event};
use crate::floor::evolve::evolve;
use crate::floor::invariants;
use crate::floor::state::State;

/// The state, and what of it is durable.
#[derive(Debug)]
pub(super) struct Truth {
    state: State,
    durable: State,
    /// The entries that `state` has and `durable` has not, in order.
    pending: VecDeque<Entry>,
}

/// Why events were not taken: a fault of the program, and the state is as it was.
#[derive(Debug, thiserror::Error)]
pub(super) enum Unsound {
    /// The core panicked.
    #[error("the core panicked")]
    Panicked,
    /// The state would break what must always hold.
    #[error("{0}")]
    Broken(String),
}

/// Runs a part of the core that only reads; `None` where it panicked.
pub(super) fn caught<T>(what: &'static str, core: impl FnOnce() -> T) -> Option<T> {
    let result = catch_unwind(AssertUnwindSafe(core)).ok();
    if result.is_none() {
        tracing::error!(what, "the core panicked; nothing happened because of it");
    }
    result
}

/// Events that happen together.
#[derive(Debug)]
pub(super) struct Happening {
    pub(super) by: Actor,
    pub(super) at: FloorMs,
    pub(super) recorded: FloorMs,
    pub(super) events: Vec<Event>,
}

impl Truth {
    /// Begins with what the journal has.
    pub(super) fn new(durable: State) -> Self {
        Self { state: durable.clone(), durable, pending: VecDeque::new() }
    }

    /// The state with everything that was accepted.
    pub(super) const fn state(&self) -> &State {
        &self.state
    }

    /// The state as it is on disk.
    pub(super) const fn durable(&self) -> &State {
        &self.durable
    }

    /// Entries after this sequence, in order: none of them is durable.
    pub(super) fn pending_after(&self, sequence: u64) -> impl ExactSizeIterator<Item = &Entry> {
        let from = self.pending.partition_point(|entry| entry.sequence <= sequence);
        self.pending.range(from..)
    }

    /// Takes events into the state, all or none.
    pub(super) fn take(&mut self, happening: Happening) -> Result<(), Unsound> {
        self.take_by(happening, evolve, |state| invariants::check(state).map_err(|broken| broken.to_string()))
    }

    fn take_by(
        &mut self,
        happening: Happening,
        evolve: impl Fn(&mut State, &Entry),
        check: impl Fn(&State) -> Result<(), String>,
    ) -> Result<(), Unsound> {
        let Happening { by, at, recorded, events } = happening;
        let before = self.pending.len();
        let sequences = self.state.sequence + 1..;
        self.pending.extend(sequences.zip(events).map(|(sequence, event)| Entry {
            sequence,
            recorded,
            at,
            by,
            event,
        }));
        let taken = {
            let (state, entries) = (&mut self.state, self.pending.range(before..));
            // A state left half changed by a panic is thrown away below.
            catch_unwind(AssertUnwindSafe(|| {
                entries.for_each(|entry| evolve(state, entry));
                check(state)
            }))
        };
        let unsound = match taken {
            Ok(Ok(())) => return Ok(()),
            Ok(Err(broken)) => Unsound::Broken(broken),
            Err(_) => Unsound::Panicked,
        };
        self.pending.truncate(before);
        self.rebuild();
        Err(unsound)
    }

    /// Everything up to `sequence` is durable.
    pub(super) fn settle(&mut self, sequence: u64) {
        while let Some(entry) = self.pending.pop_front_if(|entry| entry.sequence <= sequence) {
            evolve(&mut self.durable, &entry);
        }
    }

    /// Whatever is not durable has never happened.
    pub(super) fn drop_pending(&mut self) {
        self.pending.clear();
        self.rebuild();
    }

    fn rebuild(&mut self) {
        self.state = self.durable.clone();
        for entry in &self.pending {
            evolve(&mut self.state, entry);
        }
    }
}

#[cfg(test)]
mod tests {
    use turnabout_protocol::command::CallKind;
    use turnabout_protocol::ids::{CallId, StationId};

    use super::*;

    fn call(n: u32) -> Event {
        Event::CallMade { call: CallId(n), station: StationId(1), urgency: CallKind::CoachPlease }
    }

    fn happening(events: Vec<Event>) -> Happening {
        Happening { by: Actor::Floor, at: FloorMs(1), recorded: FloorMs(2), events }
    }

    fn fine(_: &State) -> Result<(), String> {
        Ok(())
    }

    #[test]
    fn a_panic_half_way_leaves_the_state_as_it_was() {
        let mut truth = Truth::new(State::new());
        truth.take_by(happening(vec![call(1)]), evolve, fine).unwrap();
        let before = truth.state().clone();
        let panics_at_third = |state: &mut State, entry: &Entry| {
            assert!(entry.sequence < 3, "planted");
            evolve(state, entry);
        };
        let taken = truth.take_by(happening(vec![call(2), call(3)]), panics_at_third, fine);
        assert!(matches!(taken, Err(Unsound::Panicked)));
        assert_eq!(*truth.state(), before);
        assert_eq!(truth.pending_after(0).len(), 1);
    }

    #[test]
    fn a_broken_invariant_leaves_the_state_as_it_was() {
        let mut truth = Truth::new(State::new());
        let before = truth.state().clone();
        let broken = |_: &State| Err("planted".to_owned());
        let taken = truth.take_by(happening(vec![call(1)]), evolve, broken);
        assert!(matches!(taken, Err(Unsound::Broken(_))));
        assert_eq!((truth.state(), truth.pending_after(0).len()), (&before, 0));
    }

    #[test]
    fn what_is_durable_stays_and_the_rest_has_never_happened() {
        let mut truth = Truth::new(State::new());
        for n in 1..=3 {
            truth.take_by(happening(vec![call(n)]), evolve, fine).unwrap();
        }
        assert_eq!(truth.durable().sequence, 0);
        truth.settle(2);
        assert_eq!((truth.durable().sequence, truth.state().sequence), (2, 3));
        truth.drop_pending();
        assert_eq!(truth.state(), truth.durable());
        assert!(
            truth.state().calls.contains_key(&CallId(2)) && !truth.state().calls.contains_key(&CallId(3))
        );
    }
}
