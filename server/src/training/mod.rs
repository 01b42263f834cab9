//! Exercises and muscles, blocks, and how long a set lasts. Pure.

pub mod about;
pub mod block;
pub mod catalogue;
pub mod exercise;
pub mod movement;
pub mod muscle;
pub mod words;
