//! What became of the starts that people were told.

use std::collections::BTreeMap;

use turnabout_protocol::ids::TurnId;
use turnabout_protocol::units::{FloorMs, Secs};

use crate::floor::event::{Entry, Event};
use crate::floor::state::Promise;

/// A start so much off what was told first has moved.
const OFF: Secs = Secs(5);
/// In its last seconds nobody is to be hurried.
const LAST: Secs = Secs(30);

/// What became of the starts that people were told.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Told {
    /// Starts of rounds: after a rest, or the first.
    pub rounds: Kept,
    /// Starts between two exercises of a round.
    pub between: Kept,
    /// Starts that were taken back.
    pub taken_back: u64,
}

/// Starts that were told.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Kept {
    /// How many sets began of which a start had been told.
    pub told: u64,
    /// Of these, sets that began more than five seconds off what was told of them first.
    pub moved: u64,
    /// Of these, sets called earlier within the last half minute, or begun before what had been told.
    pub hurried: u64,
}

struct Start {
    first: FloorMs,
    last: FloorMs,
    hurried: bool,
}

pub(super) fn of(entries: &[Entry]) -> Told {
    let mut told = Told::default();
    let mut starts: BTreeMap<TurnId, Start> = BTreeMap::new();
    for entry in entries {
        if let Event::Promised { made, taken_back } = &entry.event {
            let back = taken_back.iter().filter(|turn| starts.remove(turn).is_some()).count();
            told.taken_back += back as u64;
            made.iter().for_each(|promise| take(&mut starts, promise, entry.at));
        } else if let Event::TurnWent { turn, .. } = &entry.event
            && let Some(start) = starts.remove(turn)
        {
            let kept = if turn.leg == 0 { &mut told.rounds } else { &mut told.between };
            kept.told += 1;
            kept.moved += u64::from(entry.at.since(start.first).0.abs() > OFF.millis().0);
            kept.hurried += u64::from(start.hurried || entry.at < start.last);
        }
    }
    told
}

fn take(starts: &mut BTreeMap<TurnId, Start>, promise: &Promise, now: FloorMs) {
    let new = Start { first: promise.start, last: promise.start, hurried: false };
    let known = starts.entry(promise.turn).or_insert(new);
    let firm = known.last.since(now) <= LAST.millis();
    known.hurried |= promise.start < known.last && firm;
    known.last = promise.start;
}
