//! What others on the network see: routes, sockets and pages.
//!
//! [`Server`] owns the sockets and the floor's task; [`run`] is the whole of it for a command line. Displays
//! speak over `/socket` (see the protocol's frames); everything else is plain HTTP with problem bodies.

mod app;
mod declined;
mod flood;
mod hello;
pub mod listen;
pub mod pages;
mod problem;
mod programme;
mod programme_floor;
mod reading;
mod routes;
mod rows;
mod server;
mod sets_csv;
mod socket;
mod wire;

pub use app::SOCKETS;
pub use flood::{A_SECOND, AT_ONCE};
pub use server::{EndError, Options, RunError, SHUTDOWN_WITHIN, ServeError, Server, run};
pub use socket::{HELLO_WITHIN, PING_EVERY, SILENT_FOR};
pub use wire::SEND_TIMEOUT;
