//! The server over its sockets: what is answered and shown, when, and what a peer cannot do to it.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

mod clock;
mod daylight;
mod disk;
mod durable;
mod entered;
mod faults;
mod ids;
mod notes;
mod papers;
mod planned;
mod reading;
mod restart;
mod routes;
mod slow;
mod undo;
