//! Time that goes on from one instant at which something changes to the next.
//!
//! Between two such instants every tap leads to the same, so nothing is lost by standing at them only, but
//! for people who tap at different moments between two of them.

use turnabout_protocol::ids::TurnId;
use turnabout_protocol::units::{FloorMs, Millis};
use turnabout_server::floor::config::Settings;
use turnabout_server::floor::in_hand::InHand;
use turnabout_server::floor::state::{State, UnderWay};

use crate::core::Core;
use crate::floor::LONG_OVER;

/// Every state of the model is looked at as if it were this instant: only differences matter to the core.
/// An hour in, so that no instant that still matters lies before the floor's first.
pub(crate) const NOW: FloorMs = FloorMs(3_600_000);

/// The next instant at which something happens of itself, or a tap begins to lead to something else.
pub(crate) fn next_instant(core: Core, state: &State) -> Option<FloorMs> {
    let sets = state.under_way().flat_map(of_set);
    let rests = state.groups.keys().filter_map(|id| InHand::of(state, *id)).flat_map(rests_over);
    sets.chain(rests).chain(core.next_wake(state)).filter(|at| *at > NOW).min()
}

/// A set can be done from its first repetition on, is assumed to be over at its end, and a done tap long
/// after it is a tap that was forgotten.
fn of_set(set: &UnderWay) -> [FloorMs; 3] {
    [set.starts, set.ends, set.ends + LONG_OVER]
}

/// From when GO is taken after a rest.
fn rests_over(hand: InHand<'_>) -> impl Iterator<Item = FloorMs> {
    hand.group.clients.iter().filter_map(move |(id, client)| {
        let turn = hand.next(*id).filter(|turn| turn.leg == 0 && turn.round > 1)?;
        let ended = client.current.map(|u| u.ends).or(client.sets.last().map(|last| last.ended))?;
        Some(ended + hand.block.rest_min.millis() - lead(hand, turn))
    })
}

fn lead(hand: InHand<'_>, turn: TurnId) -> Millis {
    hand.get_set(turn) + Settings::COUNT_IN.millis()
}
