//! What a display is heard of: off unless somebody turns it on, and never more than can be seen at the same instant.
//!
//! [`cue`] says what is due, [`tone`] what that sounds like, [`voice`] that there is one tone at a time; these are pure and
//! always there. What plays them (`player.rs`) is built with the feature `sound` alone, since it needs a library of the
//! machine.

pub mod cue;
#[cfg(feature = "sound")]
pub mod player;
pub mod tone;
pub mod voice;

use std::fmt;
use std::rc::Rc;

pub use self::cue::{Cue, Digit, Ear, Heard, LATE, Seen};
pub use self::tone::Tone;
use crate::face::Face;
use crate::link::Link;

/// What gives cues to the ears. Nothing of it waits.
pub trait Speaker {
    /// Something may sound within the next seconds.
    fn soon(&mut self);
    /// A cue sounds now.
    fn play(&mut self, cue: Cue);
    /// Why nothing is heard; nothing as long as that is not known.
    fn trouble(&self) -> Option<String>;
}

/// Whether a display can be heard.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Ability {
    /// The program was built without it.
    #[default]
    None,
    /// As far as anybody knows.
    Works,
    /// It was tried, and this is why nothing is heard.
    Fails(String),
}

/// What makes a speaker as often as one is needed.
pub type Speakers = Rc<dyn Fn() -> Box<dyn Speaker>>;

/// What plays on this machine; nothing where the program was built without it.
#[must_use]
pub fn speakers() -> Option<Speakers> {
    #[cfg(feature = "sound")]
    return Some(Rc::new(|| Box::new(player::Player::begin(player::DEFAULT))));
    #[cfg(not(feature = "sound"))]
    None
}

/// The sound of one display: silent without a speaker.
#[derive(Default)]
pub struct Sounds {
    ear: Ear,
    speaker: Option<Box<dyn Speaker>>,
}

impl fmt::Debug for Sounds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Sounds").field("ear", &self.ear).field("on", &self.speaker.is_some()).finish()
    }
}

impl Sounds {
    /// Takes another speaker, or none.
    pub fn turn(&mut self, speaker: Option<Box<dyn Speaker>>) {
        self.speaker = speaker;
    }

    /// Whether it is on.
    #[must_use]
    pub const fn is_on(&self) -> bool {
        self.speaker.is_some()
    }

    /// Why nothing is heard.
    #[must_use]
    pub fn trouble(&self) -> Option<String> {
        self.speaker.as_ref().and_then(|speaker| speaker.trouble())
    }

    /// Another link has begun: its floor time may be another one.
    pub fn begin_anew(&mut self) {
        self.ear = Ear::default();
    }

    /// Plays what is due as a face is drawn.
    pub fn look(&mut self, link: &mut Link, face: &Face, real: u64) {
        let Some(going) = link.going(real) else { return };
        let Some((revision, known)) = link.known() else { return };
        // It listens without a speaker, too: sound that is turned on makes up for nothing.
        let heard = self.ear.hear(&Seen { known, epoch: revision.epoch, face, going });
        let Some(speaker) = &mut self.speaker else { return };
        if heard.soon {
            speaker.soon();
        }
        if let Some(cue) = heard.cue {
            speaker.play(cue);
        }
    }
}
