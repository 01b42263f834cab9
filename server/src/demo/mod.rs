//! The invented evening: simulated coaches and clients who use a running server as people would.
//!
//! They are guests. They know what their displays show and what time it is, and speak over real sockets
//! only; nothing here looks inside the server. What every evening must show, a late client or a torn cable, is
//! a list in [`script`]; all else is chance. [`person`] and what it stands on is pure: a view, an instant
//! and a seeded generator in, a tap out. [`evening`] opens the sockets and lets them act.

mod agenda;
mod client;
mod clockwork;
mod coach;
pub mod dice;
pub mod evening;
pub mod person;
pub mod script;
mod tally;
mod told;
mod visit;

pub use evening::{Cast, DemoError, run};
pub use tally::Summary;
