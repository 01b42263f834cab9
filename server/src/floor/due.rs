//! What the floor does of itself when its time has come. There are no timer objects: the state says when.

use turnabout_protocol::ids::{GroupId, TurnId};
use turnabout_protocol::units::FloorMs;

use super::event::Event;
use super::state::State;

/// Something whose time has come.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Due {
    /// When it was due; not later than now.
    pub at: FloorMs,
    /// What happens then; never empty.
    pub events: Vec<Event>,
}

enum Kind {
    Assume(TurnId),
    Free(GroupId, u8),
}

/// When the floor must look again; nothing where nothing will happen of itself.
#[must_use]
pub fn next_wake(state: &State) -> Option<FloorMs> {
    next(state).map(|(at, _)| at)
}

/// The first thing that is due at `now`. Call again with its events taken in until there is nothing.
#[must_use]
pub fn due(state: &State, now: FloorMs) -> Option<Due> {
    let (at, kind) = next(state).filter(|(at, _)| *at <= now)?;
    let event = match kind {
        Kind::Assume(turn) => Event::TurnAssumed { turn },
        Kind::Free(group, block) => Event::StationsFreed { group, block },
    };
    Some(Due { at, events: vec![event] })
}

fn next(state: &State) -> Option<(FloorMs, Kind)> {
    let assume = state.under_way().filter(|u| !u.assumed).map(|u| (u.ends, Kind::Assume(u.turn)));
    let free = state.groups.iter().filter_map(|(id, group)| {
        let since = group.wipe_down?;
        Some((since + state.floor.settings.wipe_down, Kind::Free(*id, group.block)))
    });
    // Of several at the same instant the first in the order of groups and clients: replay does the same.
    assume.chain(free).min_by_key(|(at, _)| *at)
}
