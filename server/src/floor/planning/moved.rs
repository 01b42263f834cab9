//! What an order changes of what people have been told to the second.

use turnabout_protocol::ids::TurnId;
use turnabout_protocol::units::{FloorMs, Millis};

use super::Sight;
use crate::floor::outlook::because;
use crate::floor::promises::MOVES_BY;
use crate::floor::state::State;
use crate::timetable::instance::At;

/// By how much a sight moves what was told of a set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Moved {
    turn: TurnId,
    by: Millis,
}

impl Moved {
    /// Whether another sight moves the same no less.
    pub(super) fn is_among(&self, others: &[Self]) -> bool {
        others.iter().any(|other| other.turn == self.turn && other.by >= self.by)
    }
}

/// The sets of which a sight moves what was told to the second, or takes it back.
pub(super) fn moved(state: &State, sight: &Sight, now: FloorMs) -> Vec<Moved> {
    let starts = because::Starts::of(&sight.outlook, &sight.plan.timetable);
    let next: Vec<(TurnId, At)> = starts.next().map(|(_, turn, start)| (turn, start)).collect();
    // What lies behind is nobody's to keep any more; what was told about only has its price, and no more than that.
    let coming = state.promises.iter().filter(|told| told.start > now && !told.about);
    let moved = coming.map(|told| {
        let planned = next.iter().find(|(turn, _)| *turn == told.turn);
        let by = |start: At| Millis(sight.outlook.who.instant(start).since(told.start).0.abs());
        Moved { turn: told.turn, by: planned.map_or(Millis(i64::MAX), |(_, start)| by(*start)) }
    });
    moved.filter(|moved| moved.by >= MOVES_BY.millis()).collect()
}
