//! The kiosk's own link, as it is, without the kiosk's toolkit: its sources are compiled into this test.

#[path = "../../../kiosk/src/link/ahead.rs"]
mod ahead;
#[path = "../../../kiosk/src/link/clockwork.rs"]
mod clockwork;
#[path = "../../../kiosk/src/link/limits.rs"]
pub mod limits;
#[path = "../../../kiosk/src/link/queue.rs"]
mod queue;
#[path = "../../../kiosk/src/link/socket.rs"]
pub mod socket;
#[path = "../../../kiosk/src/link/state.rs"]
mod state;
#[path = "../../../kiosk/src/link/token.rs"]
pub mod token;

pub use state::{Action, Event, Identity, Link};
