//! Taking back the last taps of a display: for ten seconds, by the same display, and only where nothing later
//! rests on it.
//!
//! The inverse of what a tap led to is worked out when it happens, from the state before it, and is an entry
//! like any other when it is taken back: nothing is ever removed from the journal. What can be taken back is
//! known to the running server alone: after a restart there is nothing to undo.

mod inverse;
mod resting;

use std::collections::VecDeque;

use turnabout_protocol::command::TAKE_BACK_WINDOW;
use turnabout_protocol::ids::{CommandId, DeviceId};
use turnabout_protocol::refusal::Refusal;
use turnabout_protocol::role::Actor;
use turnabout_protocol::units::{FloorMs, Millis};

pub use self::inverse::inverse;
use self::resting::{about, harmless};
use super::event::{Entry, Event, Subject};
use super::evolve::evolve;
use super::invariants;
use super::state::State;

/// How long a tap can be taken back.
pub const WINDOW: Millis = TAKE_BACK_WINDOW;
/// Taps that are remembered: all displays of the largest floor tapping twice within the window.
pub const MOST_TAPS: usize = 2_048;
/// What happened since, as far as it is remembered: those taps, and as much again that the floor does of itself.
pub const MOST_LATER: usize = 2 * MOST_TAPS;

/// Whose tap: the display, and the part for which it spoke.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TappedBy {
    /// The display.
    pub device: DeviceId,
    /// For whom it spoke.
    pub actor: Actor,
}

/// A tap that can still be taken back.
#[derive(Clone, Debug)]
struct Recent {
    by: TappedBy,
    command: CommandId,
    recorded: FloorMs,
    /// The last entry it led to.
    sequence: u64,
    about: Vec<Subject>,
    /// What taking it back is about beside that.
    rests: Vec<Subject>,
    inverse: Option<Vec<Event>>,
    /// From then on something rests on it without any entry: the first repetition after GO.
    until: Option<FloorMs>,
    /// The last entry by which it was taken back.
    taken_back: Option<u64>,
}

/// The taps of the last seconds, and what has happened since.
#[derive(Clone, Debug, Default)]
pub struct RecentTaps {
    taps: VecDeque<Recent>,
    /// What happened after the oldest of them, by its last entry.
    later: VecDeque<(u64, Vec<Subject>)>,
}

impl RecentTaps {
    /// Remembers a tap that is taken in now, with the state before it. The command that takes a tap back is a
    /// tap too, but one that cannot be taken back itself.
    pub fn remember(
        &mut self,
        by: TappedBy,
        command: CommandId,
        before: &State,
        events: &[Event],
        recorded: FloorMs,
    ) {
        let mut tap = Recent::of(by, command, before, events, recorded);
        tap.inverse = inverse::of_all(before, events);
        // What was so before and is to be so again may be another's by then, as a spotter who was called away.
        tap.rests = tap.inverse.iter().flatten().flat_map(|event| about(before, by.actor, event)).collect();
        self.push(tap);
    }

    /// Remembers that a tap is taken back now by another, with the state before that.
    pub fn taken_back(
        &mut self,
        (command, undo): (CommandId, CommandId),
        by: TappedBy,
        before: &State,
        events: &[Event],
        recorded: FloorMs,
    ) {
        let undoing = Recent::of(by, undo, before, events, recorded);
        for tap in self.taps.iter_mut().filter(|tap| (tap.by, tap.command) == (by, command)) {
            tap.taken_back = Some(undoing.sequence);
        }
        self.push(undoing);
    }

    /// Notes what the floor does of itself now, with the state before it.
    pub fn note_floor(&mut self, before: &State, events: &[Event], recorded: FloorMs) {
        self.forget_before(recorded);
        if !self.taps.is_empty() {
            let about = events.iter().filter(|event| !harmless(event));
            let about = about.flat_map(|event| about_floor(before, event)).collect();
            self.push_later(last_of(before, events), about);
        }
    }

