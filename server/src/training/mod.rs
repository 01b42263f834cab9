//! Exercises and muscles, blocks, how long a set lasts; what a client could lift once, and the next load with its
//! reason. Pure.

pub mod about;
pub mod block;
pub mod catalogue;
pub mod estimate;
pub mod exercise;
pub mod light;
pub mod loads;
pub mod movement;
pub mod muscle;
pub mod next;
pub mod no_proposal;
pub mod percent;
pub mod pins;
pub mod rule;
pub mod scale;
pub mod session;
pub mod settle;
pub mod typed;
pub mod volume;
