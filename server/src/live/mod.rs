//! The live floor: the task that owns the state, its clock, and what leaves it.
//!
//! - [`Stored::open`] reads the journal, [`Stored::begin`] writes what a start has to say, and
//!   [`Beginning::run`] starts the task; [`FloorHandle`] is how everybody speaks to it.
//! - Nothing is answered and nothing is shown before it is durable, refusals included.
//! - A display has at most one frame waiting for it: the newest.

mod clock;
mod entry;
mod handle;
mod hub;
mod keeper;
mod ledger;
mod planner;
mod question;
mod snapshot;
mod start;
mod task;
mod truth;
mod zone;

pub use clock::{
    Clock, DrivenClock, FloorClock, MOST_DOWN, MOST_RATE, Pace, RunningClock, SystemWall, Wall, after_restart,
};
pub use entry::{Entered, EntryIn, EveningNow, SetBy};
pub use handle::{Answer, FloorHandle, Health, INBOX, Seat, TapIn, Unanswered};
pub use hub::{Frame, TOPICS};
pub use keeper::Keeper;
pub use ledger::{ACCEPTED, BodyHash, MOST_AGE, MOST_AHEAD, REMEMBERED};
pub use planner::{Planner, Planning};
pub use question::{Asked, Question, Told};
pub use start::{Beginning, Files, RunningFloor, StartError, Stored, Whose};
pub use task::OPEN_ENTRIES;
pub use zone::Zone;
