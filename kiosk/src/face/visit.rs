//! A coach comes to a display and asks for the own run sheet: which step that has come to. No clock, no gate.
//!
//! Every time is real milliseconds since the display started, as of its [`Scene`](super::Scene). What time alone
//! changes is worked out when somebody looks ([`Visit::seen`]), so nothing has to wake for it.

use super::digits::{MOST_DIGITS, Pin};
use super::pad::Step;
use super::sheet::Sheet;

/// How long nobody touches the pad before it closes by itself. Whoever looks for a number in the head takes some
/// seconds; whoever was called away has left it open. Common practice, no source.
pub const IDLE_MS: u64 = 20_000;
/// How long whoever is asked may take: somebody stands there and waits.
pub const ASK_MS: u64 = 8_000;
/// How long a run sheet stays, and how much longer a tap has it stay.
pub const STAY_MS: u64 = 60_000;
/// So many wrong PINs in a row are taken for slips; from then on the pad waits after each.
pub const SLIPS: u32 = 3;
/// How long the pad waits at first; twice as long after each that follows. Common practice, no source.
pub const WAIT_MS: u64 = 30_000;
/// The longest that it waits: a coach who has remembered must not be shut out for the evening.
pub const LONGEST_WAIT_MS: u64 = 300_000;
/// How long it is said that this is no time for it.
pub const BUSY_MS: u64 = 5_000;

/// A coach at this display.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Visit {
    at: At,
    /// Wrong PINs in a row.
    wrong: u32,
    /// No digit is taken before.
    waits_until: u64,
}

#[derive(Debug, Default, PartialEq, Eq)]
enum At {
    #[default]
    Nowhere,
    Busy {
        until: u64,
    },
    Typing {
        pin: Pin,
        touched: u64,
        said: Option<Unlet>,
    },
    Asking {
        /// Until whoever asks takes it.
        pin: Option<Pin>,
        since: u64,
    },
    Open {
        sheet: Box<Sheet>,
        until: u64,
    },
}

/// Why a PIN opened nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unlet {
    /// It is no coach's.
    Wrong,
    /// Nobody answered.
    Nobody,
}

/// What whoever was asked answers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Let {
    /// This coach's run sheet, as it is now.
    In(Box<Sheet>),
    /// Nothing.
    Out(Unlet),
}

/// What there is to see of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen<'v> {
    /// Nothing.
    Nowhere,
    /// It was asked for where it would hide something.
    Busy,
    /// A PIN is being typed.
    Typing {
        /// So far.
        pin: &'v Pin,
        /// What became of the one before.
        said: Option<Unlet>,
        /// For so many milliseconds no digit is taken.
        waits: u64,
    },
    /// It was sent.
    Asking,
    /// The run sheet.
    Open {
        /// It.
        sheet: &'v Sheet,
        /// For how many milliseconds more.
        left: u64,
    },
}

/// What was typed, while there is nothing of it any more.
static NOTHING: Pin = Pin::nothing();

