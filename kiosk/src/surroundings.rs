//! What the network does for whoever sets a display up, beside taking an address that is typed: it may name servers, and a
//! server may want a code before it takes a display in.
//!
//! Today's servers do neither, and then nothing of it can be seen or reached at a display: [`Plain`].

use std::fmt;

use tokio::sync::watch;
use turnabout_protocol::ids::DeviceId;

use crate::link::token::Token;
use crate::settings::Server;
use crate::setup::Code;

/// The most letters of a name that a display writes.
const NAME: usize = 40;

/// A server that was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// What it calls itself.
    pub name: String,
    /// Where it is.
    pub server: Server,
}

impl Found {
    /// A server of that name. Anybody in a network can call anything anything: of the name is taken what can be written in
    /// a line, and the address where that is nothing.
    #[must_use]
    pub fn new(name: &str, server: Server) -> Self {
        let words: Vec<&str> =
            name.split(|letter: char| letter.is_whitespace() || letter.is_control()).collect();
        let line: String = words.join(" ").trim().chars().take(NAME).collect();
        let name = if line.is_empty() { server.short().to_owned() } else { line };
        Self { name, server }
    }
}

/// How a server takes displays in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Enrols {
    /// It has not said so yet.
    Unknown,
    /// It takes every display.
    Freely,
    /// It takes one that tells it a code, which somebody has it make.
    ByCode,
}

/// What became of a code.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Enrolled {
    /// Nothing yet.
    Waiting,
    /// The display is taken in, and known by this from now on.
    Taken(Token),
    /// It is not.
    Not(NotTaken),
}

/// Why a display is not taken in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotTaken {
    /// The code is none, or was one: used, or too old. Which of them is nobody's business who guesses.
    Wrong,
    /// Somebody at the server does not want this display.
    Declined,
    /// Too many codes were tried from here.
    TooOften,
    /// Nobody answered in time.
    Nobody,
}

/// What there is around a display that is being set up. Only what there is of it is offered.
pub trait Surroundings: fmt::Debug {
    /// Servers in the network, as they come, until the receiver is dropped; none where nobody looks.
    fn look(&self) -> watch::Receiver<Vec<Found>>;

    /// How that server takes displays in. The last answer holds.
    fn enrols(&self, server: &Server) -> watch::Receiver<Enrols>;

    /// Tells a server a code. The last answer holds; once the sender is gone nobody answers any more.
    fn enrol(&self, server: &Server, device: DeviceId, code: &Code) -> watch::Receiver<Enrolled>;
}

/// Surroundings in which every address is typed and every display is taken.
#[derive(Clone, Copy, Debug, Default)]
pub struct Plain;

impl Surroundings for Plain {
    fn look(&self) -> watch::Receiver<Vec<Found>> {
        watch::channel(Vec::new()).1
    }

    fn enrols(&self, _: &Server) -> watch::Receiver<Enrols> {
        watch::channel(Enrols::Freely).1
    }

    fn enrol(&self, _: &Server, _: DeviceId, _: &Code) -> watch::Receiver<Enrolled> {
        watch::channel(Enrolled::Not(NotTaken::Nobody)).1
    }
}
