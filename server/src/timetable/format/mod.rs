//! Instances and timetables as JSON text, in exactly the format that `tests/published/timetable/README.md` states:
//! `timetable-instance/2`.
//!
//! A field that the format does not know is a mistake, except one whose name begins with `x_`. Of those, one is read:
//! `x_free_start` among the weights ([`Weights::free_start`](super::instance::Weights::free_start)). Everything wrong
//! is told with its place, up to [`limits::MISTAKES`] of it, and what is read keeps to [`limits`], so that no sum of
//! a plan leaves its type.
//!
//! What files cannot say is a group's own changeover limit: it is lost when such an instance is written.

mod answer;
mod floor;
mod group;
mod mistake;
mod node;
mod problem;
mod round;
mod sums;
mod write;

pub use answer::read_timetable;
pub use floor::read_instance;
pub use mistake::{Mistake, Mistakes};
pub use problem::{Many, Problem};
pub use write::{write_instance, write_timetable};

/// What the field `format` of an instance says.
pub const FORMAT: &str = "timetable-instance/2";

/// How much is read. All of it is far beyond any gym floor, and each number says what it leaves room for.
pub mod limits {
    /// Mistakes told of one text: nobody mends more before trying again.
    pub const MISTAKES: usize = 20;
    /// Bytes of one text: the largest instance within the other limits has about 10 million.
    pub const BYTES: usize = 32 * 1024 * 1024;
    /// Seconds, prices and numbers of rounds: eleven days in seconds.
    pub const NUMBER: u32 = 1_000_000;
    /// Grams of one plate or of a stack's label: a tonne.
    pub const GRAMS: u32 = 1_000_000;
    /// Stations: as many as a floor file may have.
    pub const STATIONS: usize = 500;
    /// Coaches: as many as a floor file may have.
    pub const COACHES: usize = 100;
    /// Groups: more than twice what a programme may have, and five times the jobs of the largest published job shops.
    pub const GROUPS: usize = 500;
    /// Members of a group: twice what a programme may have.
    pub const MEMBERS: usize = 8;
    /// Legs of a group: the largest published job shops have 20 machines.
    pub const LEGS: usize = 50;
    /// Remaining rounds of a member: five times what a block may have.
    pub const ROUNDS: usize = 100;
    /// Turns in all: eight times those of the largest evening that is published.
    pub const TURNS: usize = 5_000;
    /// Busy windows of one station or coach.
    pub const WINDOWS: usize = 100;
    /// Steps of one price.
    pub const STEPS: usize = 20;
    /// Plates on one side of a bar.
    pub const PLATES: usize = 50;
    /// Breaches of a timetable: every rule broken by every turn.
    pub const BREACHES: usize = 7 * TURNS;
    /// Seconds up to which every turn could be done, were all of them done one after the other, with every walk and
    /// change as long as any: about three years. No start of a timetable lies beyond it.
    pub const HORIZON: u32 = 100_000_000;
}
