//! The floor's core with its journal in memory.

use turnabout_protocol::command::Act;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;

use super::Watch;
use super::opening::Opening;
use crate::floor::decide::{Speaker, Tap, Verdict, decide};
use crate::floor::due;
use crate::floor::event::{Entry, Event};
use crate::floor::evolve::evolve;
use crate::floor::state::State;

pub(super) struct Core<'w> {
    pub(super) state: State,
    pub(super) entries: Vec<Entry>,
    pub(super) now: FloorMs,
    pub(super) watch: &'w mut dyn Watch,
}

impl<'w> Core<'w> {
    pub(super) fn new(opening: &Opening, watch: &'w mut dyn Watch) -> Self {
        let Opening { entries, state, .. } = opening.clone();
        Self { now: state.recorded, state, entries, watch }
    }

    pub(super) fn happen(&mut self, by: Actor, at: FloorMs, event: Event) {
        let entry = Entry { sequence: self.state.sequence + 1, recorded: self.now, at, by, event };
        evolve(&mut self.state, &entry);
        self.watch.entry(&self.state, &entry);
        self.entries.push(entry);
    }

    /// What is due by now happens.
    pub(super) fn settle(&mut self) {
        while let Some(due) = due::due(&self.state, self.now) {
            due.events.into_iter().for_each(|event| self.happen(Actor::Floor, due.at, event));
        }
    }

    /// A tap happening now.
    pub(super) fn tap(&mut self, by: &Speaker, act: Act) -> Verdict {
        let tap = Tap { speaker: by.clone(), at: self.now, act };
        let verdict = decide(&self.state, &tap, self.now);
        if let Verdict::Accepted(events) = &verdict {
            events.iter().for_each(|event| self.happen(by.actor, self.now, event.clone()));
            self.settle();
        }
        verdict
    }

    /// When the floor does something of itself.
    pub(super) fn wake(&self) -> Option<FloorMs> {
        due::next_wake(&self.state)
    }
}
