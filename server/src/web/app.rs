//! What every route and socket has at hand.

use std::sync::Arc;

use tokio::sync::{Semaphore, watch};
use uuid::Uuid;

use crate::floor::config::{Floor, Names};
use crate::live::{FloorClock, FloorHandle};

/// Sockets open at once: every display of the largest floor, every phone, and half as many again.
pub const SOCKETS: usize = 2_000;
/// Sockets that are told at once that there are too many. Beyond these the answer is given before the
/// upgrade, where fewer displays can read it.
pub(super) const TURNED_AWAY: usize = 64;

/// Programmes read at once: each takes a processor for a moment, and the floor needs one too.
pub(super) const ENTERING: usize = 1;

/// What every route and socket has at hand.
#[derive(Debug)]
pub(super) struct App {
    pub(super) floor: FloorHandle,
    pub(super) clock: FloorClock,
    pub(super) epoch: Uuid,
    /// The floor, which is the same from a start to the next.
    pub(super) hall: Arc<Floor>,
    /// The names at this start; those of coaches come from the floor's file alone.
    pub(super) people: Arc<Names>,
    /// The content of `/floor.json`.
    pub(super) about: String,
    /// From which origins pages may open a socket.
    pub(super) origins: Vec<String>,
    /// One permit a socket.
    pub(super) sockets: Arc<Semaphore>,
    /// One permit a socket that is told that it is too many.
    pub(super) turned_away: Arc<Semaphore>,
    /// One permit a programme that is being read.
    pub(super) entering: Arc<Semaphore>,
    /// Turns true when all sockets must close.
    pub(super) closing: watch::Receiver<bool>,
}
