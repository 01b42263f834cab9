//! What a program does that runs by itself on a wall: one at a time, looked after, over the whole screen.

pub mod instance;
