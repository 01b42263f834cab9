//! Answers that were given, so that the same tap sent again has no second effect and gets the same answer.
//!
//! Accepted answers are in the journal too and are loaded at a start. Refusals and "already" are remembered
//! for the server's run alone. What is forgotten cannot be told from what never came, so a tap from before
//! the newest forgotten answer is refused as too old.

use std::collections::{HashMap, VecDeque};

use sha2::{Digest, Sha256};
use turnabout_protocol::command::Command;
use turnabout_protocol::ids::{CommandId, DeviceId};
use turnabout_protocol::refusal::{Outcome, Refusal};
use turnabout_protocol::units::{FloorMs, Millis};

/// How old a tap may be, and so how long accepted answers are kept: a display that was cut off for a whole
/// day's shift may still send what it has queued.
pub const MOST_AGE: Millis = Millis::secs(12 * 3_600);

/// How far ahead of the floor a display's clock may be: the bar for countdowns is 50 ms, so that this much
/// is a display that does not know the time.
pub const MOST_AHEAD: Millis = Millis::secs(5);

/// Accepted answers kept: five taps a second for twelve hours, at about 150 bytes each.
pub const ACCEPTED: usize = 200_000;

/// Refusals and "already" kept: minutes of everybody tapping in vain. They change nothing when they are
/// decided again.
pub const REMEMBERED: usize = 4_096;

/// Which tap of which device.
pub(super) type Tapped = (DeviceId, CommandId);

/// What a command asks, as a hash: the same id with another body is another tap.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BodyHash(pub(super) [u8; 32]);

impl BodyHash {
    /// SHA-256 of the command's time and content, written as JSON in the fields' own order.
    #[must_use]
    pub fn of(command: &Command) -> Self {
        let body = serde_json::to_vec(&(command.at, &command.act)).expect("a command came from JSON");
        Self(Sha256::digest(body).into())
    }
}

/// An answer that was given.
#[derive(Clone, Debug)]
pub(super) struct Given {
    pub(super) body: BodyHash,
    pub(super) outcome: Outcome,
    /// The newest entry the answer rests on: it holds once that is durable.
    pub(super) rests_on: u64,
    /// When it was given.
    pub(super) recorded: FloorMs,
}

/// What is known of a tap before it is decided.
#[derive(Debug)]
pub(super) enum Known {
    /// It has not been here.
    New,
    /// It has, with this answer.
    Given(Given),
    /// It has, but with another body.
    Reused,
    /// Its time lies where no tap can be taken from.
    Untimely(Refusal),
}

/// The answers that were given.
#[derive(Debug, Default)]
pub(super) struct Ledger {
    accepted: Table,
    others: Table,
    /// Taps up to here may have been answered and forgotten.
    horizon: Option<FloorMs>,
}

impl Ledger {
    /// What is known of this tap.
    pub(super) fn look_up(&self, tapped: Tapped, body: BodyHash, at: FloorMs, now: FloorMs) -> Known {
        if let Some(given) = self.accepted.get(tapped).or_else(|| self.others.get(tapped)) {
            return if given.body == body { Known::Given(given.clone()) } else { Known::Reused };
        }
        if now.since(at) > MOST_AGE || self.horizon.is_some_and(|horizon| at <= horizon) {
            Known::Untimely(Refusal::TooOld)
        } else if at.since(now) > MOST_AHEAD {
            Known::Untimely(Refusal::InFuture)
        } else {
            Known::New
        }
    }

    /// Keeps an accepted answer; older ones make room.
    pub(super) fn accept(&mut self, tapped: Tapped, given: Given) {
        let now = given.recorded;
        self.accepted.push(tapped, given);
        while let Some(old) =
            self.accepted.pop_oldest(|oldest, kept| kept > ACCEPTED || now.since(oldest.recorded) > MOST_AGE)
        {
            // Its tap may have carried a time that was as far ahead as is taken.
            self.horizon = self.horizon.max(Some(old.recorded + MOST_AHEAD));
        }
    }

    /// Remembers any other answer for the run.
    pub(super) fn remember(&mut self, tapped: Tapped, given: Given) {
        self.others.push(tapped, given);
        while self.others.pop_oldest(|_, kept| kept > REMEMBERED).is_some() {}
    }

    /// Forgets answers that rest on entries after `sequence`: those never happened.
    pub(super) fn forget_after(&mut self, sequence: u64) {
        for table in [&mut self.accepted, &mut self.others] {
            table.pop_newest_while(|given| given.rests_on > sequence);
        }
    }
}

/// Answers in the order in which they were given.
#[derive(Debug, Default)]
struct Table {
    answers: HashMap<Tapped, Given>,
    order: VecDeque<Tapped>,
}

impl Table {
    fn get(&self, tapped: Tapped) -> Option<&Given> {
        self.answers.get(&tapped)
    }

    fn push(&mut self, tapped: Tapped, given: Given) {
        if self.answers.insert(tapped, given).is_none() {
            self.order.push_back(tapped);
        }
    }

