//! What one pair of stations carries: the closed forms beside figures worked out by hand, beside rotations laid out
//! second by second, and beside Gilmore and Gomory's own algorithm.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

mod bad_input;
mod check_values;
mod dial;
mod gilmore_gomory;
mod laws;
mod split;

use turnabout_protocol::units::Secs;
use turnabout_server::timetable::rotation::{Pace, Pair};

/// A pair with this walk and these changes.
fn pair(walk: u32, changes: [u32; 2]) -> Pair {
    Pair::new(Secs(walk), changes.map(Secs)).unwrap()
}

/// A pace with a limited rest.
fn pace(lengths: [u32; 2], rest_min: u32, rest_max: u32) -> Pace {
    Pace::new(lengths.map(Secs), Secs(rest_min), Some(Secs(rest_max))).unwrap()
}
