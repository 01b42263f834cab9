//! Floor time on displays: the estimator's figures, and how far two displays are apart on a network that delays.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod apart;
mod figures;
mod model;
