//! What became of the starts that people were told to the second.

use std::collections::BTreeMap;

use turnabout_protocol::ids::TurnId;
use turnabout_protocol::units::{FloorMs, Secs};

use crate::floor::event::{Entry, Event};
use crate::floor::state::Promise;

/// A start so much off what was told first has moved.
const OFF: Secs = Secs(5);

/// What became of the starts that people were told to the second.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Told {
    /// Starts of rounds: after a rest, or the first.
    pub rounds: Kept,
    /// Starts between two exercises of a round.
    pub between: Kept,
    /// Starts that were taken back, those that were told about only too.
    pub taken_back: u64,
}

/// Starts that were told to the second.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Kept {
    /// How many sets began of which a start had been told.
    pub told: u64,
    /// Of these, sets that began more than five seconds off what was told of them first.
    pub moved: u64,
    /// Of these, sets that began more than five seconds off what was told about them, up to a minute ahead.
    pub strayed: u64,
    /// Of these, sets called earlier, or begun before what had been told.
    pub hurried: u64,
}

struct Start {
    /// What was told first, about or to the second.
    heard: FloorMs,
    /// What was told to the second, first and last.
    told: Option<(FloorMs, FloorMs)>,
    hurried: bool,
}

pub(super) fn of(entries: &[Entry]) -> Told {
    let mut told = Told::default();
    let mut starts: BTreeMap<TurnId, Start> = BTreeMap::new();
    for entry in entries {
        if let Event::Promised { made, taken_back } = &entry.event {
            let back = taken_back.iter().filter(|turn| starts.remove(turn).is_some()).count();
            told.taken_back += back as u64;
            made.iter().for_each(|promise| take(&mut starts, promise));
        } else if let Event::TurnWent { turn, .. } = &entry.event
            && let Some(start) = starts.remove(turn)
            && let Some((first, last)) = start.told
        {
            let kept = if turn.leg == 0 { &mut told.rounds } else { &mut told.between };
            kept.told += 1;
            kept.moved += u64::from(entry.at.since(first).0.abs() > OFF.millis().0);
            kept.strayed += u64::from(entry.at.since(start.heard).0.abs() > OFF.millis().0);
            kept.hurried += u64::from(start.hurried || entry.at < last);
        }
    }
    told
}

fn take(starts: &mut BTreeMap<TurnId, Start>, promise: &Promise) {
    let known =
        starts.entry(promise.turn).or_insert(Start { heard: promise.start, told: None, hurried: false });
    if promise.about {
        return;
    }
    let (first, last) = known.told.unwrap_or((promise.start, promise.start));
    known.hurried |= promise.start < last;
    known.told = Some((first, promise.start));
}
