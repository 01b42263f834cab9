//! A load that somebody typed. Far above what the client did there last, it is asked about once more: a slip of a
//! finger puts a zero too many on a bar. Never refused: a coach may mean it.

use turnabout_protocol::next::LoadQuestion;
use turnabout_protocol::units::Mass;

use super::loads::{harder, harder_by};
use super::next::Ground;

/// What to ask before the load is taken; nothing where there is nothing to ask. `last` is what the client did last
/// at that station. Harder by the floor's share or more is asked about: common practice, no source.
#[must_use]
pub fn ask_again(typed: Mass, last: Mass, ground: &Ground<'_>) -> Option<LoadQuestion> {
    let far = harder_by(ground.loads, last, ground.policy.ask_again.of(last));
    let asks = harder(ground.loads, typed, last) && !harder(ground.loads, far, typed);
    asks.then_some(LoadQuestion::FarFromLast { load: typed.into(), below: last.into() })
}
