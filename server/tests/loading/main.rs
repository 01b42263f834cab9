//! The plates of a load on a bar, held beside published tables and beside trying everything.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

mod bad_input;
mod belt;
mod brute;
mod changes;
mod choice;
mod dumbbells;
mod exact;
mod own_order;
mod published;
mod sequences;
mod stack;
mod world;
