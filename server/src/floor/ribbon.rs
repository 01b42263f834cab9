//! The coming sets of everybody who has stations, as far ahead as a strip shows them. They come from the plan, which is
//! no floor state.

use turnabout_protocol::ids::TurnId;
use turnabout_protocol::units::{FloorMs, Secs};

use super::outlook::because::Starts;

/// A strip looks so far ahead: a round and its rest, and the round after.
pub const AHEAD: Secs = Secs(360);

/// A set of the plan that has not begun.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlannedSet {
    /// Which.
    pub turn: TurnId,
    /// When the client is to say GO.
    pub start: FloorMs,
    /// When the weight should be racked.
    pub until: FloorMs,
}

/// The sets of a timetable that start within [`AHEAD`], of groups that have their stations, in order of time.
#[must_use]
pub fn planned(starts: &Starts<'_>, now: FloorMs) -> Vec<PlannedSet> {
    starts.sets().filter(|set| set.start <= now + AHEAD).collect()
}
