//! Exercises, blocks, and how long a set lasts. Pure.

pub mod block;
pub mod exercise;