    /// What happened after this entry has never happened.
    pub fn forget_after(&mut self, sequence: u64) {
        self.taps.retain(|tap| tap.sequence <= sequence);
        self.later.retain(|(later, _)| *later <= sequence);
        for tap in &mut self.taps {
            tap.taken_back = tap.taken_back.filter(|taken_back| *taken_back <= sequence);
        }
    }

    /// What takes back a tap of this display. It has been tried on `state`: taken in at once it leads to nothing
    /// that must not be.
    ///
    /// # Errors
    /// It was another display's, or too long ago, or has been taken back; its kind is not taken back; or
    /// something later rests on it.
    pub fn undo(
        &self,
        by: TappedBy,
        command: CommandId,
        state: &State,
        now: FloorMs,
    ) -> Result<Vec<Event>, Refusal> {
        let tap = self.taps.iter().rev().find(|tap| (tap.by, tap.command) == (by, command));
        let fresh = |tap: &&Recent| now.since(tap.recorded) <= WINDOW && tap.taken_back.is_none();
        let tap = tap.filter(fresh).ok_or(Refusal::NothingToUndo)?;
        let inverse = tap.inverse.clone().ok_or(Refusal::NoUndo)?;
        let too_late = tap.until.is_some_and(|until| now >= until);
        let own = || tap.about.iter().chain(&tap.rests);
        let touches = |about: &[Subject]| about.iter().any(|a| own().any(|b| a.touches(*b)));
        let rests = self.later.iter().any(|(sequence, about)| *sequence > tap.sequence && touches(about));
        if too_late || rests || !holds(state, by.actor, &inverse, now) {
            return Err(Refusal::LaterRestsOnIt);
        }
        Ok(inverse)
    }

    fn push(&mut self, tap: Recent) {
        self.forget_before(tap.recorded);
        self.push_later(tap.sequence, tap.about.clone());
        self.taps.push_back(tap);
        while self.taps.len() > MOST_TAPS {
            self.taps.pop_front();
        }
    }

    /// What cannot be remembered takes with it the taps that something forgotten may rest on.
    fn push_later(&mut self, sequence: u64, about: Vec<Subject>) {
        self.later.push_back((sequence, about));
        while self.later.len() > MOST_LATER
            && let Some((forgotten, _)) = self.later.pop_front()
        {
            self.taps.retain(|tap| tap.sequence >= forgotten);
        }
    }

    fn forget_before(&mut self, now: FloorMs) {
        while self.taps.front().is_some_and(|tap| now.since(tap.recorded) > WINDOW) {
            self.taps.pop_front();
        }
        let oldest = self.taps.front().map(|tap| tap.sequence);
        while self.later.front().is_some_and(|(sequence, _)| oldest.is_none_or(|oldest| *sequence < oldest)) {
            self.later.pop_front();
        }
    }
}

impl Recent {
    /// A tap that cannot be taken back.
    fn of(by: TappedBy, command: CommandId, before: &State, events: &[Event], recorded: FloorMs) -> Self {
        let starts =
            |event: &Event| if let Event::TurnWent { starts, .. } = event { Some(*starts) } else { None };
        Self {
            by,
            command,
            recorded,
            sequence: last_of(before, events),
            about: events
                .iter()
                .filter(|event| !harmless(event))
                .flat_map(|event| about(before, by.actor, event))
                .collect(),
            rests: Vec::new(),
            inverse: None,
            until: events.iter().filter_map(starts).min(),
            taken_back: None,
        }
    }
}

fn about_floor(before: &State, event: &Event) -> Vec<Subject> {
    about(before, Actor::Floor, event)
}

/// The last of these entries, were they taken in now.
fn last_of(before: &State, events: &[Event]) -> u64 {
    before.sequence + events.len() as u64
}

/// Whether everything that must hold does so after these events.
fn holds(state: &State, by: Actor, events: &[Event], now: FloorMs) -> bool {
    let mut tried = state.clone();
    for (sequence, event) in (state.sequence + 1..).zip(events) {
        let entry = Entry { sequence, recorded: now, at: now, by, event: event.clone() };
        evolve(&mut tried, &entry);
    }
    invariants::check(&tried).is_ok()
}
