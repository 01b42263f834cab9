//! The plates of a load on a bar, held beside published tables and beside trying everything.

mod bad_input;
mod brute;
mod changes;
mod exact;
mod published;
mod sequences;
mod world;
