//! What people are told of the next minute, by the rules that the floor keeps: about when a minute ahead, and to the second
//! a quarter of a minute ahead. From then on a start is never earlier, and later by five seconds or more or not at all.
//!
//! Told is the start of a round. Who is between two legs goes on as soon as can be, whatever was thought before.

use super::snapshot::Told;

/// A start is told so many seconds ahead.
const AHEAD: u32 = 60;
/// It moves by so many seconds or more.
const MOVES_BY: u32 = 5;
/// So many seconds ahead it is told to the second.
pub(super) const FIRM: u32 = 15;

/// What became of all that was told to the second.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Kept {
    /// Starts that were told.
    pub told: u64,
    /// Of these, starts more than five seconds off what was told of them first.
    pub moved: u64,
    /// Of these, starts more than five seconds off what was told about them, up to a minute ahead.
    pub strayed: u64,
    /// Of these, starts before what had been told of them, or told anew for an earlier instant.
    pub hurried: u64,
}

#[derive(Clone, Copy, Debug)]
struct Promise {
    /// What was told of it first, about or to the second.
    heard: u32,
    /// What is told now.
    start: u32,
    /// What was told to the second first; nothing as long as it is about then only.
    first: Option<u32>,
    /// Whether it became earlier after it had been told to the second.
    hurried: bool,
}

/// What is told to each member of the next round.
pub(super) struct Promises {
    all: Vec<Option<Promise>>,
    kept: Kept,
}

impl Promises {
    pub(super) fn new(members: usize) -> Self {
        Self { all: vec![None; members], kept: Kept::default() }
    }

    /// What has been told.
    pub(super) fn told(&self) -> Vec<Option<Told>> {
        let told = |promise: &Promise| Told { start: promise.start, exactly: promise.first.is_some() };
        self.all.iter().map(|promise| promise.as_ref().map(told)).collect()
    }

    /// Tells a member that the next round starts then, where that is soon and may be told.
    pub(super) fn tell(&mut self, who: usize, start: u32, now: u32) {
        let exactly = start <= now + FIRM;
        let Some(promise) = &mut self.all[who] else {
            if start <= now + AHEAD {
                self.all[who] =
                    Some(Promise { heard: start, start, first: exactly.then_some(start), hurried: false });
            }
            return;
        };
        // Whoever waits for a turn that lasts too long goes as soon as it is over.
        let waits_there = promise.start <= now && exactly;
        match promise.first {
            None if exactly => (promise.first, promise.start) = (Some(start), start),
            None if start.abs_diff(promise.start) >= MOVES_BY => promise.start = start,
            Some(_) if start.abs_diff(promise.start) >= MOVES_BY && !waits_there => {
                promise.hurried |= start < promise.start;
                promise.start = start;
            }
            None | Some(_) => {}
        }
    }

    /// A member begins a round.
    pub(super) fn begin(&mut self, who: usize, now: u32) {
        let promise = self.all[who].take();
        if let Some((Promise { heard, start, hurried, .. }, first)) =
            promise.and_then(|it| Some((it, it.first?)))
        {
            self.kept.told += 1;
            self.kept.moved += u64::from(now.abs_diff(first) > MOVES_BY);
            self.kept.strayed += u64::from(now.abs_diff(heard) > MOVES_BY);
            self.kept.hurried += u64::from(hurried || now < start);
        }
    }

    /// What became of them.
    pub(super) const fn kept(&self) -> Kept {
        self.kept
    }
}
