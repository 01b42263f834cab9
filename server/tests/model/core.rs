//! The real core, with at most one mistake planted in it.

use turnabout_protocol::ids::CommandId;
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::units::FloorMs;
use turnabout_server::floor::decide::{Tap, Verdict, decide};
use turnabout_server::floor::due::{self, Due};
use turnabout_server::floor::event::{Entry, Event};
use turnabout_server::floor::evolve::evolve;
use turnabout_server::floor::state::State;
use turnabout_server::floor::undo::{RecentTaps, TappedBy};

use crate::fault::Fault;

/// `decide`, `evolve` and `due` as the floor has them; a fault changes what goes in or comes out.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Core {
    pub(crate) fault: Option<Fault>,
}

impl Core {
    pub(crate) fn decide(self, state: &State, tap: &Tap, now: FloorMs) -> Verdict {
        let verdict = decide(state, tap, now);
        match self.fault {
            Some(fault) => fault.decide(state, tap, now, verdict),
            None => verdict,
        }
    }

    pub(crate) fn evolve(self, state: &mut State, entry: &Entry) {
        match self.fault {
            Some(fault) => fault.evolve(state, entry),
            None => evolve(state, entry),
        }
    }

    pub(crate) fn due(self, state: &State, now: FloorMs) -> Option<Due> {
        match self.fault {
            Some(fault) => fault.due(state, now),
            None => due::due(state, now),
        }
    }

    pub(crate) fn undo(
        self,
        recent: &RecentTaps,
        (by, command): (TappedBy, CommandId),
        state: &State,
        now: FloorMs,
    ) -> Result<Vec<Event>, Refusal> {
        let right = recent.undo(by, command, state, now);
        match self.fault {
            Some(fault) => fault.undo(right, recent, (by, command)),
            None => right,
        }
    }

    pub(crate) fn next_wake(self, state: &State) -> Option<FloorMs> {
        match self.fault {
            Some(fault) => fault.next_wake(state),
            None => due::next_wake(state),
        }
    }
}
