//! The link to the server: `state` decides, [`socket`] does.

pub mod address;
mod ahead;
mod clockwork;
pub mod limits;
pub mod queue;
pub mod socket;
mod state;
pub mod token;

pub use state::{Action, Event, Identity, Link};
