//! When a plan must be looked at again though nothing happens.

use turnabout_protocol::units::{FloorMs, Secs};

use crate::floor::outlook::{OVERDUE, Outlook, because};
use crate::floor::promises::{AHEAD, FIRM, MOVES_BY};
use crate::floor::state::{Promise, State};
use crate::timetable::answer::Timetable;

/// The first instant after `now` at which
///
/// - a coming set is near enough to be told, or to be told to the second;
/// - a set under way should be racked, and from then on every [`OVERDUE`], for that is how long the
///   plan takes it to last still;
/// - somebody should have begun and has not, and from then on every [`MOVES_BY`].
pub(super) fn at(state: &State, outlook: &Outlook, timetable: &Timetable, now: FloorMs) -> Option<FloorMs> {
    let starts = because::Starts::of(outlook, timetable);
    // After a moment that has passed, again and again.
    let or_every = |at: FloorMs, every: Secs| if at > now { at } else { now + every };
    let told = |turn| state.promises.iter().find(|told| told.turn == turn);
    let coming = starts.next().map(|(_, turn, start)| {
        let start = outlook.who.instant(start);
        let (about, exactly) = (start - AHEAD.millis(), start - FIRM.millis());
        match told(turn) {
            None if about > now => about,
            // What is not told yet is told about now.
            None | Some(Promise { about: true, .. }) if exactly > now => exactly,
            None | Some(_) => or_every(start + MOVES_BY, MOVES_BY),
        }
    });
    let over = outlook.racked().map(|at| or_every(at, OVERDUE));
    coming.chain(over).min()
}
