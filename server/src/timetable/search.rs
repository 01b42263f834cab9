//! Looks for a better order: simulated annealing over the moves of [`moves`], started from an order that exists.
//!
//! Deterministic for a seed and a number of evaluations. The room reads no clock: who calls says how far along the
//! search is, and when to stop.

mod anneal;
mod moves;

pub use anneal::{Anneal, Heat};
