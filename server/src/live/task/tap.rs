//! One tap: known already, or decided, taken in, and answered once that is durable.

use turnabout_protocol::command::Act;
use turnabout_protocol::refusal::{Outcome, Refusal};
use turnabout_protocol::units::FloorMs;

use super::Task;
use super::answers::Recipient;
use super::notes::change_of;
use crate::floor::decide::{BELIEVED_BACK, Tap, Verdict, decide, happened};
use crate::floor::event::Event;
use crate::journal::StoredAnswer;
use crate::live::handle::TapIn;
use crate::live::ledger::{Given, Known};
use crate::live::truth::{Happening, caught};

impl Task {
    /// Takes a tap. What was due before it comes first.
    pub(super) fn tap(&mut self, tap: TapIn) {
        self.run_due();
        let now = self.now();
        let tapped = (tap.device, tap.command.id);
        match self.ledger.look_up(tapped, tap.body, tap.command.at, now) {
            Known::Given(given) => self.say(tap, given.outcome, given.rests_on),
            Known::Reused => say_now(tap, Refusal::ReusedId),
            Known::Untimely(refusal) => self.say_and_remember(tap, Outcome::Refused { refusal }, now),
            Known::New => self.judge(tap, now),
        }
    }

    fn judge(&mut self, tap: TapIn, now: FloorMs) {
        // These two say nothing of the floor, hold only for a moment and so are not remembered.
        if let Some(trouble) = &self.trouble {
            let writing = trouble.writing();
            return say_now(tap, Refusal::NotSaving { writing });
        }
        if self.is_full() {
            return say_now(tap, Refusal::Busy);
        }
        if let Act::Undo { command } = tap.command.act {
            return self.undo(tap, command, now);
        }
        let asked = Tap { speaker: tap.speaker.clone(), at: tap.command.at, act: tap.command.act.clone() };
        let state = self.truth.state();
        let verdict = caught("decide", || decide(state, &asked, now));
        match verdict.unwrap_or(Verdict::Refused(Refusal::Internal)) {
            Verdict::Accepted(events) => self.accept(tap, events, now),
            Verdict::Already(stamp) => {
                self.say_and_remember(tap, Outcome::Already { by: stamp.by, when: stamp.when }, now);
            }
            Verdict::Refused(refusal) => self.say_and_remember(tap, Outcome::Refused { refusal }, now),
        }
    }

    fn accept(&mut self, tap: TapIn, events: Vec<Event>, now: FloorMs) {
        self.remember(&tap, &events, now);
        self.take_tap(tap, events, now);
    }

    /// Takes in what a tap leads to, and answers it once that is durable.
    pub(super) fn take_tap(&mut self, tap: TapIn, events: Vec<Event>, now: FloorMs) {
        // The entry's own time follows the one rule for which taps are believed.
        let at = happened(tap.command.at, now - BELIEVED_BACK, now);
        let text = change_of(&tap.command.act, &events);
        let happening = Happening { by: tap.speaker.actor, at, recorded: now, events };
        if let Err(unsound) = self.truth.take(happening) {
            tracing::error!(%unsound, "a command was not taken");
            self.recent.forget_after(self.truth.state().sequence);
            return self.say_and_remember(tap, Outcome::Refused { refusal: Refusal::Internal }, now);
        }
        let outcome = Outcome::Accepted { recorded: now };
        let rests_on = self.truth.state().sequence;
        text.into_iter().for_each(|text| self.texts.change(rests_on, text));
        self.open_answers.push(StoredAnswer {
            device: tap.device,
            command: tap.command.id,
            body_hash: tap.body.0,
            recorded: now,
            sequence: rests_on,
            json: serde_json::to_string(&outcome).expect("an outcome is plain JSON"),
        });
        let given = Given { body: tap.body, outcome: outcome.clone(), rests_on, recorded: now };
        self.ledger.accept((tap.device, tap.command.id), given);
        self.say(tap, outcome, rests_on);
    }

    /// Says what was seen on the present state, and says the same when asked again.
    pub(super) fn say_and_remember(&mut self, tap: TapIn, outcome: Outcome, now: FloorMs) {
        let rests_on = self.truth.state().sequence;
        let given = Given { body: tap.body, outcome: outcome.clone(), rests_on, recorded: now };
        self.ledger.remember((tap.device, tap.command.id), given);
        self.say(tap, outcome, rests_on);
    }

    fn say(&mut self, tap: TapIn, outcome: Outcome, rests_on: u64) {
        self.answer(Recipient::Tap { id: tap.command.id, outcome, reply: tap.reply }, rests_on);
    }

    /// Answers once everything that has happened so far is durable.
    pub(super) fn answer(&mut self, to: Recipient, rests_on: u64) {
        let needs = self.truth.state().sequence;
        if needs <= self.truth.durable().sequence {
            to.hear();
        } else {
            self.answers.wait(needs, rests_on, to);
        }
    }
}

fn say_now(tap: TapIn, refusal: Refusal) {
    Recipient::Tap { id: tap.command.id, outcome: Outcome::Refused { refusal }, reply: tap.reply }.hear();
}
