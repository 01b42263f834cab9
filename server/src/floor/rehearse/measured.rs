//! What an evening was like, worked out from its entries. Whoever ran the floor has no say in it.

pub mod late;
mod sets;
mod told;

pub use self::told::{Kept, Told};

use turnabout_protocol::units::{FloorMs, Millis, Secs};

use self::sets::{Set, Sets};
use crate::floor::event::Entry;
use crate::floor::outlook::walk;

/// What an evening was like. Sums over everybody, in milliseconds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Measured {
    /// Sets that were done.
    pub sets: u64,
    /// Rests between two working rounds beyond the longest good one, or beyond what somebody had put them off to on
    /// purpose: from the end of the last set to the first repetition of the next.
    pub overrun: Millis,
    /// The worst of these.
    pub worst_overrun: Millis,
    /// Waiting between two exercises of a working round, from the end of a set to GO at the next: what goes beyond
    /// the walk.
    pub changeover_wait: Millis,
    /// The same between light sets, each of which a coach watches.
    pub light_wait: Millis,
    /// From when a client has come, or the stations of the block before were given back, to GO for the first set of a
    /// block.
    pub door: Millis,
    /// From when the first came to the end of the last set.
    pub finish: Millis,
    /// The same to the end of a client's last set, on average.
    pub mean_finish: Millis,
    /// What became of what people were told.
    pub told: Told,
}

/// What an evening was like.
#[must_use]
pub fn measured(entries: &[Entry]) -> Measured {
    let sets = Sets::of(entries);
    let mut measured = Measured { told: told::of(entries), ..Measured::default() };
    let mut ends = Vec::new();
    for done in sets.by_client() {
        measured.sets += done.len() as u64;
        ends.extend(done.iter().map(|set| set.ended).max());
        for (place, set) in done.iter().enumerate() {
            let before = &done[..place];
            let over = overrun(&sets, before, set);
            measured.overrun = Millis(measured.overrun.0 + over.0);
            measured.worst_overrun = measured.worst_overrun.max(over);
            let light = set.turn.round == 0;
            let waits = if light { &mut measured.light_wait } else { &mut measured.changeover_wait };
            waits.0 += changeover_wait(&sets, before, set).0;
            measured.door.0 += sets.door(before, set).0;
        }
    }
    let since = |end: FloorMs| end.since(sets.first_came).0;
    measured.finish = Millis(ends.iter().copied().map(since).max().unwrap_or(0));
    let count = i64::try_from(ends.len()).unwrap_or(i64::MAX).max(1);
    measured.mean_finish = Millis(ends.iter().copied().map(since).sum::<i64>() / count);
    measured
}

/// By how much the rest before the first set of a working round was longer than the longest good one. One that was put
/// off beyond that on purpose is measured against what it was put off to, as a summary does (`rests.rs`).
fn overrun(sets: &Sets<'_>, before: &[Set], set: &Set) -> Millis {
    let turn = set.turn;
    let same_block = before.iter().filter(|other| other.turn.block == turn.block);
    let last = same_block.max_by_key(|other| other.ended);
    let last = last.filter(|last| last.turn.round > 0 && last.turn.round + 1 == turn.round);
    let longest = sets.block(turn).map(|block| block.rest_max);
    last.zip(longest).map_or(Millis(0), |(last, longest)| {
        let latest = last.ended + longest;
        beyond(set.put_off.map_or(latest, |put_off| latest.max(put_off)), set.starts)
    })
}

/// What of the way from one exercise to the next was waiting.
fn changeover_wait(sets: &Sets<'_>, before: &[Set], set: &Set) -> Millis {
    let Some(last) = before.last() else { return Millis(0) };
    let together = |set: &Set| (set.turn.block, set.turn.round);
    if together(last) != together(set) || last.turn.leg >= set.turn.leg {
        return Millis(0);
    }
    let walk = sets.floor.map_or(Secs(0), |floor| walk(floor, last.station, set.station));
    beyond(last.ended + walk, set.went)
}

fn beyond(from: FloorMs, to: FloorMs) -> Millis {
    Millis(to.since(from).0.max(0))
}
