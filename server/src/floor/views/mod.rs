//! What each display shows. Pure: the state and the names in, a complete view out, cut to what its role may
//! see.

mod admission;
mod board;
pub mod briefing;
mod card;
mod choice;
mod coach;
mod deeds;
mod fit;
mod happened;
pub mod notes;
mod part;
mod proposal;
mod ribbon;
mod run_sheet;
pub mod session;
pub mod sets;
mod station;
mod station_more;
pub mod summary;
pub(in crate::floor) mod taps;

pub use self::admission::MOST_LONGER;
pub use self::proposal::MOST_PROPOSALS;

use turnabout_protocol::ids::{CoachId, StationId};
use turnabout_protocol::role::Topic;
use turnabout_protocol::view::View;

use super::config::{Floor, Names, Notes};
use super::planned::Planned;
use super::state::State;

/// What a view needs beside the state.
#[derive(Clone, Copy, Debug)]
pub struct Context<'a> {
    /// The names of people.
    pub names: &'a Names,
    /// The texts of notes; of the state's notes those that are missing were erased.
    pub notes: &'a Notes,
    /// Seconds east of UTC at this floor now.
    pub zone_offset: i32,
    /// What is planned beyond what has been told.
    pub plan: &'a Planned,
}

/// A topic with its keys found on the floor.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Watch {
    /// The face of one to four stations.
    Station(Vec<StationId>),
    /// Every group at a glance.
    Board,
    /// One coach's page.
    Coach(CoachId),
    /// The manager's page. It is a report, not a live view: there is nothing to watch yet.
    Manager,
}

/// Finds what a topic names; nothing where the floor has no such station or coach.
#[must_use]
pub fn resolve(floor: &Floor, topic: &Topic) -> Option<Watch> {
    match topic {
        Topic::Station(keys) => {
            keys.iter().map(|key| floor.station(key)).collect::<Option<_>>().map(Watch::Station)
        }
        Topic::Board => Some(Watch::Board),
        Topic::Coach(key) => floor.coach(key).map(Watch::Coach),
        Topic::Manager => Some(Watch::Manager),
    }
}

/// What a display of this kind shows now; nothing where what it watches is gone from the floor.
#[must_use]
pub fn view(state: &State, context: &Context<'_>, watch: &Watch) -> Option<View> {
    match watch {
        Watch::Station(stations) => station::view(state, context, stations).map(View::Station),
        Watch::Board => Some(View::Board(board::view(state, context))),
        Watch::Coach(coach) => coach::view(state, context, *coach).map(View::Coach),
        Watch::Manager => None,
    }
}
