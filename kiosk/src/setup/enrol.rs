//! Being taken in by a server that wants a code for it.

use std::fmt;
use std::str::FromStr;

use super::{Choice, Effect, Page, Setup};
use crate::link::token::Token;
use crate::settings::Server;
use crate::surroundings::{Enrols, NotTaken};

/// A code that a server made for one display, as it is told that server: 4 to 32 letters and digits. It is typed with one
/// finger by somebody who reads it, so hyphens are nothing and capitals are small.
#[derive(Clone, PartialEq, Eq)]
pub struct Code(String);

impl Code {
    /// The code, for the server that made it.
    #[must_use]
    pub fn secret(&self) -> &str {
        &self.0
    }
}

/// No code.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("allowed are 4 to 32 letters and digits")]
pub struct NoCode;

impl FromStr for Code {
    type Err = NoCode;

    fn from_str(typed: &str) -> Result<Self, NoCode> {
        let letters: String = typed.chars().filter(|letter| *letter != '-').collect();
        let fits = (4..=32).contains(&letters.len()) && letters.chars().all(|l| l.is_ascii_alphanumeric());
        if fits { Ok(Self(letters.to_ascii_lowercase())) } else { Err(NoCode) }
    }
}

/// Good once, and until then whoever has it is taken in: it says nothing.
impl fmt::Debug for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Code(..)")
    }
}

/// How far a display is with one server.
#[derive(Debug)]
pub(super) struct Enrolment {
    /// Which server it is about.
    server: Option<Server>,
    /// How that takes displays in.
    enrols: Enrols,
    /// The number of the last code.
    tried: u32,
    /// What became of that.
    last: Last,
}

/// What became of the last code.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Last {
    /// There was none, or it was good.
    Nothing,
    /// It is on its way.
    Waits,
    /// It was for nothing.
    Failed(NotTaken),
}

/// What is to be said of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Standing {
    /// No code is needed, as far as anybody knows.
    Open,
    /// A code is needed.
    Needed,
    /// A code is on its way.
    Waits,
    /// The last one was for nothing, and one is needed.
    Failed(NotTaken),
    /// The display is taken in.
    Taken,
}

impl Enrolment {
    pub(super) const fn new() -> Self {
        Self { server: None, enrols: Enrols::Unknown, tried: 0, last: Last::Nothing }
    }

    /// The same with another server: what was asked of the one before is nobody's any more.
    fn anew(&self, server: Option<Server>) -> Self {
        Self { server, tried: self.tried + 1, ..Self::new() }
    }
}

impl Setup {
    /// Takes how a server takes displays in; nothing where nobody said so in time.
    pub fn enrols(&mut self, number: u32, enrols: Option<Enrols>) {
        if let Some(enrols) = enrols.filter(|_| number == self.asked) {
            self.enrolment.enrols = enrols;
            if enrols != Enrols::ByCode && self.page == Page::Of(Choice::Code) {
                self.page = Page::Overview;
            }
        }
    }

    /// Takes what became of a code; what that asks of the world.
    pub fn enrolled(&mut self, number: u32, answer: Result<Token, NotTaken>) -> Option<Effect> {
        if number != self.enrolment.tried || self.enrolment.last != Last::Waits {
            return None;
        }
        match answer {
            Ok(token) => {
                self.enrolment.last = Last::Nothing;
                self.draft.admitted = Some((self.enrolment.server.clone()?, token));
                // It may name its stations only now.
                self.ask()
            }
            Err(why) => {
                self.enrolment.last = Last::Failed(why);
                None
            }
        }
    }

    /// How far the display is with the server that is chosen.
    pub(super) fn standing(&self) -> Standing {
        match (self.enrolment.enrols, self.enrolment.last) {
            (Enrols::Unknown | Enrols::Freely, _) => Standing::Open,
            (Enrols::ByCode, Last::Waits) => Standing::Waits,
            (Enrols::ByCode, Last::Failed(why)) => Standing::Failed(why),
            (Enrols::ByCode, Last::Nothing) if self.draft.token().is_some() => Standing::Taken,
            (Enrols::ByCode, Last::Nothing) => Standing::Needed,
        }
    }

    /// Whether the server takes the display as it is, as far as anybody knows.
    pub(super) fn may_start(&self) -> bool {
        match self.standing() {
            Standing::Open | Standing::Taken => true,
            Standing::Waits | Standing::Needed => false,
            // A second code can fail where the first was good.
            Standing::Failed(_) => self.draft.token().is_some(),
        }
    }

    /// A server is chosen, or none. Where it is the same as before, everything goes on.
    pub(super) fn turns_to(&mut self, server: Option<&Server>) {
        if self.enrolment.server.as_ref().map(Server::url) != server.map(Server::url) {
            self.enrolment = self.enrolment.anew(server.cloned());
            self.draft.code.clear();
        }
    }

    /// Tells the server the code that was typed.
    pub(super) fn tell_code(&mut self) -> Option<Effect> {
        let code: Code = self.draft.code.parse().ok()?;
        let server = self.enrolment.server.clone().filter(|_| self.enrolment.enrols == Enrols::ByCode)?;
        self.draft.code.clear();
        self.page = Page::Overview;
        self.enrolment.tried += 1;
        self.enrolment.last = Last::Waits;
        Some(Effect::Enrol(self.enrolment.tried, server, code))
    }
}
