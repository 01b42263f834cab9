//! The invented evening.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

mod evening;
mod mishaps;
mod people;
mod sockets;
mod theatre;
#[path = "../floor/world.rs"]
#[allow(
    dead_code,
    clippy::needless_pass_by_value,
    reason = "shared with the floor's own tests, which use more"
)]
mod world;