impl Visit {
    /// What there is to see at a time.
    #[must_use]
    pub fn seen(&self, real: u64) -> Seen<'_> {
        let typing = |pin, said| Seen::Typing { pin, said, waits: self.waits_until.saturating_sub(real) };
        match &self.at {
            At::Busy { until } if real < *until => Seen::Busy,
            At::Typing { pin, touched, said } if real < touched.saturating_add(IDLE_MS) => typing(pin, *said),
            At::Asking { since, .. } if real < since.saturating_add(ASK_MS) => Seen::Asking,
            At::Asking { since, .. } if real < since.saturating_add(ASK_MS + IDLE_MS) => {
                typing(&NOTHING, Some(Unlet::Nobody))
            }
            At::Open { sheet, until } if real < *until => Seen::Open { sheet, left: until - real },
            At::Nowhere | At::Busy { .. } | At::Typing { .. } | At::Asking { .. } | At::Open { .. } => {
                Seen::Nowhere
            }
        }
    }

    /// Whoever was asked is listened to: the answer is awaited, or the sheet is open.
    #[must_use]
    pub fn listens(&self, real: u64) -> bool {
        matches!(self.seen(real), Seen::Asking | Seen::Open { .. })
    }

    /// Somebody has come: nothing changes place meanwhile.
    #[must_use]
    pub fn is_here(&self, real: u64) -> bool {
        !matches!(self.seen(real), Seen::Nowhere | Seen::Busy)
    }

    /// Somebody wants in. Where that would hide what must be seen, `free` is false, and only that is said.
    pub fn want(&mut self, free: bool, real: u64) {
        let open = self.is_here(real);
        self.at = match std::mem::take(&mut self.at) {
            at if open => at,
            _ if free => At::Typing { pin: Pin::default(), touched: real, said: None },
            _ => At::Busy { until: real.saturating_add(BUSY_MS) },
        };
    }

    /// Takes a key; those of others do nothing.
    pub fn press(&mut self, step: &Step, real: u64) {
        self.settle(real);
        let waits = real < self.waits_until;
        match (step, &mut self.at) {
            (Step::Close, _) => self.close(),
            (Step::Digit { digit }, At::Typing { pin, touched, said }) => {
                *touched = real;
                if !waits && pin.len() < MOST_DIGITS {
                    *said = None;
                    pin.push(*digit);
                }
            }
            (Step::Rub, At::Typing { pin, touched, .. }) => {
                *touched = real;
                pin.rub();
            }
            (Step::Show, At::Typing { pin, .. }) if !waits && pin.is_whole() => {
                self.at = At::Asking { pin: Some(std::mem::take(pin)), since: real };
            }
            (Step::Stay, At::Open { until, .. }) => {
                // A minute more than there is, and never more than two: a screen is not to be kept.
                *until = until.saturating_add(STAY_MS).min(real.saturating_add(2 * STAY_MS));
            }
            (_, At::Nowhere | At::Busy { .. } | At::Typing { .. } | At::Asking { .. } | At::Open { .. }) => {}
        }
    }

    /// The PIN that is to be sent, once.
    pub fn asks(&mut self) -> Option<Pin> {
        match &mut self.at {
            At::Asking { pin, .. } => pin.take(),
            At::Nowhere | At::Busy { .. } | At::Typing { .. } | At::Open { .. } => None,
        }
    }

    /// Takes what whoever was asked answers, also later, as often as that changes.
    pub fn heard(&mut self, answer: Let, real: u64) {
        self.settle(real);
        let at = std::mem::take(&mut self.at);
        self.at = match (at, answer) {
            (At::Asking { .. }, Let::In(sheet)) => {
                self.wrong = 0;
                At::Open { sheet, until: real.saturating_add(STAY_MS) }
            }
            (At::Asking { .. }, Let::Out(why)) => {
                if why == Unlet::Wrong {
                    self.slip(real);
                }
                At::Typing { pin: Pin::default(), touched: real, said: Some(why) }
            }
            (At::Open { until, .. }, Let::In(sheet)) => At::Open { sheet, until },
            // What is not kept up any more is not left standing.
            (At::Open { .. }, Let::Out(_)) => At::Nowhere,
            (at @ (At::Nowhere | At::Busy { .. } | At::Typing { .. }), _) => at,
        };
    }

    fn slip(&mut self, real: u64) {
        self.wrong = self.wrong.saturating_add(1);
        if let Some(beyond) = self.wrong.checked_sub(SLIPS) {
            let wait = WAIT_MS.saturating_mul(1 << beyond.min(16)).min(LONGEST_WAIT_MS);
            self.waits_until = real.saturating_add(wait);
        }
    }

    /// It is over; that the pad waits is not.
    pub fn close(&mut self) {
        self.at = At::Nowhere;
    }

    /// Times count from so many milliseconds later on: a display follows another server. Nothing stays open then.
    pub fn begin_anew(&mut self, real: u64) {
        self.close();
        self.waits_until = self.waits_until.saturating_sub(real);
    }

    /// Takes down what time alone has changed.
    fn settle(&mut self, real: u64) {
        if self.seen(real) == Seen::Nowhere {
            self.close();
        } else if let At::Asking { since, .. } = &self.at {
            let over = since.saturating_add(ASK_MS);
            if real >= over {
                let said = Some(Unlet::Nobody);
                self.at = At::Typing { pin: Pin::default(), touched: over, said };
            }
        }
    }
}
