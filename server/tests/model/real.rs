//! A floor in its own time, as it really goes on: beside the canonical one.

use turnabout_protocol::role::Actor;
use turnabout_protocol::units::FloorMs;
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::state::State;

use crate::canonical::canonical;
use crate::core::Core;

/// A floor whose time goes on.
#[derive(Clone, Debug)]
pub(crate) struct Real {
    pub(crate) state: State,
    pub(crate) now: FloorMs,
}

impl Real {
    pub(crate) fn take(&mut self, core: Core, by: Actor, at: FloorMs, events: Vec<Event>) {
        for event in events {
            let sequence = self.state.sequence + 1;
            core.evolve(&mut self.state, &Entry { sequence, recorded: self.now, at, by, event });
        }
    }

    /// What is due now happens; `note` is told before it does.
    pub(crate) fn settle(&mut self, core: Core, mut note: impl FnMut(&State, &[Event], FloorMs)) {
        while let Some(due) = core.due(&self.state, self.now) {
            note(&self.state, &due.events, self.now);
            self.take(core, Actor::Floor, due.at, due.events);
        }
    }

    /// The same floor in its canonical form.
    pub(crate) fn seen(&self) -> State {
        let mut seen = self.state.clone();
        canonical(&mut seen, self.now);
        seen
    }
}
