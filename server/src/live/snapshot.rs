//! Saved states: a cache that spares replaying the whole journal at a start.

use sha2::{Digest, Sha256};

use crate::floor::state::State;

/// Entries between two snapshots: replaying so many takes far less than a second.
pub(super) const EVERY: u64 = 5_000;

/// Raise this whenever the shape of [`State`] or the meaning of `evolve` changes: a snapshot made before is
/// then never looked at, and the journal tells everything from its first entry.
const STATE_SCHEMA: u32 = 9;

/// Names the form of a snapshot; a program of another version makes its own.
#[must_use]
pub(super) fn schema_hash() -> [u8; 32] {
    Sha256::digest(format!("state {STATE_SCHEMA} of {}", env!("CARGO_PKG_VERSION"))).into()
}

/// The state as bytes.
#[must_use]
pub(super) fn encode(state: &State) -> Vec<u8> {
    serde_json::to_vec(state).expect("the state is ordered maps and integers")
}

/// The state from its bytes; `None` where they are of another shape after all.
#[must_use]
pub(super) fn decode(bytes: &[u8]) -> Option<State> {
    serde_json::from_slice(bytes).ok()
}
