//! Every order in which a small evening can go, through the real core.
//!
//! [`evening`] is a model for the checker: its states are the floor's own, its steps are taps through
//! `decide` and `evolve`, and time going on with what the floor does of itself. [`canonical`] says what of a
//! state is left out and why nobody can tell; [`abstraction`] proves that on random walks. [`rules`] says
//! what must hold in words of its own, beside `invariants`. [`slip`] takes taps back as
//! the running server does. [`fault`] names mistakes that must be found, [`planted`] plants them.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

mod abstraction;
mod asks;
mod blind;
mod canonical;
mod check;
mod claims;
mod clock;
mod core;
mod evening;
mod family;
mod fault;
mod floor;
mod line;
mod planted;
mod real;
mod replanning;
mod rules;
mod scenarios;
mod slip;
