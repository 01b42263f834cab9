//! Time that goes on from one instant at which something changes to the next.
//!
//! Between two such instants every tap leads to the same, so nothing is lost by standing at them only, but
//! for people who tap at different moments between two of them.

use turnabout_protocol::units::FloorMs;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::state::State;

use crate::core::Core;
use crate::floor::{FAR, LONG_OVER};

/// Every state of the model is looked at as if it were this instant: only differences matter to the core.
/// An hour in, so that no instant that still matters lies before the floor's first.
pub(crate) const NOW: FloorMs = FloorMs(3_600_000);

/// The next instant at which something happens of itself, or a tap begins to lead to something else.
pub(crate) fn next_instant(core: Core, state: &State) -> Option<FloorMs> {
    // A done tap long after the end of a set is a tap that was forgotten.
    let forgotten = state.under_way().map(|set| set.ends + LONG_OVER);
    let all = forgotten.chain(work_instants(state)).chain(core.next_wake(state));
    all.filter(|at| *at > NOW && at.since(NOW) < FAR).min()
}

/// Whether the evening goes on by itself: a set, a rest, an absence or something else that takes its time is over
/// later. That somebody is given up for silence brings nothing on.
pub(crate) fn something_ends(state: &State) -> bool {
    let wipe_down = state.floor.settings.wipe_down;
    let lapses = state.groups.values().filter_map(|group| Some(group.wipe_down? + wipe_down));
    let other_use = state.stations.values().filter_map(|now| Some(now.other_use?.until));
    let away = state.coaches.values().filter_map(|now| Some(now.away?.until));
    work_instants(state).chain(lapses).chain(other_use).chain(away).any(|at| at > NOW)
}

/// A set can be done from its first repetition on and is assumed to be over at its end; GO is taken when
/// the rest before it is nearly over.
fn work_instants(state: &State) -> impl Iterator<Item = FloorMs> {
    let sets = state.under_way().flat_map(|set| [set.starts, set.ends]);
    let hands = state.groups.keys().filter_map(|id| InHand::of(state, *id));
    let rests = hands.flat_map(|hand| {
        hand.group.clients.keys().filter_map(move |client| Some(hand.coming(*client)?.go_from))
    });
    sets.chain(rests)
}
