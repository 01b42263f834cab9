//! Whatever looks at Turnabout from outside.
//!
//! This library holds what several tests share. The tests themselves are in `tests/tests/`, and the scripts
//! they start with other people's libraries are in `tests/outside/`.

#![warn(missing_docs)]

pub mod harness;
pub mod outside;
