//! Our checker of timetables against the published one, on thousands of timetables that break every rule: objective,
//! parts, breaches and verdict must be the same. And our reader against its look at the shape of instances.
//!
//! Source: `tests/published/timetable/`, and the checker there.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

mod dice;
mod dispatch;
mod documents;
mod evenings;
mod plans;
mod python;
mod shapes;
mod verdicts;
