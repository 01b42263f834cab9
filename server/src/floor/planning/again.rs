//! When a plan must be looked at again though nothing happens.

use turnabout_protocol::units::{FloorMs, Secs};

use crate::floor::outlook::{OVERDUE, Outlook, RACKED, because};
use crate::floor::promises::{AHEAD, MOVES_BY};
use crate::floor::state::State;
use crate::timetable::answer::Timetable;

/// The first instant after `now` at which
///
/// - a coming set is near enough to be told;
/// - a set under way should be racked and its client off, and from then on every [`OVERDUE`], for that is how long the
///   plan takes it to last still;
/// - somebody should have begun and has not, and from then on every [`MOVES_BY`].
pub(super) fn at(state: &State, outlook: &Outlook, timetable: &Timetable, now: FloorMs) -> Option<FloorMs> {
    let starts = because::Starts::of(outlook, timetable);
    // After a moment that has passed, again and again.
    let or_every = |at: FloorMs, every: Secs| if at > now { at } else { now + every };
    let is_told = |turn| state.promises.iter().any(|told| told.turn == turn);
    let coming = starts.next().map(|(_, turn, start)| {
        let start = outlook.who.instant(start);
        let near = start - AHEAD.millis();
        if near > now && !is_told(turn) { near } else { or_every(start + MOVES_BY, MOVES_BY) }
    });
    let clients = state.groups.values().flat_map(|group| group.clients.values());
    let racked = clients.filter_map(|client| client.current).map(|set| or_every(set.ends + RACKED, OVERDUE));
    coming.chain(racked).min()
}
