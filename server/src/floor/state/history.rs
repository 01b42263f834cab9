//! What clients did on earlier evenings, by client, station and exercise: loads compare nowhere else, since two
//! cables differ by their pulleys and two benches by their pads.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use turnabout_protocol::ids::{ClientId, ExerciseId, StationId};

use crate::floor::config::Day;
use crate::training::session::LastSet;

/// All of it.
pub type Visits = BTreeMap<ClientId, BTreeMap<StationId, BTreeMap<ExerciseId, Visited>>>;

/// The last two evenings of one client with one exercise at one station: the rules ask for no more.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Visited {
    /// Last time.
    pub last: Visit,
    /// The time before.
    pub before: Option<Visit>,
}

/// The last working set of an exercise on one evening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Visit {
    /// Which day, as clocks at the floor say.
    pub day: Day,
    /// The set.
    pub set: LastSet,
}

impl Visited {
    /// A first time.
    #[must_use]
    pub const fn once(last: Visit) -> Self {
        Self { last, before: None }
    }

    /// A later set of the same day takes the place of the one before, one of another day pushes it back.
    #[must_use]
    pub fn and(self, visit: Visit) -> Self {
        let before = if self.last.day == visit.day { self.before } else { Some(self.last) };
        Self { last: visit, before }
    }
}
