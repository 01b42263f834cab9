//! Below what every load stays, so that nobody is ever sent to a maximal attempt.

use turnabout_protocol::command::Effort;
use turnabout_protocol::units::Mass;

use super::{Ground, Set};
use crate::training::estimate::{Performed, limits};

/// The client's one-repetition maximum: what is known of it, or what this set has shown, if that is more, since an
/// old estimate must not take away a load that has just been done often. Nothing where none is known.
pub(crate) fn below(load: Mass, set: &Set, ground: &Ground<'_>) -> Option<Mass> {
    let known = ground.one_rm?;
    Some(shown(load, set).map_or(known, |shown| known.max(shown)))
}

/// At least so much goes once, by the lowest of the equations; nothing where not even two repetitions were in it.
fn shown(load: Mass, set: &Set) -> Option<Mass> {
    let left = match set.effort {
        Some(Effort::Rir { reps }) => reps,
        Some(Effort::Light | Effort::Right | Effort::Heavy) | None => 0,
    };
    let reps = set.alone().saturating_add(left).min(limits::REPS);
    let performed = Performed::new(load, i64::from(reps)).ok().filter(|_| reps > 1)?;
    Some(performed.lowest())
}
