//! The floor itself: what is so, what may happen, and what everyone is shown. Pure.
//!
//! A tap goes through [`decide`] into events, an event through [`evolve`] into the state, the state through
//! [`views`] onto displays. What the floor does of itself comes from [`due`]; what must always hold is in
//! [`invariants`].

pub mod admission;
pub mod changes;
pub mod chart;
pub mod config;
pub mod decide;
pub mod due;
pub mod event;
pub mod evolve;
pub mod first_loads;
pub mod gear_now;
pub mod history;
pub mod hours;
pub mod in_hand;
pub mod invariants;
pub mod local_time;
pub mod next_load;
pub mod next_time;
pub mod outlook;
pub mod pace;
pub mod pairs_now;
pub mod planned;
pub mod planning;
pub mod promises;
pub mod rehearse;
pub mod rests;
pub mod ribbon;
pub mod roles;
pub mod run_sheet;
pub mod screening;
pub mod spotting;
pub mod state;
pub mod undo;
pub mod views;
