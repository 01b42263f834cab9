//! The floor itself: what is so, what may happen, and what everyone is shown. Pure.

pub mod config;
pub mod event;
pub mod state;
