//! Whoever can be asked for a coach's run sheet by a PIN. A coach whose phone is dead goes to the nearest display.
//!
//! A server without sign-in offers nothing of the kind, and then nothing of it can be seen or reached at a display.

use std::fmt;
use std::sync::Arc;

use tokio::sync::watch;
use turnabout_protocol::view::CoachView;

use crate::face::Pin;

/// What is answered to a PIN.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answer {
    /// Nothing yet.
    Waiting,
    /// It is the PIN of the coach whose page this is, as it is now.
    Coach(Arc<CoachView>),
    /// It is nobody's.
    Wrong,
    /// Nobody answers.
    Nobody,
}

/// Whoever can be asked.
pub trait Gate: fmt::Debug {
    /// Whether a coach can come to this display at all.
    fn is_offered(&self) -> bool;

    /// Asks. The last answer holds; a page is answered anew whenever it changes, until the receiver is dropped. Once the
    /// sender is gone nobody answers any more.
    fn ask(&self, pin: Pin) -> watch::Receiver<Answer>;
}

/// The gate of a server without sign-in: there is none.
#[derive(Clone, Copy, Debug, Default)]
pub struct NoGate;

impl Gate for NoGate {
    fn is_offered(&self) -> bool {
        false
    }

    fn ask(&self, _: Pin) -> watch::Receiver<Answer> {
        watch::channel(Answer::Nobody).1
    }
}
