//! What a planning problem is made from.

use turnabout_protocol::units::FloorMs;

use super::axis::Axis;
use super::length::Lengths;
use crate::floor::state::State;

/// The floor, the instant, and what is known of how long sets take.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ground<'s> {
    pub(super) state: &'s State,
    pub(super) now: FloorMs,
    pub(super) axis: Axis,
    pub(super) lengths: &'s dyn Lengths,
}

impl<'s> Ground<'s> {
    pub(super) fn of(state: &'s State, now: FloorMs, lengths: &'s dyn Lengths) -> Self {
        Self { state, now, axis: Axis::of(state, now), lengths }
    }
}
