//! The journal through its public surface.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

mod append;
mod damage;
mod erase;
mod full;
mod made;
mod migrate;
mod notes;
mod open;
mod snapshot;
mod writer;
