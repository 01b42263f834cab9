//! Exercises, blocks, and how long a set lasts. Pure.

pub mod about;
pub mod block;
pub mod exercise;
pub mod movement;
pub mod muscle;
pub mod words;
