//! The floor core through its public surface.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]
#![allow(clippy::needless_pass_by_value, reason = "a tap is written down where it is made")]

mod anything;
mod changes;
mod chart;
mod displays;
mod evening;
mod golden;
mod halts;
mod histories;
mod loads;
mod local_time;
mod paired_set;
mod programmes;
mod refusals;
mod regressions;
mod rich;
mod stations;
mod undo;
mod undo_law;
mod views;
mod world;
