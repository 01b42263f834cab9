//! Taps that can still be taken back, and taking them back.

use turnabout_protocol::ids::CommandId;
use turnabout_protocol::refusal::{Outcome, Refusal};
use turnabout_protocol::units::FloorMs;

use super::Task;
use crate::floor::event::Event;
use crate::floor::roles;
use crate::floor::state::State;
use crate::floor::undo::{RecentTaps, TappedBy};
use crate::live::handle::TapIn;
use crate::live::truth::caught;

impl Task {
    /// Takes back the tap that was this command.
    pub(super) fn undo(&mut self, tap: TapIn, command: CommandId, now: FloorMs) {
        match self.undoing(&tap, command, now) {
            Ok(events) => {
                self.note("taken_back", |recent, before| {
                    recent.taken_back((command, tap.command.id), tapped_by(&tap), before, &events, now);
                });
                self.take_tap(tap, events, now);
            }
            Err(refusal) => self.say_and_remember(tap, Outcome::Refused { refusal }, now),
        }
    }

    fn undoing(&self, tap: &TapIn, command: CommandId, now: FloorMs) -> Result<Vec<Event>, Refusal> {
        if !roles::may(tap.speaker.actor, &tap.command.act) {
            return Err(Refusal::RoleMayNot);
        }
        let state = self.truth.state();
        let undo = caught("undo", || self.recent.undo(tapped_by(tap), command, state, now));
        undo.unwrap_or(Err(Refusal::Internal))
    }

    /// Remembers a tap that is taken in now.
    pub(super) fn remember(&mut self, tap: &TapIn, events: &[Event], now: FloorMs) {
        self.note("remember", |recent, before| {
            recent.remember(tapped_by(tap), tap.command.id, before, events, now);
        });
    }

    /// Notes what the floor does of itself now: something tapped before may not be taken back any more.
    pub(super) fn note_floor(&mut self, events: &[Event], now: FloorMs) {
        self.note("note_floor", |recent, before| recent.note_floor(before, events, now));
    }

    /// Notes something with the state before it. Where that failed nothing can be taken back any more; what
    /// happens happens all the same.
    fn note(&mut self, what: &'static str, note: impl FnOnce(&mut RecentTaps, &State)) {
        let (recent, before) = (&mut self.recent, self.truth.state());
        if caught(what, || note(recent, before)).is_none() {
            self.recent = RecentTaps::default();
        }
    }
}

const fn tapped_by(tap: &TapIn) -> TappedBy {
    TappedBy { device: tap.device, actor: tap.speaker.actor }
}
