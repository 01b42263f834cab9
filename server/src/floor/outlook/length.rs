//! How long a turn takes: from GO to the moment at which the next client can have the station.

use turnabout_protocol::ids::TurnId;
use turnabout_protocol::units::{FloorMs, Millis, Secs};
use turnabout_protocol::work::Work;

use crate::floor::in_hand::InHand;
use crate::floor::pace;
use crate::floor::state::{State, UnderWay};
use crate::training::block::working_time;

/// From the last repetition until the weight is racked and the client is off. Common practice, no source.
pub const RACKED: Secs = Secs(7);
/// A set that is overdue ends this long from now, again and again.
pub const OVERDUE: Secs = Secs(3);

/// The planned length of a set: getting in and lifting off, which on a floor is get set and the 3-2-1; its work, at the
/// client's own [`pace`] once that is known; and [`RACKED`].
pub(super) fn of(hand: &InHand<'_>, turn: TurnId) -> Secs {
    let work = hand.prescribed(turn).zip(hand.work(turn)).zip(hand.leg(turn));
    let working = work.map_or(Millis::default(), |((prescribed, work), leg)| {
        let rule = working_time(prescribed.tempo, work, leg.per_side);
        let exercise = hand.exercise(turn).map_or(leg.exercise, |exercise| exercise.id);
        match work {
            Work::Reps { .. } => {
                pace::of(hand.state, turn.client, exercise).map_or(rule, |pace| pace.of(rule))
            }
            // A hold lasts as long as the clock says.
            Work::Hold { .. } => rule,
        }
    });
    whole(hand.lead(turn) + working + RACKED.millis())
}

/// When the station of a set under way can be had: when it is prescribed to end and is racked then, or, where that is
/// past, [`OVERDUE`] from now.
pub(super) fn over(under_way: &UnderWay, now: FloorMs) -> FloorMs {
    let racked = under_way.ends + RACKED;
    if racked > now { racked } else { now + OVERDUE }
}

/// When the client of a set under way can have left its station; the same of a set that is over.
pub(super) fn left(state: &State, turn: TurnId, now: FloorMs) -> Option<FloorMs> {
    let current = state.groups.get(&turn.group)?.clients.get(&turn.client)?.current;
    current.filter(|current| current.turn == turn).map(|current| over(&current, now))
}

/// A span in whole seconds, rounded up; at least one.
pub(super) fn whole(span: Millis) -> Secs {
    Secs(u32::try_from(span.ceil_secs().clamp(1, 86_400)).unwrap_or(1))
}

/// A rest as the plan sees it, where turns begin with GO and end racked: shorter by both.
pub(super) fn rest(rest: Secs, lead: Millis) -> Secs {
    Secs(rest.0.saturating_sub(RACKED.0).saturating_sub(u32::try_from(lead.ceil_secs()).unwrap_or_default()))
}
