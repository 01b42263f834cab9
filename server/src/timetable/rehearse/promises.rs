//! What people are told of the next minute, by the rules that the floor keeps: a start is told a minute ahead, moves by
//! five seconds or more or not at all, and within its last half minute never to an earlier instant.
//!
//! Told is the start of a round. Who is between two legs goes on as soon as can be, whatever was thought before.

use super::snapshot::Told;

/// A start is told so many seconds ahead.
const AHEAD: u32 = 60;
/// It moves by so many seconds or more.
const MOVES_BY: u32 = 5;
/// In so many last seconds it is never moved to an earlier instant.
const FIRM: u32 = 30;

/// What became of all that was told.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Kept {
    /// Starts that were told.
    pub told: u64,
    /// Of these, starts more than five seconds off what was told of them first.
    pub moved: u64,
    /// Of these, starts before what was told in their last half minute.
    pub hurried: u64,
}

#[derive(Clone, Copy, Debug)]
struct Promise {
    /// What was told first.
    first: u32,
    /// What is told now.
    told: u32,
    /// Whether it moved to an earlier instant in its last half minute.
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

    /// What binds at an instant.
    pub(super) fn told(&self, now: u32) -> Vec<Option<Told>> {
        let told = |promise: &Promise| Told { start: promise.told, firm: promise.told <= now + FIRM };
        self.all.iter().map(|promise| promise.as_ref().map(told)).collect()
    }

    /// Tells a member that the next round starts then, where that is soon and may be told.
    pub(super) fn tell(&mut self, who: usize, start: u32, now: u32) {
        let Some(promise) = &mut self.all[who] else {
            if start <= now + AHEAD {
                self.all[who] = Some(Promise { first: start, told: start, hurried: false });
            }
            return;
        };
        if start.abs_diff(promise.told) >= MOVES_BY {
            promise.hurried |= start < promise.told && promise.told <= now + FIRM;
            promise.told = start;
        }
    }

    /// A member begins a round.
    pub(super) fn begin(&mut self, who: usize, now: u32) {
        if let Some(promise) = self.all[who].take() {
            self.kept.told += 1;
            self.kept.moved += u64::from(now.abs_diff(promise.first) > MOVES_BY);
            self.kept.hurried += u64::from(promise.hurried || now < promise.told);
        }
    }

    /// What became of them.
    pub(super) const fn kept(&self) -> Kept {
        self.kept
    }
}

/// Whether a start differs from what was told and may not be told: somewhat earlier, and by too little.
pub(super) const fn waits_for(told: Told, start: u32) -> bool {
    start < told.start && (told.firm || told.start - start < MOVES_BY)
}
