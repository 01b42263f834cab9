//! Answers that wait until what they rest on is durable.

use std::collections::VecDeque;

use tokio::sync::{mpsc, oneshot};
use turnabout_protocol::ids::CommandId;
use turnabout_protocol::refusal::{Outcome, Refusal, WriteTrouble};
use turnabout_protocol::units::FloorMs;

use crate::live::entry::Entered;
use crate::live::handle::Answer;

/// Who waits, and for what.
#[derive(Debug)]
pub(super) enum Recipient {
    /// A socket, for the answer to a command.
    Tap { id: CommandId, outcome: Outcome, reply: mpsc::Sender<Answer> },
    /// Whoever entered a programme.
    Entry { entered: Entered, reply: oneshot::Sender<Entered> },
    /// Whoever moved the clock.
    Advanced { now: FloorMs, reply: oneshot::Sender<Result<FloorMs, WriteTrouble>> },
}

#[derive(Debug)]
struct Waiting {
    /// Let go once this entry is durable: the newest when the answer was made.
    needs: u64,
    /// True as soon as this entry is durable: the newest it says anything about.
    rests_on: u64,
    to: Recipient,
}

/// Why answers will never be true.
#[derive(Clone, Copy, Debug)]
pub(super) enum Lost {
    /// The disk did not take what they rest on.
    NotSaving(WriteTrouble),
    /// A fault of the program.
    Internal,
}

/// The answers that wait, in the order in which they were made. Bounded by what sockets may leave
/// unanswered.
#[derive(Debug, Default)]
pub(super) struct Answers {
    waiting: VecDeque<Waiting>,
}

impl Answers {
    /// Keeps an answer until `needs` is durable.
    pub(super) fn wait(&mut self, needs: u64, rests_on: u64, to: Recipient) {
        debug_assert!(self.waiting.back().is_none_or(|last| last.needs <= needs), "made in order");
        self.waiting.push_back(Waiting { needs, rests_on, to });
    }

    /// Lets go what may be said now that everything up to `durable` is on disk.
    pub(super) fn release(&mut self, durable: u64) {
        while let Some(waiting) = self.waiting.pop_front_if(|waiting| waiting.needs <= durable) {
            waiting.to.hear();
        }
    }

    /// Tells everybody who waits what it came to: entries after `durable` never happened.
    pub(super) fn settle(&mut self, durable: u64, lost: Lost) {
        for waiting in self.waiting.drain(..) {
            if waiting.rests_on <= durable { waiting.to.hear() } else { waiting.to.hear_of_loss(lost) }
        }
    }
}

impl Recipient {
    /// Says it. Who has gone meanwhile asks again when it is back.
    pub(super) fn hear(self) {
        match self {
            Self::Tap { id, outcome, reply } => {
                let _ = reply.try_send(Answer { id, outcome });
            }
            Self::Entry { entered, reply } => {
                let _ = reply.send(entered);
            }
            Self::Advanced { now, reply } => {
                let _ = reply.send(Ok(now));
            }
        }
    }

    fn hear_of_loss(self, lost: Lost) {
        match self {
            Self::Tap { id, reply, .. } => {
                let refusal = match lost {
                    Lost::NotSaving(writing) => Refusal::NotSaving { writing },
                    Lost::Internal => Refusal::Internal,
                };
                let _ = reply.try_send(Answer { id, outcome: Outcome::Refused { refusal } });
            }
            Self::Entry { reply, .. } => match lost {
                Lost::NotSaving(writing) => {
                    let _ = reply.send(Entered::NotSaving(writing));
                }
                // Dropped, as below.
                Lost::Internal => {}
            },
            Self::Advanced { reply, .. } => match lost {
                Lost::NotSaving(writing) => {
                    let _ = reply.send(Err(writing));
                }
                // Dropped, which says that there will be no answer.
                Lost::Internal => {}
            },
        }
    }
}