    fn pop_oldest(&mut self, when: impl Fn(&Given, usize) -> bool) -> Option<Given> {
        let oldest = *self.order.front()?;
        let kept = self.order.len();
        self.answers.get(&oldest).filter(|given| when(given, kept))?;
        self.order.pop_front();
        self.answers.remove(&oldest)
    }

    fn pop_newest_while(&mut self, when: impl Fn(&Given) -> bool) {
        while let Some(newest) = self.order.back().copied() {
            if !self.answers.get(&newest).is_some_and(&when) {
                return;
            }
            self.order.pop_back();
            self.answers.remove(&newest);
        }
    }
}

#[cfg(test)]
mod tests {
    use turnabout_protocol::command::Act;
    use turnabout_protocol::ids::GroupId;
    use uuid::Uuid;

    use super::*;

    fn tapped(n: u128) -> Tapped {
        (DeviceId(Uuid::from_u128(1)), CommandId(Uuid::from_u128(n)))
    }

    fn given(rests_on: u64, recorded: i64) -> Given {
        let recorded = FloorMs(recorded);
        Given { body: BodyHash([7; 32]), outcome: Outcome::Accepted { recorded }, rests_on, recorded }
    }

    fn look_up(ledger: &Ledger, n: u128, at: i64, now: i64) -> Known {
        ledger.look_up(tapped(n), BodyHash([7; 32]), FloorMs(at), FloorMs(now))
    }

    #[test]
    fn another_time_or_target_is_another_body() {
        let command = |at, group| Command {
            id: CommandId(Uuid::nil()),
            at: FloorMs(at),
            act: Act::Pause { group: GroupId(group) },
        };
        assert_eq!(BodyHash::of(&command(1, 1)), BodyHash::of(&command(1, 1)));
        assert_ne!(BodyHash::of(&command(1, 1)), BodyHash::of(&command(2, 1)));
        assert_ne!(BodyHash::of(&command(1, 1)), BodyHash::of(&command(1, 2)));
    }

    #[test]
    fn a_tap_is_known_by_its_id_and_body() {
        let mut ledger = Ledger::default();
        ledger.accept(tapped(1), given(1, 10));
        assert!(matches!(look_up(&ledger, 1, 10, 20), Known::Given(Given { rests_on: 1, .. })));
        assert!(matches!(look_up(&ledger, 2, 10, 20), Known::New));
        let other = ledger.look_up(tapped(1), BodyHash([8; 32]), FloorMs(10), FloorMs(20));
        assert!(matches!(other, Known::Reused));
    }

    #[test]
    fn taps_from_another_day_or_from_tomorrow_are_refused() {
        let ledger = Ledger::default();
        let now = 2 * MOST_AGE.0;
        assert!(matches!(look_up(&ledger, 1, now - MOST_AGE.0, now), Known::New));
        assert!(matches!(look_up(&ledger, 1, now - MOST_AGE.0 - 1, now), Known::Untimely(Refusal::TooOld)));
        assert!(matches!(look_up(&ledger, 1, now + MOST_AHEAD.0, now), Known::New));
        assert!(matches!(
            look_up(&ledger, 1, now + MOST_AHEAD.0 + 1, now),
            Known::Untimely(Refusal::InFuture)
        ));
    }

    #[test]
    fn what_may_have_been_forgotten_is_too_old() {
        let mut ledger = Ledger::default();
        for n in 0..=ACCEPTED {
            ledger.accept(tapped(n as u128), given(n as u64, i64::try_from(n).unwrap()));
        }
        // The first was given at 0, so that its tap carried at most 5,000.
        assert!(matches!(look_up(&ledger, 0, 0, 250_000), Known::Untimely(Refusal::TooOld)));
        assert!(matches!(look_up(&ledger, 999_999, 5_001, 250_000), Known::New));
        assert!(matches!(look_up(&ledger, 1, 1, 250_000), Known::Given(_)));
    }

    #[test]
    fn answers_that_rest_on_what_never_happened_are_forgotten() {
        let mut ledger = Ledger::default();
        ledger.accept(tapped(1), given(1, 10));
        ledger.remember(tapped(2), given(1, 10));
        ledger.accept(tapped(3), given(2, 10));
        ledger.remember(tapped(4), given(2, 10));
        ledger.forget_after(1);
        for (n, known) in [(1, true), (2, true), (3, false), (4, false)] {
            assert_eq!(matches!(look_up(&ledger, n, 10, 20), Known::Given(_)), known, "{n}");
        }
    }

    #[test]
    fn refusals_are_remembered_up_to_a_bound() {
        let mut ledger = Ledger::default();
        for n in 0..=REMEMBERED {
            ledger.remember(tapped(n as u128), given(0, 1));
        }
        assert!(matches!(look_up(&ledger, 0, 1, 2), Known::New));
        assert!(matches!(look_up(&ledger, 1, 1, 2), Known::Given(_)));
    }
}
