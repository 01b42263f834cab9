//! Taps without an answer, and which of them outlive a lost link.

use std::collections::VecDeque;

use turnabout_protocol::command::{Act, Command};
use turnabout_protocol::frame::limits::UNANSWERED;
use turnabout_protocol::ids::CommandId;

use super::limits::QUEUE;

/// A tap without an answer.
#[derive(Clone, Debug)]
struct Pending {
    command: Command,
    /// Real milliseconds since the start of the display.
    tapped: u64,
    sent: bool,
}

/// The taps without an answer, oldest first.
#[derive(Clone, Debug, Default)]
pub(super) struct Queue {
    pending: VecDeque<Pending>,
}

impl Queue {
    /// Takes a tap, unless it can neither be sent now nor be kept.
    pub(super) fn push(&mut self, command: Command, tapped: u64, up: bool) -> bool {
        let room = if command.act.may_come_late() {
            self.pending.len() < QUEUE
        } else {
            up && self.pending.len() < UNANSWERED
        };
        if room {
            self.pending.push_back(Pending { command, tapped, sent: false });
        }
        room
    }

    /// What may be sent now, oldest first; each is marked as sent.
    pub(super) fn send_now(&mut self) -> Vec<Command> {
        let in_flight = self.pending.iter().filter(|p| p.sent).count();
        let unsent = self.pending.iter_mut().filter(|p| !p.sent);
        let now = unsent.take(UNANSWERED.saturating_sub(in_flight));
        now.map(|p| {
            p.sent = true;
            p.command.clone()
        })
        .collect()
    }

    /// Takes an answered tap out.
    pub(super) fn answered(&mut self, id: CommandId) -> Option<Act> {
        let at = self.pending.iter().position(|p| p.command.id == id)?;
        self.pending.remove(at).map(|p| p.command.act)
    }

    /// The link is lost: what may come late is to be sent again with the same id. Gives out the rest.
    pub(super) fn lost(&mut self) -> Vec<Act> {
        let (kept, dropped): (VecDeque<_>, VecDeque<_>) =
            self.pending.drain(..).partition(|p| p.command.act.may_come_late());
        self.pending = kept;
        for pending in &mut self.pending {
            pending.sent = false;
        }
        dropped.into_iter().map(|p| p.command.act).collect()
    }

    /// What waits for an answer.
    pub(super) fn acts(&self) -> Vec<Act> {
        self.pending.iter().map(|p| p.command.act.clone()).collect()
    }

    /// When the oldest tap was made.
    pub(super) fn oldest(&self) -> Option<u64> {
        self.pending.front().map(|p| p.tapped)
    }
}
